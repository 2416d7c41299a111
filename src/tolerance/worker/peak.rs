//! What a curve over the stroke of a sampled tool says: its peak between nodes.

use crate::numeric::least::least;
use crate::tolerance::fate::Fate;
use crate::tolerance::sweep::NODES;
use std::convert::Infallible;

/// How closely a peak is placed, in intervals, where two tools are to be told apart: also at a corner
/// of a curve its value is then exact far below what their difference is read to.
pub(in crate::tolerance) const CLOSELY: f64 = 1e-9;
/// And where many samples are drawn: at a corner the value is then within a thousandth of what the
/// curve rises or falls between two nodes.
pub(in crate::tolerance) const ROUGHLY: f64 = 1e-3;
/// Share of an interval at which it is seen whether a measure rises from a node.
const NUDGE: f64 = 1e-4;

/// The node of the greatest (`sense` 1) or least (-1) value of a curve, and that value. A node that
/// stands exactly at a toggle has none and is passed over.
pub(in crate::tolerance) fn top(
    curve: impl Iterator<Item = Result<f64, Fate>>,
    sense: f64,
) -> Result<(usize, f64), Fate> {
    curve
        .enumerate()
        .filter_map(|(k, value)| Some((k, value.ok().filter(|v| v.is_finite())?)))
        .max_by(|a, b| (sense * a.1).total_cmp(&(sense * b.1)))
        .ok_or(Fate::NoValue)
}

/// The greatest value between the neighbours of the node `k`, where `best` stands, its place found
/// within `near` intervals. It may be at a corner of the work's curve, where no parabola through nodes
/// tells anything; such a corner may also part the two sides of the node.
pub(in crate::tolerance) fn refined(
    k: usize,
    best: f64,
    near: f64,
    mut value: impl FnMut(f64) -> Result<f64, Fate>,
) -> f64 {
    let at = k as f64;
    let mut greatest = best;
    for side in [-1.0, 1.0] {
        let end = at + side;
        // A side that falls from the node has nothing to tell.
        let rises =
            (0.0..=NODES as f64).contains(&end) && value(at + side * NUDGE).is_ok_and(|v| v > best);
        if rises {
            // Where nothing can be read the peak is not.
            let drop = |u| Ok::<f64, Infallible>(value(u).map_or(f64::INFINITY, |v| -v));
            let Ok((_, least)) = least(drop, at, end, near);
            greatest = greatest.max(-least);
        }
    }
    greatest
}

/// Relative step above which a corner of the work is more than what the sweep has seen of it.
const MISSED: f64 = 1e-3;

/// The value of a sweep, or that at a corner of the work where the sweep has stepped over it. What it
/// has seen is left to it: the play is that of its nodes, at the corner that of the corner, and the two
/// differ a little.
pub(in crate::tolerance) fn missed(
    swept: Result<f64, Fate>,
    corner: Result<f64, Fate>,
    sense: f64,
) -> Result<f64, Fate> {
    match (swept, corner) {
        (Ok(swept), Ok(corner)) if sense * (corner - swept) <= MISSED * swept.abs() => Ok(swept),
        (_, Ok(corner)) => Ok(corner),
        _ => swept,
    }
}

/// The further of two values in a sense; the one that there is, where the other has none.
pub(in crate::tolerance) fn beyond(
    known: Result<f64, Fate>,
    value: Result<f64, Fate>,
    sense: f64,
) -> Result<f64, Fate> {
    match (known, value) {
        (Ok(known), Ok(value)) if sense * known >= sense * value => Ok(known),
        (Ok(known), Err(_)) => Ok(known),
        _ => value,
    }
}
