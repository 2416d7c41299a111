//! Strength over the whole stroke: the worst of every check.

use super::agree::{BALANCE, BOTH_ROUTES, CLOSURE, agree, residual, worse};
use super::failure::Failure;
use crate::limits::limit_at;
use crate::model::{GripId, JawId, JointId, PartId, Tool};
use crate::motion::MotionError;
use crate::statics::{Rig, indeterminate_joints, work_turns};
use crate::strength::{Case, Checks, Note, Position, Strength, Subject, heaviest};
use std::collections::BTreeSet;

/// Most intervals of the stroke at whose ends the factors are looked for at first: they change
/// little from one position to the next, and both ends of the stroke are always among them.
const MOST_INTERVALS: usize = 60;

/// The factors of a tool, set up once for each jaw that may carry the load, that jaw in view: along the
/// stroke and at these `grips` (indices), with the work in one jaw at a time, under the larger of the hand's
/// limit there (or the tool's hand force, where it has no limit) and what the work needs there.
/// Looked at are the steps of the stroke and the peaks of the work between them. Where the stroke has
/// many steps, it is every so many of them, those at which the work or a limit has a peak, and then all
/// steps around the worst of each check.
///
/// What has no forces (toggles, locked positions) or forces that statics cannot tell (redundant
/// bars) is left out and said in the notes. The rigs are left somewhere on the stroke.
///
/// # Errors
/// [`Failure`]: what the linkage cannot do, or forces that do not balance.
pub(super) fn strength(
    loaded: &mut [(JawId, &mut Rig)],
    grips: &[GripId],
) -> Result<Strength, Failure> {
    let Some((_, first)) = loaded.first() else {
        return Ok(Strength::default());
    };
    let (tool, unknown) = (first.tool(), indeterminate_joints(first.solver()));
    let mut found = Found {
        checks: Checks::new(tool),
        looked: Vec::new(),
        toggles: 0,
        refused: 0,
        closure: 0.0,
        worst: 0.0,
        both_routes: 0.0,
    };
    for (jaw, rig) in loaded {
        let mut search = Search {
            jaw: *jaw,
            rig,
            grips,
            seen: BTreeSet::new(),
            found: &mut found,
        };
        search.all()?;
        let forces = rig.forces();
        found.both_routes = worse(found.both_routes, forces.virtual_work);
        found.worst = worse(found.worst, forces.free_body);
    }
    let Found {
        checks,
        looked,
        toggles,
        refused,
        closure,
        worst,
        both_routes,
    } = found;
    agree(&[
        (CLOSURE, closure),
        (BOTH_ROUTES, both_routes),
        (BALANCE, worst),
    ])?;
    let mut strength = checks.finish();
    strength.positions = looked;
    if toggles + refused > 0 {
        strength.notes.push(Note::NoForces { toggles, refused });
    }
    leave_out(tool, &unknown, &mut strength);
    Ok(strength)
}

/// What has been found with the load at any jaw.
struct Found<'a> {
    checks: Checks<'a>,
    /// All positions that have been looked at.
    looked: Vec<Position>,
    toggles: usize,
    refused: usize,
    /// Greatest residual of the loops, and of a sheet.
    closure: f64,
    worst: f64,
    /// Greatest difference of the two routes to the jaw force.
    both_routes: f64,
}

/// The search for the worst of every check with the load at one jaw.
struct Search<'s, 'r, 'a> {
    jaw: JawId,
    rig: &'s mut Rig<'r>,
    grips: &'s [GripId],
    /// Steps that have been looked at.
    seen: BTreeSet<usize>,
    found: &'s mut Found<'a>,
}

