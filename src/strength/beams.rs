//! Parts that carry forces at several points: bending at these points.
//!
//! The part is taken as a beam through its force points, in the order along its longest axis (the
//! line through the two that are farthest apart). At each point both sides are looked at: all
//! forces beyond it give the axial force along the piece to its neighbour on that side, and the
//! moment about the point.

use super::cases::Case;
use super::formulas::beam::{BENDING, Rectangle};
use super::holes::Plates;
use super::knots::{Knot, SAME, moment};
use super::ledger::{Finding, Ledger, force, length, number, torque};
use super::result::{Place, Subject};
use crate::geometry::Vec2;
use crate::units::Quantity;

/// Distance along a hand line at which the part carries a load whose nearest place on the line is at
/// `along`, `off` away, the handle being `depth` deep there (all mm). A load no farther off than the
/// handle is deep sits on it, on an eye or a seat at its edge. One farther off is on the head or on
/// an arm that stands beside the handle, and comes in with the head, at the line's first point
/// (common practice, no source: what carries it there is not in the file).
pub(crate) fn seat(along: f64, off: f64, depth: f64) -> f64 {
    if off <= depth { along } else { 0.0 }
}

/// Bending at every force point of a part whose forces add up. `depth` gives the depth at a place.
pub(super) fn check(
    plates: &Plates<'_>,
    case: &Case<'_>,
    mut knots: Vec<Knot>,
    ledger: &mut Ledger,
    depth: impl Fn(Vec2) -> f64,
) {
    let Some(axis) = longest(&knots) else {
        return;
    };
    let along = |k: &Knot| k.at[0] * axis[0] + k.at[1] * axis[1];
    knots.sort_by(|a, b| along(a).total_cmp(&along(b)));
    for (i, knot) in knots.iter().enumerate() {
        let hole = plates
            .holes
            .iter()
            .find(|h| (h.local - knot.at).length() < SAME + h.play());
        let section = Rectangle {
            depth: depth(knot.at),
            thickness: plates.thickness(),
            hole: hole.and_then(|h| h.hole).unwrap_or(0.0),
        };
        if section.hole >= section.depth {
            continue;
        }
        let before = (knots.get(..i), i.checked_sub(1).and_then(|n| knots.get(n)));
        let after = (knots.get(i + 1..), knots.get(i + 1));
        for (beyond, next) in [before, after] {
            let (Some(beyond), Some(next)) = (beyond, next) else {
                continue;
            };
            let (axial, bending) = carried(knot.at, beyond, next.at);
            let finding = Finding {
                subject: Subject::Part(plates.part),
                formula: BENDING,
                value: section.stress(axial, bending),
                allowable: plates.material.yield_strength,
                against: "yield",
                quantity: Quantity::Stress,
                place: Some(hole.map_or(Place::At(knot.at.xy()), |h| Place::Point(h.point))),
                stretch: 0,
            };
            ledger.offer(case, finding, || inputs(plates, section, axial, bending));
        }
    }
}

/// Numbers of the bending formula.
pub(super) fn inputs(
    plates: &Plates<'_>,
    section: Rectangle,
    axial: f64,
    bending: f64,
) -> Vec<super::result::Input> {
    vec![
        force("N", axial),
        torque("M", bending),
        length("w", section.depth),
        length("d", section.hole),
        length("t", plates.section.thickness),
        number("n", f64::from(plates.section.plates)),
    ]
}

/// Axial force (tension positive) along the piece towards `next`, and the moment about `at`, of
/// the forces `beyond`.
fn carried(at: Vec2, beyond: &[Knot], next: Vec2) -> (f64, f64) {
    let (mut sum, mut turn) = (Vec2::ZERO, 0.0);
    for k in beyond {
        sum += k.force;
        turn += moment(k, at);
    }
    let reach = (at - next).length().max(SAME);
    let u = [(next[0] - at[0]) / reach, (next[1] - at[1]) / reach];
    (sum.dot(u.into()), turn)
}

/// Direction of the line through the two points that are farthest apart.
pub(crate) fn longest(knots: &[Knot]) -> Option<Vec2> {
    let mut best: Option<(Vec2, f64)> = None;
    for (i, a) in knots.iter().enumerate() {
        for b in knots.iter().skip(i + 1) {
            let d = (a.at - b.at).length();
            if d > SAME && best.is_none_or(|(_, most)| d > most) {
                best = Some((
                    Vec2::new((b.at[0] - a.at[0]) / d, (b.at[1] - a.at[1]) / d),
                    d,
                ));
            }
        }
    }
    best.map(|(axis, _)| axis)
}

/// Square of their distance: enough to tell which is nearer, and cheap.
pub(super) fn away_squared(a: Vec2, b: Vec2) -> f64 {
    let d = a - b;
    d.dot(d)
}

#[cfg(test)]
mod tests {
    use super::{Knot, Vec2, carried, longest};

    /// By hand: from (10, 10) towards (7, 14) the direction is (-0.6, 0.8). A force of (2, 5) N at (13, 14) with a couple of
    /// 1 N mm pulls with -1.2 + 4 = 2.8 N, and turns with 3 · 5 - 4 · 2 + 1 = 8 N mm.
    #[test]
    fn axial_force_and_moment_of_what_lies_beyond() {
        let knot = Knot {
            at: Vec2::new(13.0, 14.0),
            force: Vec2::new(2.0, 5.0),
            moment: 1.0,
        };
        let (axial, bending) = carried(Vec2::new(10.0, 10.0), &[knot], Vec2::new(7.0, 14.0));
        assert!((axial - 2.8).abs() < 1e-12, "{axial}");
        assert!((bending - 8.0).abs() < 1e-12, "{bending}");
    }

    /// From (1, 1) to (7, 9) it is 10 mm, more than between any others, in whatever order they come: (0.6, 0.8). Points in one
    /// place have no direction.
    #[test]
    fn the_longest_axis_is_between_the_two_that_are_farthest_apart() {
        let points = [[1.0, 1.0], [4.0, 1.0], [7.0, 9.0], [3.0, 6.0]];
        let knots = |order: [usize; 4]| {
            order.map(|k| Knot {
                at: points[k].into(),
                force: Vec2::ZERO,
                moment: 0.0,
            })
        };
        for order in [[0, 1, 2, 3], [3, 2, 1, 0], [1, 2, 0, 3], [2, 3, 1, 0]] {
            let axis = longest(&knots(order)).unwrap();
            let along = axis.dot(Vec2::new(0.6, 0.8)).abs();
            assert!((along - 1.0).abs() < 1e-12, "{axis:?}");
        }
        assert_eq!(longest(&knots([1, 1, 1, 1])), None);
    }
}
