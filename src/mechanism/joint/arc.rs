//! A pin or roller that rides in an arc slot of another part.
//!
//! One equation: (|P − C|² − ρ²) / 2ρ = 0, with P the rider, C the centre and ρ the radius of the centre
//! line. Its gradient by P is (P − C)/ρ, a unit vector where it holds, so the force of the equation is that
//! of the wall, positive away from the centre: the slot does what a link of length ρ from C to P does.
//!
//! Friction: see [`super::wall`].

use super::kind::{Kind, Tally, spot_at, spot_of, unplaced};
use super::rub::{Rub, Wall};
use super::wall::Walls;
use crate::geometry::Vec2;
use crate::mechanism::{Body, Linkage, Pose, Rates, Spot, Take};
use crate::model::{PartId, Slot, SlotLine, Tool};
use std::ops::Range;

/// An arc slot as the equations see it.
#[derive(Debug, Clone, Copy)]
pub struct ArcFrame {
    /// Index into [`Tool::slots`].
    pub index: usize,
    /// The riding point.
    pub rider: Spot,
    /// Centre of the centre line, on the slotted body.
    pub centre: Spot,
    /// Radius of the centre line, mm.
    pub radius: f64,
    /// Row of the guiding equation.
    pub row: usize,
    pub(super) walls: Walls,
}

impl ArcFrame {
    pub(super) fn new(index: usize, slot: &Slot, radius: f64, tally: &mut Tally) -> Self {
        let parts = [slot.rider.part, slot.on];
        Self::between(index, parts, radius, Walls::of(slot), tally)
    }

    /// Of a rider on the first part and a centre on the second.
    pub(super) fn between(
        index: usize,
        [rider, on]: [PartId; 2],
        radius: f64,
        walls: Walls,
        tally: &mut Tally,
    ) -> Self {
        tally.equations += 1;
        Self {
            index,
            rider: unplaced(rider),
            centre: unplaced(on),
            radius,
            row: tally.equations - 1,
            walls,
        }
    }

    /// From the centre to the rider.
    #[inline]
    fn spoke(&self, pose: &Pose) -> Vec2 {
        pose.place(self.rider) - pose.place(self.centre)
    }

    /// Away from the centre: a unit vector where the equation holds.
    #[inline]
    pub(super) fn normal(&self, pose: &Pose) -> Vec2 {
        self.spoke(pose) * (1.0 / self.radius)
    }
}

impl Kind for ArcFrame {
    #[inline]
    fn bodies(&self) -> [PartId; 2] {
        [self.rider.body, self.centre.body]
    }

    #[inline]
    fn rows(&self) -> Range<usize> {
        self.row..self.row + 1
    }

    fn place(&mut self, tool: &Tool, bodies: &[Body]) {
        let slot = &tool.slots[self.index];
        self.rider = spot_of(tool, bodies, slot.rider);
        self.centre = spot_at(tool, bodies, slot.on, slot.line.place());
        if let SlotLine::Arc { radius, .. } = slot.line {
            self.radius = radius;
        }
        self.walls = Walls::of(slot);
    }

    #[inline]
    fn residual(&self, _linkage: &Linkage, pose: &Pose, out: &mut [f64]) {
        let spoke = self.spoke(pose);
        out[0] = 0.5 * (spoke.dot(spoke) / self.radius - self.radius);
    }

    #[inline]
    fn gradient(&self, linkage: &Linkage, pose: &Pose, row: &mut [f64]) {
        let normal = self.normal(pose);
        let (rider, centre) = (pose.place(self.rider), pose.place(self.centre));
        linkage.add_gradient(pose, self.rider.body, rider, normal, row);
        linkage.add_gradient(pose, self.centre.body, centre, -normal, row);
    }

    /// The equation measures the square of the distance from the centre.
    fn apart(&self, residual: &[f64]) -> f64 {
        let square = self.radius * (self.radius + 2.0 * residual[0]);
        (square.max(0.0).sqrt() - self.radius).abs()
    }

    #[inline]
    fn load(&self, _size: f64, multipliers: &[f64]) -> [f64; 2] {
        [multipliers[self.row], 0.0]
    }

    #[inline]
    fn act(&self, pose: &Pose, load: [f64; 2], to: &mut (impl Take + ?Sized)) {
        let force = self.normal(pose) * load[0];
        Walls::pair(pose, (self.rider, self.centre.body), force, to);
    }

    fn rub(&self, tool: &Tool, wall: Wall) -> Option<Rub> {
        self.walls.rub(tool.slots.get(self.index)?, 0.0, wall)
    }

    #[inline]
    fn rate(&self, pose: &Pose, rates: &Rates, wall: Wall) -> f64 {
        let (ends, normal) = ((self.rider, self.centre.body), self.normal(pose));
        self.walls.rate(pose, rates, ends, normal, wall)
    }

    #[inline]
    fn usual_rate(&self, size: f64) -> f64 {
        size
    }

    fn drag(&self, pose: &Pose, friction: f64, wall: Wall, to: &mut (impl Take + ?Sized)) {
        let (ends, normal) = ((self.rider, self.centre.body), self.normal(pose));
        self.walls.drag(pose, friction, ends, normal, wall, to);
    }
}
