//! A pin or roller that rides in a straight slot of another part.
//!
//! One equation: d × (P − S) = 0, with P the rider, S a place that the centre line passes and d its
//! direction. The force of the equation is that of the wall, positive to the left of the centre line.
//!
//! Friction: see [`super::wall`].

use super::kind::{Kind, Tally, spot_at, spot_of, unplaced};
use super::rub::{Rub, Wall};
use super::wall::Walls;
use crate::geometry::Vec2;
use crate::mechanism::{Body, Linkage, Pose, Rates, Spot, Take};
use crate::model::{PartId, Slot, SlotLine, Tool};
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
    pub(super) walls: Walls,
}

impl SlotFrame {
    pub(super) fn new(index: usize, slot: &Slot, angle: f64, tally: &mut Tally) -> Self {
        let parts = [slot.rider.part, slot.on];
        Self::between(index, parts, Vec2::unit(angle), Walls::of(slot), tally)
    }

    /// Of a rider on the first part and a centre line on the second.
    pub(super) fn between(
        index: usize,
        [rider, on]: [PartId; 2],
        along: Vec2,
        walls: Walls,
        tally: &mut Tally,
    ) -> Self {
        tally.equations += 1;
        Self {
            index,
            rider: unplaced(rider),
            through: unplaced(on),
            along,
            row: tally.equations - 1,
            walls,
        }
    }

    /// Direction of the centre line in the tool's axes.
    #[inline]
    fn direction(&self, pose: &Pose) -> Vec2 {
        pose.frames[self.through.body].direction(self.along)
    }

    /// To the left of the centre line, in the tool's axes.
    #[inline]
    pub(super) fn normal(&self, pose: &Pose) -> Vec2 {
        let along = self.direction(pose);
        Vec2::new(-along[1], along[0])
    }

    #[inline]
    fn ends(&self) -> (Spot, PartId) {
        (self.rider, self.through.body)
    }

    /// What rubs, with the contact force that a moment of 1 N mm on the rider makes.
    pub(super) fn rub_with(&self, tool: &Tool, edge: f64, wall: Wall) -> Option<Rub> {
        self.walls.rub(tool.slots.get(self.index)?, edge, wall)
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
        self.through = spot_at(tool, bodies, slot.on, slot.line.place());
        if let SlotLine::Straight { angle, .. } = slot.line {
            self.along = Vec2::unit(angle);
        }
        self.walls = Walls::of(slot);
    }

    #[inline]
    fn residual(&self, _linkage: &Linkage, pose: &Pose, out: &mut [f64]) {
        let offset = pose.place(self.rider) - pose.place(self.through);
        out[0] = self.direction(pose).cross(offset);
    }

    #[inline]
    fn gradient(&self, linkage: &Linkage, pose: &Pose, row: &mut [f64]) {
        let on = self.through.body;
        let (along, normal) = (self.direction(pose), self.normal(pose));
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
        Walls::pair(pose, self.ends(), self.normal(pose) * load[0], to);
    }

    fn rub(&self, tool: &Tool, wall: Wall) -> Option<Rub> {
        self.rub_with(tool, 0.0, wall)
    }

    #[inline]
    fn rate(&self, pose: &Pose, rates: &Rates, wall: Wall) -> f64 {
        let normal = self.normal(pose);
        self.walls.rate(pose, rates, self.ends(), normal, wall)
    }

    #[inline]
    fn usual_rate(&self, size: f64) -> f64 {
        size
    }

    fn drag(&self, pose: &Pose, friction: f64, wall: Wall, to: &mut (impl Take + ?Sized)) {
        let normal = self.normal(pose);
        (self.walls).drag(pose, friction, self.ends(), normal, wall, to);
    }
}
