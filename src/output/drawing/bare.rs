//! Whether a tool alone, without labels and arrows, has room on a page: to lay out a drawing takes long, and most scales
//! are too large at first sight.

use super::ink::V;
use crate::report::DrawnPosition;

/// Whether the pins and handles of all positions, side by side in some number of columns, keep to a page at a scale.
pub(super) fn has_room(positions: &[DrawnPosition], scale: f64, [width, height]: V) -> bool {
    let sizes: Vec<V> = positions.iter().map(|p| size(p, scale)).collect();
    (1..=sizes.len()).any(|columns| {
        let column = |k: usize| sizes.iter().skip(k).step_by(columns).map(|size| size[0]);
        let wide: f64 = (0..columns).map(|k| column(k).fold(0.0, f64::max)).sum();
        let rows = sizes.chunks(columns);
        let tall: f64 = rows
            .map(|row| row.iter().map(|size| size[1]).fold(0.0, f64::max))
            .sum();
        wide <= width && tall <= height
    })
}

/// Width and height of what pins and handles alone take of the paper.
fn size(position: &DrawnPosition, scale: f64) -> V {
    let pins = position.pins.iter().map(|pin| pin.at);
    let handles = position.handles.iter().flat_map(|handle| &handle.line);
    let mut bounds = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
    for p in pins.chain(handles.copied()) {
        for k in 0..2 {
            bounds[0][k] = bounds[0][k].min(p[k]);
            bounds[1][k] = bounds[1][k].max(p[k]);
        }
    }
    [0, 1].map(|k| (scale * (bounds[1][k] - bounds[0][k])).max(0.0))
}
