//! What acts on a body: forces with their places, couples, and their sum.

use crate::geometry::Vec2;
use crate::model::PartId;

/// Forces on a body: sum (N) and moment about its entry (N mm).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Wrench {
    /// Sum of the forces.
    pub force: Vec2,
    /// Moment about the body's entry.
    pub moment: f64,
}

impl crate::model::Numbered<PartId> for Wrench {}

impl Wrench {
    /// Adds a force at the end of an arm from the entry.
    #[inline]
    pub fn push(&mut self, arm: Vec2, force: Vec2) {
        self.force[0] += force[0];
        self.force[1] += force[1];
        self.moment += arm.cross(force);
    }
}

/// Takes what a joint does to its bodies, one thing after the other. It is called in the innermost
/// loop, so each taker is a type of its own, for the compiler to see through.
pub trait Take {
    /// A force on `body` at `place`, both in the tool's axes, mm and N; `arm` is from the body's
    /// entry to the place.
    fn force(&mut self, body: PartId, arm: Vec2, place: Vec2, force: Vec2);

    /// A couple on `body`, N mm.
    fn couple(&mut self, body: PartId, moment: f64);
}

/// Adds to the sums of all bodies.
impl Take for [Wrench] {
    #[inline]
    fn force(&mut self, body: PartId, arm: Vec2, _place: Vec2, force: Vec2) {
        self[body].push(arm, force);
    }

    #[inline]
    fn couple(&mut self, body: PartId, moment: f64) {
        self[body].moment += moment;
    }
}
