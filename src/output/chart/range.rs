//! What the force axis of a panel takes in: everything, unless a toggle is near.

use super::line::{Kind, Line};

/// What an axis shows of its lines.
pub(super) struct Range {
    pub(super) low: f64,
    pub(super) high: f64,
    /// Least and greatest value, where the range leaves one of them out.
    pub(super) cut: Option<(f64, f64)>,
}

/// Beyond this nothing is drawn: it keeps every difference of two values finite.
const HUGE: f64 = 1e100;

impl Range {
    /// From the least value to the greatest; about a value that does not change, a tenth of it.
    pub(super) fn near(lines: &[Line]) -> Self {
        let values = || {
            let points = lines.iter().flat_map(|line| &line.points);
            points.filter_map(|(_, y)| *y).map(|y| y.clamp(-HUGE, HUGE))
        };
        let low = values().reduce(f64::min).unwrap_or(0.0);
        let high = values().reduce(f64::max).unwrap_or(1.0);
        let least = (1e-3 * low.abs().max(high.abs())).max(1e-9);
        let more = if high - low < least {
            0.1 * low.abs().max(high.abs()).max(1.0)
        } else {
            0.0
        };
        Self {
            low: low - more,
            high: high + more,
            cut: None,
        }
    }

    /// Near a toggle an ideal rigid tool has no limit of force, and an axis that showed all of it
    /// would show nothing else. So the axis ends at 1.6 times what the highest curve stays below
    /// for three quarters of the stroke, or at twice what must be shown, if the curves go far
    /// beyond that (1.5 times).
    pub(super) fn of(lines: &[Line], must_show: f64) -> Self {
        let curves: Vec<&Line> = lines.iter().filter(|l| l.kind != Kind::Work).collect();
        let count = curves.iter().map(|l| l.points.len()).max().unwrap_or(0);
        let at = |index: usize| {
            (curves.iter()).filter_map(move |l| l.points.get(index).and_then(|(_, y)| *y))
        };
        let tops: Vec<f64> = (0..count).filter_map(|i| at(i).reduce(f64::max)).collect();
        let bottoms: Vec<f64> = (0..count).filter_map(|i| at(i).reduce(f64::min)).collect();
        let (most, least) = (
            tops.iter().copied().fold(must_show, f64::max).min(HUGE),
            bottoms.iter().copied().fold(0.0, f64::min).max(-HUGE),
        );
        let mut top_cap = cap(&tops, 2.0 * must_show);
        let mut bottom_cap = cap(&negated(&bottoms), 0.0);
        // Where the force changes its sign, the side that holds most of the stroke gets the room.
        let above = tops.iter().filter(|v| **v > 0.0).count();
        let below = bottoms.iter().filter(|v| **v < 0.0).count();
        if above > 0 && above >= below {
            bottom_cap = bottom_cap.min(0.4 * top_cap);
        } else if below > 0 {
            top_cap = top_cap.min(0.4 * bottom_cap).max(1.2 * must_show);
        }
        let mut high = if most > 1.5 * top_cap { top_cap } else { most };
        let low = if -least > 1.5 * bottom_cap {
            -bottom_cap
        } else {
            least
        };
        let cut = (most > high || least < low).then_some((least, most));
        if high - low < 1e-9 {
            high = low + 1.0;
        }
        Self { low, high, cut }
    }
}

fn negated(values: &[f64]) -> Vec<f64> {
    values.iter().map(|v| -v).collect()
}

/// Where an axis may end: 1.6 times the upper quartile of the values above zero, or `must_show`.
fn cap(values: &[f64], must_show: f64) -> f64 {
    let mut above: Vec<f64> = values.iter().copied().filter(|v| *v > 0.0).collect();
    above.sort_by(f64::total_cmp);
    let quartile = above.get(above.len() * 3 / 4).copied().unwrap_or(0.0);
    (1.6 * quartile).max(must_show).min(HUGE)
}
