//! What can be made of the forces of a joint, where their moments about the bodies are not asked for.

use crate::geometry::Vec2;
use crate::mechanism::{Linkage, Pose, Take, Wrench};
use crate::model::PartId;

/// Adds the generalised forces of what it takes.
pub(super) struct Powers<'a> {
    pub linkage: &'a Linkage,
    pub pose: &'a Pose,
    pub general: &'a mut [f64],
}

impl Take for Powers<'_> {
    #[inline]
    fn force(&mut self, body: PartId, _arm: Vec2, place: Vec2, force: Vec2) {
        (self.linkage).add_gradient(self.pose, body, place, force, self.general);
    }

    #[inline]
    fn couple(&mut self, body: PartId, moment: f64) {
        self.linkage.add_angle(body, moment, self.general);
    }
}

/// Adds up forces without their moments.
pub(super) struct ForceSums<'a>(pub &'a mut Vec<Wrench>);

impl ForceSums<'_> {
    #[inline]
    pub(super) fn add(&mut self, body: PartId, force: Vec2) {
        self.0[body].force += force;
    }
}

impl Take for ForceSums<'_> {
    #[inline]
    fn force(&mut self, body: PartId, _arm: Vec2, _place: Vec2, force: Vec2) {
        self.add(body, force);
    }

    #[inline]
    fn couple(&mut self, _body: PartId, _moment: f64) {}
}
