//! A key: a slider that rides in a straight slot and may not turn in it.
//!
//! Two equations: that of the slot, and size × (angle of the rider − angle of the slotted part −
//! turn) = 0, whose force is a moment on the rider.
//!
//! Friction: a guide of width w carries the moment M by edge forces N/2 ± M/w, each with its
//! friction: μ max(|N|, 2 |M| / w).

use super::kind::{Kind, Tally};
use super::rub::{Rub, Wall};
use super::slot::SlotFrame;
use crate::mechanism::{Body, GROUND, Linkage, Pose, Rates, Take};
use crate::model::{PartId, Slot, Tool};
use crate::numeric::angle::wrapped;
use std::ops::Range;

/// A keyed slider as the equations see it.
#[derive(Debug, Clone, Copy)]
pub struct KeyFrame {
    /// The slot that it rides in; the key's row follows the slot's.
    pub slot: SlotFrame,
    /// Turn of the rider against the slotted body, rad.
    pub turn: f64,
}

impl KeyFrame {
    pub(super) fn new(
        index: usize,
        slot: &Slot,
        [angle, turn]: [f64; 2],
        tally: &mut Tally,
    ) -> Self {
        let slot = SlotFrame::new(index, slot, angle, tally);
        tally.equations += 1;
        Self { slot, turn }
    }
}

impl Kind for KeyFrame {
    #[inline]
    fn bodies(&self) -> [PartId; 2] {
        self.slot.bodies()
    }

    #[inline]
    fn rows(&self) -> Range<usize> {
        self.slot.row..self.slot.row + 2
    }

    fn place(&mut self, tool: &Tool, bodies: &[Body]) {
        self.slot.place(tool, bodies);
        let slot = tool.slots.get(self.slot.index);
        self.turn = slot.and_then(|slot| slot.keyed).unwrap_or(self.turn);
    }

    /// The angle of the rider is taken within half a turn of what the key says, since its equation
    /// knows nothing of whole turns.
    fn start(&self, linkage: &Linkage, q: &mut [f64]) {
        let [rider, on] = self.bodies().map(|body| linkage.bodies[body].angle);
        if rider != GROUND {
            let reference = if on == GROUND { 0.0 } else { q[on] };
            q[rider] = reference + self.turn + wrapped(q[rider] - reference - self.turn);
        }
    }

    /// What keeps it from turning asks for two angles and not for places.
    fn columns(&self, linkage: &Linkage, row: usize) -> Vec<usize> {
        if row == self.slot.row {
            return linkage.loop_columns(self.bodies());
        }
        let angles = self.bodies().map(|body| linkage.bodies[body].angle);
        let mut columns: Vec<usize> = angles.into_iter().filter(|&c| c != GROUND).collect();
        columns.sort_unstable();
        columns
    }

    #[inline]
    fn residual(&self, linkage: &Linkage, pose: &Pose, out: &mut [f64]) {
        self.slot.residual(linkage, pose, out);
        let [rider, on] = self.bodies();
        let angle = pose.angle(linkage, rider) - pose.angle(linkage, on);
        out[1] = linkage.size * (angle - self.turn);
    }

    #[inline]
    fn gradient(&self, linkage: &Linkage, pose: &Pose, rows: &mut [f64]) {
        let (guide, key) = rows.split_at_mut(linkage.coordinates);
        self.slot.gradient(linkage, pose, guide);
        let [rider, on] = self.bodies();
        linkage.add_angle(rider, linkage.size, key);
        linkage.add_angle(on, -linkage.size, key);
    }

    fn apart(&self, residual: &[f64]) -> f64 {
        residual.iter().fold(0.0, |most, r| r.abs().max(most))
    }

    #[inline]
    fn load(&self, size: f64, multipliers: &[f64]) -> [f64; 2] {
        let row = self.slot.row;
        [multipliers[row], multipliers[row + 1] * size]
    }

    #[inline]
    fn act(&self, pose: &Pose, load: [f64; 2], to: &mut (impl Take + ?Sized)) {
        self.slot.act(pose, load, to);
        let [rider, on] = self.bodies();
        to.couple(rider, load[1]);
        to.couple(on, -load[1]);
    }

    fn rub(&self, tool: &Tool, wall: Wall) -> Option<Rub> {
        let width = tool.slots.get(self.slot.index)?.width;
        (self.slot).rub_with(tool, width.map_or(0.0, |w| 2.0 / w), wall)
    }

    #[inline]
    fn rate(&self, pose: &Pose, rates: &Rates, wall: Wall) -> f64 {
        self.slot.rate(pose, rates, wall)
    }

    #[inline]
    fn usual_rate(&self, size: f64) -> f64 {
        self.slot.usual_rate(size)
    }

    fn drag(&self, pose: &Pose, friction: f64, wall: Wall, to: &mut (impl Take + ?Sized)) {
        self.slot.drag(pose, friction, wall, to);
    }
}
