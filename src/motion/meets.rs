//! Where the dies of a jaw meet before the stroke is at its end.

use super::events::Happening;
use super::path::Waypoint;
use super::signal::Signal;
use super::solver::Solver;
use super::targets::Survey;
use crate::model::JawId;

/// The dies of a jaw meet within the stroke: its gap comes to zero, and the stroke is to go on. Steel
/// does not, so the forces end here.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meeting {
    /// Index of the jaw.
    pub jaw: JawId,
    /// Where on the path.
    pub spot: Waypoint,
}

/// A gap below this (over the tool's size) is below zero, above it above: a stroke that is asked to
/// end where the dies meet does not go beyond that.
const MEETS: f64 = 1e-9;
/// Length of the path (in its own unit) within which a place is an end of the stroke.
const AT_END: f64 = 1e-7;

/// The first place from open at which the dies of any jaw meet with some of the stroke still to come;
/// a jaw whose gap is below zero from open on has no dies that could meet.
#[must_use]
pub fn first_meeting(solver: &mut Solver, survey: &Survey) -> Option<Meeting> {
    let spots = spots(survey);
    let jaws = JawId::ids(solver.linkage.jaws.len());
    let found = jaws.filter_map(|jaw| {
        let crossed = crossing(solver, survey, &spots, jaw);
        let touched = touching(survey, jaw);
        let spot = [crossed, touched].into_iter().flatten();
        let spot = spot.min_by(|a, b| from_open(survey, *a).total_cmp(&from_open(survey, *b)))?;
        Some(Meeting { jaw, spot })
    });
    let found: Vec<Meeting> = found.collect();
    let way = |meeting: &Meeting| from_open(survey, meeting.spot);
    let first = found.iter().map(way).fold(f64::INFINITY, f64::min);
    // Of dies that meet together, those of the jaw in view.
    let mut together = found.into_iter().filter(|m| way(m) <= first + AT_END);
    together.next()
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

/// Where the gap of a jaw goes from above zero to below it first.
fn crossing(
    solver: &mut Solver,
    survey: &Survey,
    spots: &[Waypoint],
    jaw: JawId,
) -> Option<Waypoint> {
    let near = MEETS * solver.linkage.size;
    let mut open = None;
    for &spot in spots {
        let Some(tangent) = survey.path.stand(solver, spot) else {
            continue;
        };
        let gap = Signal::Gap(jaw).read(solver, &tangent);
        if gap > near {
            open = Some(spot);
        } else if let (Some(before), true) = (open, gap < -near) {
            return zero(solver, survey, jaw, before, spot);
        }
    }
    None
}

/// The place between two, above and below zero, at which the gap of a jaw is zero.
fn zero(
    solver: &mut Solver,
    survey: &Survey,
    jaw: JawId,
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
        path.root_between(solver, Signal::Gap(jaw), 0.0, a.node, [a.ahead, end])
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