impl Search<'_, '_, '_> {
    fn all(&mut self) -> Result<(), MotionError> {
        let tool = self.rig.tool();
        let (steps, whole) = (tool.stroke.steps, self.rig.pace());
        let stride = steps.div_ceil(MOST_INTERVALS).max(1);
        for step in (0..steps).step_by(stride).chain([steps]) {
            self.look_at_step(step)?;
        }
        let mut places = work_turns(self.rig, 1.0)?;
        places.extend(self.rig.jumps());
        for pace in places {
            self.rig.go_to(pace)?;
            self.look(pace);
        }
        if stride == 1 {
            return Ok(());
        }
        for step in self.peaks(steps)? {
            self.look_at_step(step)?;
        }
        let worst = self.found.checks.worst_positions(self.jaw);
        let worst: Vec<Position> = (worst.into_iter())
            .filter_map(|index| self.found.looked.get(index).copied())
            .collect();
        for Position { pace, .. } in worst {
            let nearest = (pace / whole * steps as f64).round() as usize;
            for step in nearest.saturating_sub(stride)..=(nearest + stride).min(steps) {
                self.look_at_step(step)?;
            }
        }
        Ok(())
    }

    /// The steps at which the work or a hand limit is greater than at those beside it: such a peak
    /// may be narrower than the steps that are looked at first.
    fn peaks(&mut self, steps: usize) -> Result<BTreeSet<usize>, MotionError> {
        let tool = self.rig.tool();
        let limit = tool.hand.limit.as_ref();
        // The work's curve, and that of the limit at each grip. Where there is no value there is no peak.
        let mut curves: Vec<Vec<f64>> = vec![Vec::with_capacity(steps + 1); self.grips.len() + 1];
        for step in 0..=steps {
            self.rig.go_to_step(step, steps)?;
            let rig = &self.rig;
            let limits = self
                .grips
                .iter()
                .map(|&grip| limit_at(limit?, rig.span(grip)));
            let here = std::iter::once(rig.work()).chain(limits);
            for (curve, value) in curves.iter_mut().zip(here) {
                curve.push(value.unwrap_or(f64::NAN));
            }
        }
        let tops = curves.iter().flat_map(|curve| {
            curve.windows(3).enumerate().filter_map(|(k, three)| {
                let [before, here, after] = three else {
                    return None;
                };
                (here >= before && here >= after && (here > before || here > after))
                    .then_some(k + 1)
            })
        });
        Ok(tops.collect())
    }

    /// Checks one step of the stroke, if that has not been done.
    fn look_at_step(&mut self, step: usize) -> Result<(), MotionError> {
        if self.seen.insert(step) {
            let steps = self.rig.tool().stroke.steps;
            self.rig.go_to_step(step, steps)?;
            self.look(self.rig.pace() * step as f64 / steps as f64);
        }
        Ok(())
    }

    /// Checks the position at which the rig stands, every grip.
    fn look(&mut self, pace: f64) {
        let Self { rig, found, .. } = self;
        let position = found.looked.len();
        let tool = rig.tool();
        found.looked.push(Position {
            pace,
            handle: rig.stance().handle,
            gap: rig.forces().gap[0],
        });
        found.closure = worse(found.closure, rig.solver().closure());
        if rig.forces().toggle.first() == Some(&true) {
            found.toggles += 1;
            return;
        }
        for &grip in self.grips {
            let mut stand = rig.here();
            let Some((load, hand_force)) = heaviest(&mut stand, grip) else {
                continue;
            };
            let Some((sheet, _)) = stand.sheet(grip, hand_force) else {
                found.refused += 1;
                continue;
            };
            let size = rig.solver().linkage.size;
            found.worst = worse(found.worst, residual(tool, &sheet, size));
            found.checks.add(&Case {
                position,
                jaw: self.jaw,
                grip,
                hand_force,
                load,
                sheet: &sheet,
            });
        }
    }
}

/// Takes out the factors of pins whose force statics cannot tell, and of the parts that they load.
fn leave_out(tool: &Tool, unknown: &[bool], strength: &mut Strength) {
    let is_known = |joint: JointId| unknown.get(joint.index()) != Some(&true);
    let pins: Vec<JointId> = JointId::ids(tool.joints.len())
        .filter(|&j| !is_known(j))
        .collect();
    if pins.is_empty() {
        return;
    }
    let loaded = |part: PartId| {
        let on = |&j: &JointId| tool.pin(j).is_some_and(|j| j.touches(part));
        pins.iter().any(on)
    };
    strength.factors.retain(|factor| match factor.subject {
        Subject::Pin(joint) | Subject::Contact(joint) => is_known(joint),
        Subject::Part(part) => !loaded(part),
    });
    let parts = PartId::ids(tool.parts.len())
        .filter(|&p| loaded(p))
        .collect();
    strength.notes.push(Note::Indeterminate(pins, parts));
}
