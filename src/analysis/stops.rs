//! Where stops and dies meet on the motion, and what a stop carries.

use super::failure::Failure;
use crate::measure::{StopLoad, stop_load};
use crate::model::{GripId, StopEnd, StopId};
use crate::motion::{Signal, Waypoint, reached};
use crate::statics::{Absent, Mounted, Rig};

/// A stop on the motion. Lengths in mm, angles in rad.
#[derive(Debug, Clone, PartialEq)]
pub struct StopSeen {
    /// Which.
    pub stop: StopId,
    /// Where it is met, on the stroke or beyond it; `None` where the motion never comes to it.
    pub place: Option<StopPlace>,
    /// Handle angle from there on to where the dies of the first jaw would meet, for a stop at shut; below zero
    /// where they meet before. `None` where they never do.
    pub dies: Option<f64>,
    /// For each grip, what it carries.
    pub loads: Vec<Result<StopLoad, Absent>>,
}

/// Where a stop is met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StopPlace {
    /// Handle angle.
    pub handle: f64,
    /// Gap of the first jaw.
    pub gap: f64,
    /// Handle angle from its end of the stroke on to it: over-travel; below zero where it is met before.
    pub left: f64,
}

/// All stops of the tool that `rig` has set up.
pub(super) fn stops_seen(rig: &mut Rig, mounted: &Mounted) -> Result<Vec<StopSeen>, Failure> {
    let mut seen = Vec::new();
    for stop in StopId::ids(rig.tool().stops.len()) {
        seen.push(see(rig, mounted, stop)?);
    }
    Ok(seen)
}

fn see(rig: &mut Rig, mounted: &Mounted, stop: StopId) -> Result<StopSeen, Failure> {
    let tool = rig.tool();
    let at_open = tool.stop(stop).is_some_and(|s| s.ends == StopEnd::Open);
    let survey = &*mounted.survey;
    let mut solver = rig.solver().clone();
    let linkage = &mounted.linkage;
    let mut at = |spot: Waypoint| {
        survey.path.stand(&mut solver, spot)?;
        let jaw = linkage.jaws.first()?;
        let handle = linkage.handle(&solver.pose.q) - survey.turns_off;
        Some((handle, linkage.gap(&solver.pose, jaw)))
    };
    let ends = (at(survey.open), at(survey.shut));
    let find = |signal, back| reached(&mut rig.solver().clone(), survey, signal, back);
    // A stroke that begins or ends at the stop need not cross it on a motion that ends there.
    let here = match at_open {
        true => tool.stroke.open == crate::model::Target::Stop(stop),
        false => tool.stroke.shut == crate::model::Target::Stop(stop),
    };
    let spot = match (here, at_open) {
        (true, true) => Some(survey.open),
        (true, false) => Some(survey.shut),
        (false, back) => find(Signal::Stop(stop), back),
    };
    let dies = match at_open {
        true => None,
        false => find(Signal::Gap(linkage.lead), false),
    };
    let met = spot.and_then(&mut at);
    let dies = dies.and_then(&mut at);
    let ((Some(open), Some(shut)), met) = (ends, met) else {
        return Ok(StopSeen {
            stop,
            place: None,
            dies: None,
            loads: Vec::new(),
        });
    };
    // The sense in which the handle turns as the tool closes.
    let turn = (shut.0 - open.0).signum();
    let place = met.map(|(handle, gap)| StopPlace {
        handle,
        gap,
        left: match at_open {
            true => turn * (open.0 - handle),
            false => turn * (handle - shut.0),
        },
    });
    let grips = GripId::ids(tool.hand.grips.len());
    let loads: Result<Vec<_>, _> = grips.map(|grip| stop_load(rig, stop, grip)).collect();
    Ok(StopSeen {
        stop,
        place,
        dies: met.zip(dies).map(|(met, dies)| turn * (dies.0 - met.0)),
        loads: loads?,
    })
}
