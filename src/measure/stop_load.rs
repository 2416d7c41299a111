//! What a stop carries at its end of the stroke.

use super::evaluate::hand_limit;
use super::reading::Reading;
use crate::model::{GripId, StopEnd, StopId};
use crate::motion::MotionError;
use crate::statics::{Absent, OnStop, Rig};

/// What a stop carries, and against what; N.
#[derive(Debug, Clone, PartialEq)]
pub struct StopLoad {
    /// What presses on it.
    pub on: OnStop,
    /// What the work at the first jaw takes.
    pub jaw: f64,
    /// Hand force.
    pub hand: f64,
}

/// What a stop carries where the stroke comes to it: at shut with the hand at its limit, or else at the tool's
/// hand force, less what the work at the first jaw needs there, with the friction of closing; at open with the
/// hand off.
///
/// # Errors
/// When a position cannot be solved.
pub fn stop_load(
    rig: &mut Rig,
    stop: StopId,
    grip: GripId,
) -> Result<Result<StopLoad, Absent>, MotionError> {
    let pace = match rig.pace_at_stop(stop)? {
        Ok(pace) => pace,
        Err(why) => return Ok(Err(why)),
    };
    rig.go_to(pace)?;
    let tool = rig.tool();
    let (hand, jaw) = match tool.stop(stop).map(|stop| stop.ends) {
        Some(StopEnd::Open) => (0.0, 0.0),
        _ => {
            let here = rig.here();
            let limit = hand_limit(&here, grip);
            if tool.hand.limit.is_some() && limit.is_none() {
                return Ok(Err(Absent::NoLimit));
            }
            let hand = limit.unwrap_or(tool.hand.force);
            (hand, here.work().unwrap_or(0.0))
        }
    };
    let on = rig.on_stop(stop, (grip, hand), jaw)?;
    Ok(on.map(|on| StopLoad { on, jaw, hand }))
}

/// The same as a reading.
pub(super) fn read(rig: &mut Rig, stop: StopId, grip: GripId) -> Result<Reading, MotionError> {
    Ok(stop_load(rig, stop, grip)?.map(|load| load.on.stop))
}
