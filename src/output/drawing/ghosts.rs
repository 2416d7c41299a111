//! Earlier positions behind what is written: their faint lines end where a label begins, so that none runs
//! through its letters.

use super::ink::{Fill, Ink, Shape, V, length, minus, plus, times};
use super::labels::Room;
use super::outline::walked;
use super::tool::FAINT;

/// From a label to where a line of an earlier position ends, mm of paper.
const CLEAR: f64 = 0.5;
/// Length of the pieces that are tried, mm of paper.
const PIECE: f64 = 0.3;

impl Ink {
    /// Takes away what of the earlier positions lies behind labels.
    pub(super) fn clear_ghosts(&mut self, labels: &[Room]) {
        for shape in std::mem::take(&mut self.shapes) {
            let rings = match &shape {
                Shape::Path {
                    from,
                    steps,
                    closed,
                    line: Some(line),
                    ..
                } if *line == FAINT => vec![ring(walked(*from, steps), *closed)],
                Shape::Region {
                    borders,
                    line: Some(line),
                    ..
                } if *line == FAINT => (borders.iter())
                    .map(|(from, steps)| ring(walked(*from, steps), true))
                    .collect(),
                _ => Vec::new(),
            };
            let hidden = |p: &(V, bool)| labels.iter().any(|room| room.holds(p.0, CLEAR));
            let pieces: Vec<Vec<(V, bool)>> =
                rings.into_iter().map(|ring| fine(&ring, PIECE)).collect();
            if !pieces.iter().flatten().any(hidden) {
                self.shapes.push(shape);
                continue;
            }
            for ring in &pieces {
                for run in ring.split(hidden).filter(|run| run.len() > 1) {
                    let last = run.len() - 1;
                    let kept = run.iter().enumerate();
                    let kept = kept.filter(|(k, p)| p.1 || *k == 0 || *k == last);
                    let points: Vec<V> = kept.map(|(_, p)| p.0).collect();
                    self.poly(&points, false, Fill::None, Some(FAINT));
                }
            }
        }
    }
}

/// Back to its start, if it is closed.
pub(super) fn ring(mut points: Vec<V>, closed: bool) -> Vec<V> {
    if let (true, Some(first)) = (closed, points.first().copied()) {
        points.push(first);
    }
    points
}

/// The same way in pieces no longer than `piece`; whether each point is one of the corners.
pub(super) fn fine(points: &[V], piece: f64) -> Vec<(V, bool)> {
    let mut out: Vec<(V, bool)> = points.first().map(|p| (*p, true)).into_iter().collect();
    for pair in points.windows(2) {
        let d = minus(pair[1], pair[0]);
        let pieces = (length(d) / piece).ceil().clamp(1.0, 5000.0) as usize;
        let point = |k: usize| plus(pair[0], times(k as f64 / pieces as f64, d));
        out.extend((1..=pieces).map(|k| (point(k), k == pieces)));
    }
    out
}
