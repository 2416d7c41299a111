//! The survey of a tool's motion: what happens on it, and the stroke found on it.

use super::assemble::assemble;
use super::candidate::Mark;
use super::choice::{choose, marks_of, same_pose, turns_off};
use super::error::{MotionError, Reach};
use super::events::{Event, Happening, events};
use super::hits::{Stop, hits};
use super::path::{Path, Waypoint};
use super::pushed_open::Spread;
use super::signal::Signal;
use super::solver::Solver;
use crate::mechanism::{Linkage, Pose, freedom, looseness};
use crate::model::{Fixed, FixedBy, JawId, Stroke};
use crate::numeric::angle::wrapped;
use std::sync::Arc;

/// The whole motion and the stroke found on it.
#[derive(Debug, Clone)]
pub struct Survey {
    /// The motion.
    pub path: Path,
    /// Arc length of every node from the assembled position.
    pub lengths: Vec<f64>,
    /// Handle angle at every node, rad.
    pub handles: Vec<f64>,
    /// All that happens, in order along the path.
    pub events: Vec<Event>,
    /// Open end of the stroke.
    pub open: Waypoint,
    /// Shut end of the stroke.
    pub shut: Waypoint,
    /// Handle angle and gap at open and shut.
    pub ends: [Mark; 2],
    /// Open and shut of other strokes that are as near to the drawn pose as the one taken.
    pub rivals: Vec<[Mark; 2]>,
    /// Other places where the open and shut targets are met: handle angle (rad) and gap (mm).
    pub others: Vec<(&'static str, f64, f64)>,
    /// Gap of the jaw in view over the whole motion, mm.
    pub gaps: Reach,
    /// Whole turns (rad) taken off handle angles, so that the open one is in (−π, π]. Taken off
    /// the events' angles, not off `handles`.
    pub turns_off: f64,
}

/// Assembles the linkage, follows its motion both ways and finds the stroke.
///
/// # Errors
/// What keeps the linkage from it, see [`MotionError`].
pub fn survey(linkage: &Arc<Linkage>, stroke: &Stroke) -> Result<Survey, MotionError> {
    let mut solver = Solver::new(Arc::clone(linkage));
    let pose = assemble(linkage).map_err(|open| MotionError::Open {
        joint: open.joint,
        distance: open.distance,
    })?;
    let freedom = freedom(linkage, &pose);
    match freedom.degrees {
        0 => return Err(MotionError::Rigid),
        1 => {}
        degrees => {
            if movable_nearby(linkage, &pose.q) {
                return Err(MotionError::ChangeAtSketch);
            }
            let parts = looseness(linkage, &pose).bodies;
            return Err(MotionError::Loose { degrees, parts });
        }
    }
    let path = Path::trace(&mut solver, &pose.q, freedom);
    let lengths = lengths(&path);
    let jaws = linkage.jaws.len();
    let mut signals: Vec<Signal> = JawId::ids(jaws).map(Signal::GapRate).collect();
    signals.extend([Signal::HandleRate, Signal::Gap(JawId::FIRST)]);
    let columns = path.read(&mut solver, &signals);
    let still = |column: &[Option<f64>], scale: f64| {
        column.iter().flatten().all(|v| v.abs() < 1e-9 * scale)
    };
    for jaw in JawId::ids(jaws) {
        if still(&columns[jaw.index()], linkage.size) {
            return Err(MotionError::StillJaw(jaw));
        }
    }
    let turns = !still(&columns[jaws], 1.0);
    let handles: Vec<f64> = path.nodes.iter().map(|n| linkage.handle(&n.q)).collect();
    let mut events = events(
        &path,
        &mut solver,
        &columns[..jaws],
        turns.then_some(&columns[jaws]),
    );
    let reach = |column: &[Option<f64>], extremes: &[f64]| {
        let all = || column.iter().flatten().chain(extremes);
        Reach {
            low: all().fold(f64::INFINITY, |a, &b| a.min(b)),
            high: all().fold(f64::NEG_INFINITY, |a, &b| a.max(b)),
        }
    };
    let mut stops = Vec::new();
    for (end, target) in [("open", stroke.open), ("shut", stroke.shut)] {
        let fixed = target.fixed();
        let signal = Signal::of(linkage, target);
        let found = hits(&path, &mut solver, &lengths, signal, fixed.value);
        if found.stops.is_empty() && found.lost {
            return Err(MotionError::Unsettled { end });
        }
        if found.stops.is_empty() {
            return Err(MotionError::Unreachable {
                end,
                fixed,
                reach: reach(&found.values, &found.extremes),
                passing: passing(linkage, fixed, &found.extremes),
                cut_short: path.cut_short(),
            });
        }
        stops.push(found.stops);
    }
    let gap_column = &columns[jaws + 1];
    let turning: Vec<f64> = events
        .iter()
        .filter(|e| {
            matches!(
                e.what,
                Happening::Toggle(JawId::FIRST) | Happening::Contact(JawId::FIRST)
            )
        })
        .map(|e| e.gap)
        .collect();
    let gaps = reach(gap_column, &turning);
    let choice = choose(&stops[0], &stops[1], &events, &lengths, linkage.lead)
        .map_err(|error| with_spread(error, &mut solver, &stops[1]))?;
    let turns_off = turns_off(choice.open.handle);
    let mut known = vec![choice.open, choice.shut];
    let mut others = Vec::new();
    for (end, stops) in [("open", &stops[0]), ("shut", &stops[1])] {
        for stop in stops {
            if !known.iter().any(|k| same_pose(&k.q, &stop.q)) {
                known.push(stop);
                others.push((end, wrapped(stop.handle), stop.gap));
            }
        }
    }
    for event in &mut events {
        event.handle -= turns_off;
    }
    Ok(Survey {
        open: choice.open.spot,
        shut: choice.shut.spot,
        rivals: choice
            .rivals
            .iter()
            .map(|[open, shut]| marks_of(open, shut))
            .collect(),
        ends: marks_of(choice.open, choice.shut),
        path,
        lengths,
        handles,
        events,
        others,
        gaps,
        turns_off,
    })
}

/// Direction from `on` to `against` of the jaw that closes on the stroke, in the axes of `against`'s part, rad; `None` where
/// one stands on the other.
#[must_use]
pub fn outwards(linkage: &Linkage, pose: &Pose) -> Option<f64> {
    let jaw = linkage.jaws.get(linkage.lead.index())?;
    let axis = linkage.jaw_axis(pose, jaw)?;
    let against = pose.frames.get(jaw.against.body.index())?;
    Some((-against.own_direction(axis)).angle())
}

/// The same error; where the jaw opens from open to shut, with how it is turned round.
fn with_spread(error: MotionError, solver: &mut Solver, shut: &[Stop]) -> MotionError {
    let MotionError::Opens {
        candidates, more, ..
    } = error
    else {
        return error;
    };
    let meant = candidates.first().copied();
    let stop = meant.and_then(|meant| shut.iter().find(|stop| stop.lead_gap == meant.shut.gap));
    let linkage = Arc::clone(&solver.linkage);
    let spread = meant.zip(stop).zip(linkage.jaws.get(linkage.lead.index()));
    MotionError::Opens {
        spread: spread.map(|((meant, stop), jaw)| {
            solver.pose.set(&linkage, &stop.q);
            Spread {
                outwards: outwards(&linkage, &solver.pose),
                apart: meant.shut.gap + jaw.closed,
                way: meant.shut.gap - meant.open.gap,
            }
        }),
        candidates,
        more,
    }
}

/// Whether a linkage that has more than one freedom at `q` loses them when it is put together a
/// little way off: then it stands at a change point.
fn movable_nearby(linkage: &Linkage, q: &[f64]) -> bool {
    let mut near = linkage.clone();
    near.sketch = q
        .iter()
        .enumerate()
        .map(|(k, v)| v + 0.02 * (1.0 + k as f64).sin())
        .collect();
    assemble(&near).is_ok_and(|pose| freedom(&near, &pose).degrees <= 1)
}

/// Arc length of every node, from the assembled position.
fn lengths(path: &Path) -> Vec<f64> {
    let mut sums = vec![0.0];
    for k in 1..path.nodes.len() {
        sums.push(sums[k - 1] + path.reach(k - 1));
    }
    let zero = sums.get(path.start).copied().unwrap_or(0.0);
    sums.iter().map(|s| s - zero).collect()
}

/// How near the points of a jaw without a stated axis come, if that is why its gap misses a
/// target.
fn passing(linkage: &Linkage, fixed: Fixed, extremes: &[f64]) -> Option<f64> {
    let FixedBy::Gap(jaw) = fixed.by else {
        return None;
    };
    let jaw = linkage.jaws.get(jaw.index())?;
    let least = extremes.iter().fold(f64::INFINITY, |a, &b| a.min(b)) + jaw.closed;
    let near = jaw.axis.is_none() && fixed.value + jaw.closed < least;
    (near && least < 0.05 * linkage.size).then_some(least)
}
