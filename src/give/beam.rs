//! A part as a straight beam through the points that carry forces.
//!
//! As for strength, the points are taken in the order along the part's longest axis. On each piece
//! between neighbours the axial force is constant and the moment linear, so that the integrals of
//! the unit-load method are exact: n² L / (E A) and (a² + a b + b²) L / (3 E I) for the moments a
//! and b at its ends. A two-pin link is the case of one piece without a moment.

use super::result::Flexure;
use crate::geometry::Vec2;
use crate::strength::{Knot, longest, moment};

/// Stiffness of a section.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stiffness {
    /// E A, N.
    pub axial: f64,
    /// E I, N mm².
    pub bending: f64,
}

impl Stiffness {
    /// Of a rectangle `depth` × `thickness` (mm) of Young's modulus `modulus` (MPa).
    pub(super) fn new(depth: f64, thickness: f64, modulus: f64) -> Self {
        Self {
            axial: modulus * depth * thickness,
            bending: modulus * thickness * depth.powi(3) / 12.0,
        }
    }
}

/// What the part gives under these forces, which balance.
pub(super) fn flexure(mut knots: Vec<Knot>, stiffness: Stiffness) -> Flexure {
    let Some(axis) = longest(&knots) else {
        return Flexure::default();
    };
    let along = |k: &Knot| k.at[0] * axis[0] + k.at[1] * axis[1];
    knots.sort_by(|a, b| along(a).total_cmp(&along(b)));
    let mut sum = Flexure::default();
    for (i, pair) in knots.windows(2).enumerate() {
        let [a, b] = pair else { continue };
        let length = (a.at - b.at).length();
        if !(length > 0.0) {
            continue;
        }
        let (mut force, mut ends) = (Vec2::ZERO, [0.0; 2]);
        for k in knots.iter().take(i + 1) {
            force += k.force;
            ends = [ends[0] + moment(k, a.at), ends[1] + moment(k, b.at)];
        }
        let axial = (force[0] * (b.at[0] - a.at[0]) + force[1] * (b.at[1] - a.at[1])) / length;
        let squares = ends[0] * ends[0] + ends[0] * ends[1] + ends[1] * ends[1];
        sum.axial += axial * axial * length / stiffness.axial;
        sum.bending += squares * length / (3.0 * stiffness.bending);
    }
    sum
}
