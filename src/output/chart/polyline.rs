//! Curves cut to what an axis shows: split where a value is missing, clipped to the axis' range.
//!
//! The drawing library draws a point outside the range on the edge, which is a false curve; so
//! nothing outside ever reaches it.

/// A point of a curve in the units of the axes.
pub(super) type Point = (f64, f64);

/// The visible pieces of a curve, each at least one point, all within `low..=high`.
pub(super) fn pieces(points: &[(f64, Option<f64>)], low: f64, high: f64) -> Vec<Vec<Point>> {
    let mut out: Vec<Vec<Point>> = Vec::new();
    let mut last: Option<Point> = None;
    for &(x, value) in points {
        let here = value
            .filter(|y| y.is_finite() && x.is_finite())
            .map(|y| (x, y));
        match (last, here) {
            (_, None) => {}
            (None, Some(point)) => {
                if (low..=high).contains(&point.1) {
                    out.push(vec![point]);
                }
            }
            (Some(from), Some(to)) => add_segment(&mut out, from, to, low, high),
        }
        last = here;
    }
    out
}

/// Adds the part of a straight segment that lies within the range.
fn add_segment(out: &mut Vec<Vec<Point>>, from: Point, to: Point, low: f64, high: f64) {
    let Some((start, end)) = clipped(from, to, low, high) else {
        return;
    };
    match out.last_mut() {
        Some(piece) if piece.last() == Some(&start) => piece.push(end),
        _ => out.push(vec![start, end]),
    }
}

fn clipped(from: Point, to: Point, low: f64, high: f64) -> Option<(Point, Point)> {
    let (bottom, top) = (from.1.min(to.1), from.1.max(to.1));
    if top < low || bottom > high {
        return None;
    }
    let at = |edge: f64| {
        let share = (edge - from.1) / (to.1 - from.1);
        (from.0 + share * (to.0 - from.0), edge)
    };
    let cut = |point: Point| {
        if point.1 > high {
            at(high)
        } else if point.1 < low {
            at(low)
        } else {
            point
        }
    };
    Some((cut(from), cut(to)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_missing_value_splits_the_curve() {
        let points = [
            (0.0, Some(1.0)),
            (1.0, Some(2.0)),
            (2.0, None),
            (3.0, Some(1.0)),
        ];
        assert_eq!(
            pieces(&points, 0.0, 5.0),
            [vec![(0.0, 1.0), (1.0, 2.0)], vec![(3.0, 1.0)]]
        );
    }

    #[test]
    fn a_curve_leaves_and_returns_at_the_edge() {
        let points = [(0.0, Some(0.0)), (1.0, Some(10.0)), (2.0, Some(0.0))];
        assert_eq!(
            pieces(&points, 0.0, 5.0),
            [vec![(0.0, 0.0), (0.5, 5.0)], vec![(1.5, 5.0), (2.0, 0.0)]]
        );
    }

    #[test]
    fn a_step_across_the_whole_range_is_cut_twice() {
        let points = [(0.0, Some(-10.0)), (1.0, Some(10.0))];
        assert_eq!(
            pieces(&points, -5.0, 5.0),
            [vec![(0.25, -5.0), (0.75, 5.0)]]
        );
    }

    #[test]
    fn what_is_outside_or_no_number_is_not_drawn() {
        assert!(pieces(&[(0.0, Some(9.0)), (1.0, Some(8.0))], 0.0, 5.0).is_empty());
        assert!(
            pieces(
                &[(0.0, Some(f64::NAN)), (1.0, Some(f64::INFINITY))],
                0.0,
                5.0
            )
            .is_empty()
        );
    }
}
