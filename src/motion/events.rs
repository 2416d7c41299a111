//! What happens along the whole motion: where a jaw or the handle stands still, and where the
//! linkage could move on in two ways.

use super::path::{Path, Waypoint};
use super::signal::{Signal, hand_velocity};
use super::solver::Solver;
use crate::geometry::Vec2;
use crate::model::JawId;
use std::sync::Arc;

/// Something that happens at a place of the motion.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Happening {
    /// This jaw stands still.
    Toggle(JawId),
    /// The two points of this jaw, which has no stated axis, meet.
    Contact(JawId),
    /// The handle stands still.
    Dead,
    /// The handle turns back while it moves on: its angle stands still, the handle does not.
    TurnsBack,
    /// The linkage can move on in two ways.
    ChangePoint,
}

/// Where something happens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Event {
    /// What.
    pub what: Happening,
    /// Where on the path.
    pub spot: Waypoint,
    /// Handle angle there, rad.
    pub handle: f64,
    /// Gap of the jaw concerned (otherwise the one in view), mm.
    pub gap: f64,
    /// Gap of the jaw that closes on the stroke, mm.
    pub lead_gap: f64,
}

impl Event {
    /// Whether no stroke on which `lead` closes may go through it: beyond it that jaw or the handle moves
    /// back, or the linkage need not follow.
    #[must_use]
    pub fn ends_strokes(&self, lead: JawId) -> bool {
        match self.what {
            Happening::Toggle(jaw) | Happening::Contact(jaw) => jaw == lead,
            Happening::Dead | Happening::ChangePoint => true,
            Happening::TurnsBack => false,
        }
    }
}

/// A handle slower than this (over the tool's size, along a unit tangent) stands still.
const STANDS: f64 = 1e-7;

/// All events of a motion, in order along it. `gap_rates` of the jaws and `handle_rate`, read at
/// its nodes; the latter is `None` for a handle that does not turn.
pub(super) fn events(
    path: &Path,
    solver: &mut Solver,
    gap_rates: &[Vec<Option<f64>>],
    handle_rate: Option<&[Option<f64>]>,
) -> Vec<Event> {
    let linkage = Arc::clone(&solver.linkage);
    let mut found = Vec::new();
    for (jaw, rates) in JawId::each(gap_rates) {
        for spot in path.zeros(solver, Signal::GapRate(jaw), rates) {
            path.stand_or_pass(solver, spot);
            let frame = &linkage.jaws[jaw];
            let touching = frame.axis.is_none() && linkage.jaw_axis(&solver.pose, frame).is_none();
            let what = if touching {
                Happening::Contact(jaw)
            } else {
                Happening::Toggle(jaw)
            };
            found.push(here(solver, what, spot, jaw));
        }
    }
    let (signal, rates) = match handle_rate {
        Some(rates) => (Signal::HandleRate, rates.to_vec()),
        None => sliding(path, solver),
    };
    for spot in path.zeros(solver, signal, &rates) {
        let tangent = path.stand_or_pass(solver, spot);
        let speed = hand_velocity(solver, &tangent).length();
        let what = if speed < STANDS * linkage.size {
            Happening::Dead
        } else {
            Happening::TurnsBack
        };
        if what == Happening::Dead || handle_rate.is_some() {
            found.push(here(solver, what, spot, JawId::FIRST));
        }
    }
    for spot in path.change_points(solver) {
        path.pass(solver, spot);
        found.push(here(solver, Happening::ChangePoint, spot, JawId::FIRST));
    }
    found.sort_by(|a, b| {
        a.spot
            .node
            .cmp(&b.spot.node)
            .then(a.spot.ahead.total_cmp(&b.spot.ahead))
    });
    found
}

/// The speed of a handle that slides, along the way that it takes where it is fastest, at every
/// node. Its zeros are dead positions where the handle stands still in all directions.
fn sliding(path: &Path, solver: &mut Solver) -> (Signal, Vec<Option<f64>>) {
    let mut fastest = Vec2::ZERO;
    for node in &path.nodes {
        solver.pose.set(&solver.linkage, &node.q);
        let velocity = hand_velocity(solver, &node.t);
        if velocity.length() > fastest.length() {
            fastest = velocity;
        }
    }
    let speed = fastest.length();
    if speed < STANDS * solver.linkage.size {
        return (Signal::HandRate(Vec2::ZERO), vec![None; path.nodes.len()]);
    }
    let signal = Signal::HandRate(fastest / speed);
    let values = path.read(solver, &[signal]).pop().unwrap_or_default();
    (signal, values)
}

fn here(solver: &Solver, what: Happening, spot: Waypoint, jaw: JawId) -> Event {
    let linkage = &solver.linkage;
    Event {
        what,
        spot,
        handle: linkage.handle(&solver.pose.q),
        gap: linkage.gap(&solver.pose, &linkage.jaws[jaw]),
        lead_gap: linkage.gap(&solver.pose, &linkage.jaws[linkage.lead]),
    }
}
