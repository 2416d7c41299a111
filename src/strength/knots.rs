//! The forces on a part, added up where they act at one point.

use crate::geometry::Vec2;
use crate::model::PartId;
use crate::statics::Sheet;

/// Forces at one point, in the part's axes (mm, N; N mm counter-clockwise).
#[derive(Debug, Clone, Copy)]
pub(crate) struct Knot {
    pub at: Vec2,
    pub force: Vec2,
    pub moment: f64,
}

/// Points nearer than this are one, mm.
pub(super) const SAME: f64 = 1e-6;
/// Forces that leave more than this share of the greatest do not balance.
const BALANCED: f64 = 1e-6;

/// The forces on a part, in its axes, those at one point added up.
pub(crate) fn knots(part: PartId, sheet: &Sheet) -> Vec<Knot> {
    let turn = sheet.turn.get(part.index()).copied().unwrap_or(Vec2::X);
    let mut knots: Vec<Knot> = Vec::new();
    for f in sheet.on(part) {
        let local = f.force.turned_back(turn);
        match knots.iter_mut().find(|k| (k.at - f.local).length() < SAME) {
            Some(known) => {
                known.force[0] += local[0];
                known.force[1] += local[1];
                known.moment += f.moment;
            }
            None => knots.push(Knot {
                at: f.local,
                force: local,
                moment: f.moment,
            }),
        }
    }
    knots
}

/// Whether the forces balance.
pub(crate) fn balanced(knots: &[Knot]) -> bool {
    let (mut sum, mut turn, mut greatest, mut reach) = (Vec2::ZERO, 0.0, 0.0_f64, 0.0_f64);
    let Some(first) = knots.first() else {
        return true;
    };
    for k in knots {
        sum += k.force;
        turn += moment(k, first.at);
        greatest = greatest.max(k.force[0].hypot(k.force[1]));
        reach = reach.max((k.at - first.at).length());
    }
    sum[0].hypot(sum[1]) <= BALANCED * greatest
        && turn.abs() <= BALANCED * (greatest * reach).max(SAME)
}

/// Moment of the forces at a knot about a place.
pub(crate) fn moment(k: &Knot, about: Vec2) -> f64 {
    (k.at - about).cross(k.force) + k.moment
}
