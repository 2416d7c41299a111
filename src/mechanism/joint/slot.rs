//! A slot: a point of one part rides along a straight line of another.
//!
//! One equation: n · (P − T) = 0 with P the riding point, T the place that the centre line passes,
//! n = (−sin a, cos a) turned with the slotted part. Its force stands at P, along n.
//!
//! Friction: μ |N| along the slot against the sliding.

use super::kind::{Kind, Tally, spot_at, spot_of, unplaced};
use super::rub::{ContactForce, Rub};
use crate::geometry::Vec2;
use crate::mechanism::{Body, Linkage, Pose, Rates, Spot, Take};
use crate::model::{PartId, Slot, Tool};
use std::ops::Range;

/// A slot as the equations see it.
#[derive(Debug, Clone, Copy)]
pub struct SlotFrame {
    /// Index into [`Tool::slots`].
    pub index: usize,
    /// The riding point.
    pub rider: Spot,
    /// The place that the centre line passes, on the slotted body.
    pub through: Spot,
    /// Direction of the centre line in the slotted body's axes: cosine and sine.
    pub along: Vec2,
    /// Row of the guiding equation.
    pub row: usize,
}

impl SlotFrame {
    pub(super) fn new(index: usize, slot: &Slot, tally: &mut Tally) -> Self {
        tally.equations += 1;
        Self {
            index,
            rider: unplaced(slot.rider.part),
            through: unplaced(slot.on),
            along: Vec2::unit(slot.angle),
            row: tally.equations - 1,
        }
    }

    /// Direction of the centre line in the tool's axes.
    #[inline]
    fn direction(&self, pose: &Pose) -> Vec2 {
        pose.frames[self.through.body].direction(self.along)
    }

    /// A force on the rider and its opposite on the slotted body, both at the rider.
    #[inline]
    fn pair(&self, pose: &Pose, force: Vec2, to: &mut (impl Take + ?Sized)) {
        let place = pose.place(self.rider);
        let (rider, on) = (self.rider.body, self.through.body);
        let back = -force;
        to.force(rider, place - pose.frames[rider].origin, place, force);
        to.force(on, place - pose.frames[on].origin, place, back);
    }

    /// What rubs, with the contact force that a moment of 1 N mm on the rider makes.
    pub(super) fn rub_with(&self, tool: &Tool, edge: f64) -> Option<Rub> {
        let slot = tool.slots.get(self.index)?;
        (slot.friction > 0.0).then_some(Rub {
            drag: slot.friction,
            force: ContactForce::Greater { edge },
        })
    }
}

impl Kind for SlotFrame {
    #[inline]
    fn bodies(&self) -> [PartId; 2] {
        [self.rider.body, self.through.body]
    }

    #[inline]
    fn rows(&self) -> Range<usize> {
        self.row..self.row + 1
    }

    fn place(&mut self, tool: &Tool, bodies: &[Body]) {
        let slot = &tool.slots[self.index];
        self.rider = spot_of(tool, bodies, slot.rider);
        self.through = spot_at(tool, bodies, slot.on, slot.through);
        self.along = Vec2::unit(slot.angle);
    }

    #[inline]
    fn residual(&self, _linkage: &Linkage, pose: &Pose, out: &mut [f64]) {
        let offset = pose.place(self.rider) - pose.place(self.through);
        out[0] = self.direction(pose).cross(offset);
    }

    #[inline]
    fn gradient(&self, linkage: &Linkage, pose: &Pose, row: &mut [f64]) {
        let on = self.through.body;
        let along = self.direction(pose);
        let normal = Vec2::new(-along[1], along[0]);
        let (rider, through) = (pose.place(self.rider), pose.place(self.through));
        linkage.add_gradient(pose, self.rider.body, rider, normal, row);
        linkage.add_gradient(pose, on, through, -normal, row);
        // The normal turns with the slotted body: dn/dθ = −along.
        linkage.add_angle(on, -along.dot(rider - through), row);
    }

    fn apart(&self, residual: &[f64]) -> f64 {
        residual[0].abs()
    }

    #[inline]
    fn load(&self, _size: f64, multipliers: &[f64]) -> [f64; 2] {
        [multipliers[self.row], 0.0]
    }

    #[inline]
    fn act(&self, pose: &Pose, load: [f64; 2], to: &mut (impl Take + ?Sized)) {
        let along = self.direction(pose);
        self.pair(pose, Vec2::new(-along[1] * load[0], along[0] * load[0]), to);
    }

    fn rub(&self, tool: &Tool) -> Option<Rub> {
        self.rub_with(tool, 0.0)
    }

    #[inline]
    fn rate(&self, pose: &Pose, rates: &Rates) -> f64 {
        let place = pose.place(self.rider);
        let v = rates.of(pose, self.rider.body, place) - rates.of(pose, self.through.body, place);
        v.dot(self.direction(pose))
    }

    #[inline]
    fn usual_rate(&self, size: f64) -> f64 {
        size
    }

    fn drag(&self, pose: &Pose, friction: f64, to: &mut (impl Take + ?Sized)) {
        let along = self.direction(pose);
        self.pair(pose, along * friction, to);
    }
}
