//! Setting a tool up: at the open end of its stroke, with all that loads it.

use super::locate::{LocateError, locate, locate_fixed};
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

/// Pace, and angle of the part with the teeth (rad), where the pawl falls behind the first tooth and where it is to be
/// let go; else which of these the stroke does not come to, by its word in the file.
///
/// # Errors
/// As [`locate`].
pub fn ratchet_ends(
    rig: &mut Rig,
    ratchet: &Ratchet,
) -> Result<[[f64; 2]; 2], (&'static str, LocateError)> {
    let mut ends = [[0.0; 2]; 2];
    let words = [("engages", ratchet.engages), ("frees", ratchet.frees)];
    for (end, (word, target)) in ends.iter_mut().zip(words) {
        let off = |error| (word, error);
        let pace = locate_fixed(rig, target.fixed(), GripId::FIRST).map_err(off)?;
        let there = rig.at(pace).map_err(|error| off(error.into()))?;
        *end = [pace, there.turned(ratchet.teeth_on, ratchet.pawl.on)];
    }
    Ok(ends)
}

/// Angles of the first and the last tooth (rad), and the paces there; `None` where they have no places on the
/// stroke.
fn engaged(rig: &mut Rig, ratchet: &Ratchet) -> Option<([f64; 2], [f64; 2])> {
    let [[from, first], [to, freed]] = ratchet_ends(rig, ratchet).ok()?;
    let way = freed - first;
    let count = ratchet.pitches(way);
    if to <= from || count == 0 {
        return None;
    }
    let last = first + way.signum() * ratchet.pitch * count as f64;
    let at_last = At::Turned(ratchet.teeth_on, ratchet.pawl.on, last);
    let end = locate(rig, at_last, GripId::FIRST).ok()?;
    Some(([first, last], [from, end]))
}
