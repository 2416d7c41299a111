//! Where the dies of a jaw or the faces of a stop meet before the stroke is at its end.

use super::events::Happening;
use super::path::Waypoint;
use super::signal::Signal;
use super::solver::Solver;
use super::targets::Survey;
use crate::mechanism::JointFrame;
use crate::model::{JawId, JointId, Met, StopEnd, StopId};

/// The dies of a jaw or the faces of a stop meet within the stroke, which is to go on. Steel does not, so the
/// forces end here.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meeting {
    /// What meets.
    pub what: Met,
    /// Where on the path.
    pub spot: Waypoint,
}

/// A gap below this (over the tool's size) is below zero, above it above: a stroke that is asked to
/// end where the dies meet does not go beyond that.
pub(super) const MEETS: f64 = 1e-9;
/// Length of the path (in its own unit) within which a place is an end of the stroke.
const AT_END: f64 = 1e-7;

/// The first place from open at which the dies of any jaw meet, or a stop that ends the stroke at shut, with
/// some of the stroke still to come; what is below zero from open on has nothing that could meet.
#[must_use]
pub fn first_meeting(solver: &mut Solver, survey: &Survey) -> Option<Meeting> {
    let spots = spots(survey);
    let jaws = JawId::ids(solver.linkage.jaws.len());
    let mut found: Vec<Meeting> = Vec::new();
    for jaw in jaws {
        let crossed = crossing(solver, survey, &spots, Signal::Gap(jaw));
        let touched = touching(survey, jaw);
        let spot = [crossed, touched].into_iter().flatten();
        let first = spot.min_by(|a, b| from_open(survey, *a).total_cmp(&from_open(survey, *b)));
        found.extend(first.map(|spot| Meeting {
            what: Met::Dies(jaw),
            spot,
        }));
    }
    found.extend(stop_met(solver, survey));
    let way = |meeting: &Meeting| from_open(survey, meeting.spot);
    let first = found.iter().map(way).fold(f64::INFINITY, f64::min);
    // Of dies that meet together, those of the jaw in view.
    let mut together = found.into_iter().filter(|m| way(m) <= first + AT_END);
    together.next()
}

/// The first place from open at which a stop that ends the stroke at shut is met, or the contact comes to the end
/// of a cam's face, with some of the stroke still to come.
#[must_use]
pub fn stop_met(solver: &mut Solver, survey: &Survey) -> Option<Meeting> {
    let spots = spots(survey);
    let shuts: Vec<StopId> = StopId::each(&solver.linkage.stops)
        .filter(|(_, stop)| stop.ends == StopEnd::Shut)
        .map(|(stop, _)| stop)
        .collect();
    let met = shuts.into_iter().filter_map(|stop| {
        let spot = crossing(solver, survey, &spots, Signal::Stop(stop))?;
        Some(Meeting {
            what: Met::Stop(stop),
            spot,
        })
    });
    let mut met: Vec<Meeting> = met.collect();
    for (joint, index) in faces(solver) {
        let spot = crossing(solver, survey, &spots, Signal::Face(joint));
        met.extend(spot.map(|spot| Meeting {
            what: Met::Face(index),
            spot,
        }));
    }
    (met.into_iter()).min_by(|a, b| from_open(survey, a.spot).total_cmp(&from_open(survey, b.spot)))
}

/// A stop whose faces are past each other at the open end already, and how far, mm: one that ends the stroke at
/// shut may not touch there either.
#[must_use]
pub fn past_at_open(solver: &mut Solver, survey: &Survey) -> Option<(StopId, f64)> {
    let near = MEETS * solver.linkage.size;
    let tangent = survey.path.stand(solver, survey.open)?;
    let stops = StopId::each(&solver.linkage.stops);
    let mut past = stops.filter_map(|(stop, frame)| {
        let apart = Signal::Stop(stop).read(solver, &tangent);
        let least = match frame.ends {
            StopEnd::Open => -near,
            StopEnd::Shut => near,
        };
        (apart < least).then_some((stop, -apart))
    });
    past.next()
}

/// The joints that are cams with a curved face, and which cams they are.
fn faces(solver: &Solver) -> Vec<(JointId, usize)> {
    let joints = JointId::each(&solver.linkage.joints);
    joints
        .filter_map(|(joint, frame)| match frame {
            JointFrame::Cam(cam) if cam.is_curved() => Some((joint, cam.index)),
            _ => None,
        })
        .collect()
}

/// A cam whose contact is beyond the end of its face at the open end already, and how far, mm.
#[must_use]
pub fn off_face_at_open(solver: &mut Solver, survey: &Survey) -> Option<(usize, f64)> {
    let near = MEETS * solver.linkage.size;
    let tangent = survey.path.stand(solver, survey.open)?;
    let mut off = faces(solver).into_iter().filter_map(|(joint, index)| {
        let left = Signal::Face(joint).read(solver, &tangent);
        (left < near).then_some((index, -left))
    });
    off.next()
}

