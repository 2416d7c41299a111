//! What a curve over the stroke of a sampled tool says: its area, and its peak between nodes.

use super::read::Fate;
use super::worker::NODES;
use crate::numeric::least::least;

/// How closely a peak is placed, in intervals: also at a corner of a curve its value is then exact
/// far below what a difference of two tools is read to.
const PLACE: f64 = 1e-9;
/// Share of an interval at which it is seen whether a measure falls from an end inwards.
const NUDGE: f64 = 1e-4;

/// Area under a curve at equal steps over a stretch of pace.
pub(super) fn area(
    curve: impl Iterator<Item = Result<f64, Fate>>,
    stretch: f64,
) -> Result<f64, Fate> {
    // Simpson's rule: M. Abramowitz and I. A. Stegun, *Handbook of Mathematical Functions* (1964),
    // 25.4.6.
    let weight = |k: usize| match k {
        0 | NODES => 1.0,
        k if k % 2 == 1 => 4.0,
        _ => 2.0,
    };
    // A node that stands exactly at a toggle has no value.
    let values = curve.map(|value| value.unwrap_or(f64::NAN));
    let sum: f64 = values.enumerate().map(|(k, y)| weight(k) * y).sum();
    let area = sum * stretch / (3.0 * NODES as f64);
    if area.is_finite() {
        Ok(area)
    } else {
        Err(Fate::NoValue)
    }
}

/// The node of the greatest (`sense` 1) or least (-1) value of a curve, and that value. A node that
/// stands exactly at a toggle has none and is passed over.
pub(super) fn top(
    curve: impl Iterator<Item = Result<f64, Fate>>,
    sense: f64,
) -> Result<(usize, f64), Fate> {
    curve
        .enumerate()
        .filter_map(|(k, value)| Some((k, value.ok().filter(|v| v.is_finite())?)))
        .max_by(|a, b| (sense * a.1).total_cmp(&(sense * b.1)))
        .ok_or(Fate::NoValue)
}

/// The greatest value between the neighbours of the node `k`, where `best` stands. It may be at a
/// corner of the work's curve, where no parabola through nodes tells anything.
pub(super) fn refined(
    k: usize,
    best: f64,
    mut value: impl FnMut(f64) -> Result<f64, Fate>,
) -> Result<f64, Fate> {
    let at = k as f64;
    let (low, high) = ((at - 1.0).max(0.0), (at + 1.0).min(NODES as f64));
    let inside = match k {
        0 => value(at + NUDGE).is_ok_and(|v| v > best),
        NODES => value(at - NUDGE).is_ok_and(|v| v > best),
        _ => true,
    };
    if !inside {
        return Ok(best);
    }
    // Where nothing can be read the peak is not.
    let mut drop = |u| Ok::<f64, Fate>(value(u).map_or(f64::INFINITY, |v| -v));
    // Either side by itself: a corner of the work's curve may part the two.
    let (_, before) = least(&mut drop, low, at, PLACE)?;
    let (_, after) = least(&mut drop, at, high, PLACE)?;
    Ok(best.max(-before).max(-after))
}
