//! Setting a tool up: at the open end of its stroke, with all that loads it.

use super::locate::{locate, locate_fixed};
use super::pawl::PawlDrag;
use super::rig::{Mounted, Rig};
use crate::model::{At, Direction, GripId, Ratchet, Tool};
use crate::motion::MotionError;

impl<'a> Rig<'a> {
    /// Sets `tool` up at the open end of its stroke, for forces in this direction of the stroke.
    ///
    /// # Errors
    /// When an end of the stroke cannot be solved again.
    pub fn new(
        tool: &'a Tool,
        mounted: &Mounted,
        direction: Direction,
    ) -> Result<Self, MotionError> {
        let mut rig = Self::bare(tool, mounted, direction)?;
        if let (Direction::Closing, Some(ratchet)) = (direction, &tool.ratchet) {
            let pawl = engaged(&mut rig, ratchet)
                .and_then(|(teeth, ends)| PawlDrag::new(tool, &mounted.linkage, teeth, ends));
            rig.load_pawl(pawl)?;
        }
        Ok(rig)
    }
}

/// A whole number of teeth is one that is this near to it.
const WHOLE: f64 = 1e-9;

/// Angles of the first and the last tooth (rad), and the paces there; `None` where they have no places on the
/// stroke.
fn engaged(rig: &mut Rig, ratchet: &Ratchet) -> Option<([f64; 2], [f64; 2])> {
    let grip = GripId::FIRST;
    let mut paces = [0.0; 2];
    let mut turned = [0.0; 2];
    for (k, target) in [ratchet.engages, ratchet.frees].into_iter().enumerate() {
        paces[k] = locate_fixed(rig, target.fixed(), grip).ok()?;
        let there = rig.at(paces[k]).ok()?;
        turned[k] = there.turned(ratchet.teeth_on, ratchet.pawl.on);
    }
    let way = turned[1] - turned[0];
    let count = (way.abs() / ratchet.pitch + WHOLE).floor();
    if paces[1] <= paces[0] || count < 1.0 {
        return None;
    }
    let last = turned[0] + way.signum() * ratchet.pitch * count;
    let at_last = At::Turned(ratchet.teeth_on, ratchet.pawl.on, last);
    let ends = [paces[0], locate(rig, at_last, grip).ok()?];
    Some(([turned[0], last], ends))
}
