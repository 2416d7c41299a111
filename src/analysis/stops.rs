//! Where stops and dies meet on the motion, and what a stop carries.

use super::failure::Failure;
use crate::give::give;
use crate::measure::{StopLoad, stop_load};
use crate::model::{GripId, JawId, StopEnd, StopId};
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
    /// For each grip, what it carries, lug and pad being rigid.
    pub loads: Vec<Result<StopLoad, Absent>>,
    /// For each grip, what goes on into the jaw since lug and pad give; `None` where the file does not say how
    /// they do, or there is no load, or no work.
    pub shared: Vec<Option<SharedLoad>>,
}

/// How a stop that gives shares with the jaw what the hand gives beyond the work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SharedLoad {
    /// The share that goes on into the jaw.
    pub share: f64,
    /// Force at the first jaw, N.
    pub jaw: f64,
    /// Force on the stop, N.
    pub stop: f64,
}

/// Step of the gap (mm) over which the slope of the work is taken.
const SLOPE_STEP: f64 = 1e-3;

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
            shared: Vec::new(),
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
    let (mut loads, mut shared) = (Vec::new(), Vec::new());
    for grip in grips {
        let load = stop_load(rig, stop, grip)?;
        shared.push(match &load {
            Ok(load) => share(rig, stop, grip, load)?,
            Err(_) => None,
        });
        loads.push(load);
    }
    Ok(StopSeen {
        stop,
        place,
        dies: met.zip(dies).map(|(met, dies)| turn * (dies.0 - met.0)),
        loads,
        shared,
    })
}

/// How the surplus is shared, where the rig stands at the stop. As seen at the hand, stop and jaw are two springs
/// side by side: the handle that goes on by δ presses the faces by r δ and the work by q δ, against the rate of the
/// faces and that of the work in line with the tool (what only moves the hand lies before both):
///
/// ```text
/// share of the jaw = kj q² / (kj q² + ks r²),   1 / kj = give + 1 / slope of the work
/// ```
fn share(
    rig: &mut Rig,
    stop: StopId,
    grip: GripId,
    load: &StopLoad,
) -> Result<Option<SharedLoad>, Failure> {
    let tool = rig.tool();
    let Some(faces) = tool.stop(stop).filter(|stop| stop.ends == StopEnd::Shut) else {
        return Ok(None);
    };
    let (Some(rate), Some(work)) = (faces.rate, tool.work()) else {
        return Ok(None);
    };
    let gives = give(rig, grip).map_or(0.0, |give| give.linkage());
    let size = rig.solver().linkage.size;
    let mut here = rig.here();
    let Some(gap) = here.gap(JawId::FIRST) else {
        return Ok(None);
    };
    let slope = (work.at(gap - SLOPE_STEP, size) - work.at(gap, size)) / SLOPE_STEP;
    let (Some(faces), jaw) = (here.stop_closing(stop), here.closing(JawId::FIRST)) else {
        return Ok(None);
    };
    let Ok(most) = here.jaw_force(grip, JawId::FIRST, load.hand) else {
        return Ok(None);
    };
    let stiff = slope / (1.0 + gives * slope);
    let (into_jaw, into_stop) = (stiff * jaw * jaw, rate * faces * faces);
    let share = (into_jaw / (into_jaw + into_stop)).max(0.0);
    if !share.is_finite() {
        return Ok(None);
    }
    let jaw = load.jaw + share * (most - load.jaw);
    let on = rig.on_stop(stop, (grip, load.hand), jaw)?;
    Ok(on.ok().map(|on| SharedLoad {
        share,
        jaw,
        stop: on.stop,
    }))
}