/// Where on the motion a signal passes zero from above to below on the way that the stroke goes: from open on
/// and beyond shut, or (`back`) from open the other way, up to the end of the motion or where no stroke may
/// pass.
#[must_use]
pub fn reached(
    solver: &mut Solver,
    survey: &Survey,
    signal: Signal,
    back: bool,
) -> Option<Waypoint> {
    let forth = survey.open.before(survey.shut) != back;
    let lead = solver.linkage.lead;
    let ahead = |spot: Waypoint| match forth {
        true => survey.open.before(spot),
        false => spot.before(survey.open),
    };
    let nodes = (0..survey.path.nodes.len()).map(|node| Waypoint { node, ahead: 0.0 });
    let events = survey.events.iter();
    let mut spots: Vec<Waypoint> = nodes
        .chain(events.map(|event| event.spot))
        .chain([survey.shut])
        .filter(|spot| ahead(*spot))
        .collect();
    spots.push(survey.open);
    spots.sort_by(|a, b| (a.node.cmp(&b.node)).then(a.ahead.total_cmp(&b.ahead)));
    if !forth {
        spots.reverse();
    }
    let barrier = survey.events.iter().filter(|event| {
        let at = |spot: Waypoint| from_open(survey, spot);
        ahead(event.spot) && event.ends_strokes(lead) && (back || at(event.spot) > at(survey.shut))
    });
    let end = barrier
        .map(|event| from_open(survey, event.spot))
        .fold(f64::INFINITY, f64::min);
    spots.retain(|spot| from_open(survey, *spot) <= end + AT_END);
    crossing(solver, survey, &spots, signal)
}

/// Both ends of the stroke, and between them the nodes of the path and all places where a jaw turns,
/// from open to shut.
#[must_use]
pub fn spots(survey: &Survey) -> Vec<Waypoint> {
    let (open, shut) = (survey.open, survey.shut);
    let forth = open.before(shut);
    let (low, high) = if forth { (open, shut) } else { (shut, open) };
    let nodes = (low.node + 1..=high.node).map(|node| Waypoint { node, ahead: 0.0 });
    let turns = survey.events.iter().map(|event| event.spot);
    let mut spots: Vec<Waypoint> = (nodes.chain(turns))
        .filter(|spot| low.before(*spot) && spot.before(high))
        .chain([low, high])
        .collect();
    spots.sort_by(|a, b| (a.node.cmp(&b.node)).then(a.ahead.total_cmp(&b.ahead)));
    if !forth {
        spots.reverse();
    }
    spots
}

/// Way along the path from open.
fn from_open(survey: &Survey, spot: Waypoint) -> f64 {
    let place = |s: Waypoint| survey.lengths.get(s.node).copied().unwrap_or(0.0) + s.ahead;
    (place(spot) - place(survey.open)).abs()
}

/// Where a gap goes from above zero to below it first.
fn crossing(
    solver: &mut Solver,
    survey: &Survey,
    spots: &[Waypoint],
    signal: Signal,
) -> Option<Waypoint> {
    let near = MEETS * solver.linkage.size;
    let mut open = None;
    for &spot in spots {
        let Some(tangent) = survey.path.stand(solver, spot) else {
            continue;
        };
        let gap = signal.read(solver, &tangent);
        if gap > near {
            open = Some(spot);
        } else if let (Some(before), true) = (open, gap < -near) {
            return zero(solver, survey, signal, before, spot);
        }
    }
    None
}

/// The place between two, above and below zero, at which a gap is zero.
fn zero(
    solver: &mut Solver,
    survey: &Survey,
    signal: Signal,
    from: Waypoint,
    to: Waypoint,
) -> Option<Waypoint> {
    let (low, high) = if from.before(to) {
        (from, to)
    } else {
        (to, from)
    };
    let path = &survey.path;
    let mut cuts = vec![low];
    cuts.extend((low.node + 1..=high.node).map(|node| Waypoint { node, ahead: 0.0 }));
    cuts.push(high);
    cuts.windows(2).find_map(|pair| {
        let [a, b] = pair else { return None };
        let end = if a.node == b.node {
            b.ahead
        } else {
            path.reach(a.node)
        };
        path.root_between(solver, signal, 0.0, a.node, [a.ahead, end])
    })
}

/// Where the two points of a jaw without a stated axis come together and part again: its gap is never
/// below zero.
fn touching(survey: &Survey, jaw: JawId) -> Option<Waypoint> {
    let whole = from_open(survey, survey.shut);
    let on_stroke = |spot: Waypoint| {
        let between = survey.open.before(spot) != survey.shut.before(spot);
        let way = from_open(survey, spot);
        between && way > AT_END && way < whole - AT_END
    };
    let events = survey.events.iter();
    events
        .filter(|event| event.what == Happening::Contact(jaw) && event.gap.abs() < AT_END)
        .map(|event| event.spot)
        .filter(|spot| on_stroke(*spot))
        .min_by(|a, b| from_open(survey, *a).total_cmp(&from_open(survey, *b)))
}
