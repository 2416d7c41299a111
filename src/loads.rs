//! Free-body sheets at single positions, and strength over the whole stroke.

use crate::analysis::{BALANCE, BOTH_ROUTES, CLOSURE, Failure, agree, worse};
use crate::give::{Give, NoPress, Press, give, press};
use crate::limits::limit_at;
use crate::model::{At, Tool};
use crate::motion::MotionError;
use crate::statics::{
    Answer, Answers, Links, LocateError, Rig, Sheet, indeterminate_joints, locate, work_turns,
};
use crate::strength::{Case, Checks, LoadCase, Note, Position, Strength, Subject, hand_forces};
use std::collections::BTreeSet;

/// Most intervals of the stroke at whose ends the factors are looked for at first: they change
/// little from one position to the next, and both ends of the stroke are always among them.
const MOST_INTERVALS: usize = 60;

/// The factors of the rig's tool: along the stroke and at these `grips` (indices), under the larger of the hand's
/// limit there (or the tool's hand force, where it has no limit) and what the work needs there.
/// Looked at are the steps of the stroke and the peaks of the work between them. Where the stroke has
/// many steps, it is every so many of them, those at which the work or a limit has a peak, and then all
/// steps around the worst of each check.
///
/// What has no forces (toggles, locked positions) or forces that statics cannot tell (redundant
/// bars) is left out and said in the notes. The rig is left somewhere on the stroke.
///
/// # Errors
/// [`Failure`]: what the linkage cannot do, or forces that do not balance.
pub fn strength(rig: &mut Rig, grips: &[usize]) -> Result<Strength, Failure> {
    let unknown = indeterminate_joints(rig.solver());
    let mut search = Search {
        checks: Checks::new(rig.tool()),
        rig,
        grips,
        seen: BTreeSet::new(),
        looked: Vec::new(),
        toggles: 0,
        refused: 0,
        closure: 0.0,
        worst: 0.0,
    };
    let found = search.all();
    search.rig.ask_for_all();
    found?;
    let Search {
        rig,
        checks,
        looked,
        toggles,
        refused,
        closure,
        worst,
        ..
    } = search;
    let forces = rig.forces();
    agree(&[
        (CLOSURE, closure),
        (BOTH_ROUTES, forces.virtual_work),
        (BALANCE, worse(worst, forces.free_body)),
    ])?;
    let mut strength = checks.finish();
    strength.positions = looked;
    if toggles + refused > 0 {
        strength.notes.push(Note::NoForces { toggles, refused });
    }
    leave_out(rig.tool(), &unknown, &mut strength);
    Ok(strength)
}

/// The search for the worst of every check.
struct Search<'r, 'a> {
    rig: &'r mut Rig<'a>,
    grips: &'r [usize],
    checks: Checks<'a>,
    /// Steps that have been looked at.
    seen: BTreeSet<usize>,
    /// All positions that have been looked at.
    looked: Vec<Position>,
    toggles: usize,
    refused: usize,
    /// Greatest residual of the loops, and of a sheet.
    closure: f64,
    worst: f64,
}

impl Search<'_, '_> {
    fn all(&mut self) -> Result<(), MotionError> {
        let tool = self.rig.tool();
        let (steps, whole) = (tool.stroke.steps, self.rig.pace());
        let stride = steps.div_ceil(MOST_INTERVALS).max(1);
        for step in (0..steps).step_by(stride).chain([steps]) {
            self.look_at_step(step)?;
        }
        for pace in work_turns(self.rig, 1.0)? {
            self.rig.go_to(pace)?;
            self.look(pace);
        }
        if stride == 1 {
            return Ok(());
        }
        for step in self.peaks(steps)? {
            self.look_at_step(step)?;
        }
        let worst = self.checks.worst_positions();
        let worst: Vec<Position> = (worst.into_iter())
            .filter_map(|index| self.looked.get(index).copied())
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
        let position = self.looked.len();
        let Self { rig, checks, .. } = self;
        let tool = rig.tool();
        self.looked.push(Position {
            pace,
            handle: rig.stance().handle,
            gap: rig.forces().gap[0],
        });
        self.closure = worse(self.closure, rig.solver().closure());
        if rig.forces().toggle.first() == Some(&true) {
            self.toggles += 1;
            return;
        }
        rig.ask_for(None, Answers::HandForce);
        rig.solve();
        for &grip in self.grips {
            let needed = match rig.forces().needed.get(grip) {
                Some(Answer::Moves { force, .. }) if rig.work().is_some() => Some(*force),
                _ => None,
            };
            let larger =
                hand_forces(tool, rig.span(grip), needed).max_by(|a, b| a.1.total_cmp(&b.1));
            let Some((load, hand_force)) = larger else {
                continue;
            };
            let Some((sheet, _)) = rig.sheet(grip, hand_force) else {
                self.refused += 1;
                continue;
            };
            let size = rig.solver().linkage.size;
            self.worst = worse(self.worst, residual(tool, &sheet, size));
            checks.add(&Case {
                position,
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
    let told = |joint: usize| unknown.get(joint) != Some(&true);
    let pins: Vec<usize> = (0..tool.joints.len()).filter(|&j| !told(j)).collect();
    if pins.is_empty() {
        return;
    }
    let loaded = |part: usize| {
        let on = |&j: &usize| tool.joints.get(j).is_some_and(|j| j.touches(part));
        pins.iter().any(on)
    };
    strength.factors.retain(|factor| match factor.subject {
        Subject::Pin(joint) => told(joint),
        Subject::Part(part) => !loaded(part),
    });
    let parts = (0..tool.parts.len()).filter(|&p| loaded(p)).collect();
    strength.notes.push(Note::Indeterminate(pins, parts));
}

/// All loads at one position, grip and hand force; mm, N, rad.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseLoads {
    /// Handle angle.
    pub handle: f64,
    /// Handle angle travelled since open (0 for a handle that slides).
    pub travel: f64,
    /// Gap of the first jaw.
    pub gap: f64,
    /// Grip along the hand line.
    pub grip: f64,
    /// Grip span.
    pub span: Option<f64>,
    /// Hand force.
    pub hand_force: f64,
    /// What set the hand force, if it is that of a strength factor; `None`: it was asked for.
    pub load: Option<LoadCase>,
    /// Force of the first jaw.
    pub jaw_force: f64,
    /// Every force on every part.
    pub sheet: Sheet,
    /// Axial force of every two-pin link (index of the part), tension positive.
    pub axial: Vec<(usize, f64)>,
    /// Joints whose force statics alone cannot tell (redundant bars): what the sheet says of them
    /// is one of many states of balance.
    pub indeterminate: Vec<bool>,
    /// Greatest sum of forces or moments left on a part (of a tool on a bench: a moving one), over the greatest force (and the
    /// tool's size).
    pub residual: f64,
    /// How far the jaws spread per unit of jaw force, and what that comes from; `None` where the
    /// hand cannot hold the jaw, or with redundant bars.
    pub give: Option<Give>,
    /// A rigid workpiece pressed with this hand force at this grip, if the file has one.
    pub press: Option<Result<Press, NoPress>>,
}

/// Where a load case is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Where {
    /// At a position that the stroke passes.
    At(At),
    /// At position `k` of the stroke's steps, up to where the stroke ends for the forces.
    Step(usize),
    /// At a pace from open, see [`Rig::go_to`].
    Pace(f64),
}

/// Why there are no loads.
#[derive(Debug, Clone, PartialEq)]
pub enum LoadsError {
    /// The linkage cannot do it.
    Failure(Failure),
    /// The position is not on the stroke.
    Locate(LocateError),
    /// The first jaw stands still there, or friction locks, or springs hold the hand.
    NoForces,
    /// The dies of a jaw meet before it.
    DiesMet,
}

impl From<MotionError> for LoadsError {
    fn from(error: MotionError) -> Self {
        Self::Failure(error.into())
    }
}

/// The loads for a hand force (N) at a grip (index), with their own check. The rig is left somewhere
/// on the stroke.
///
/// # Errors
/// [`LoadsError`].
pub fn case_loads(
    rig: &mut Rig,
    place: Where,
    grip: usize,
    hand_force: f64,
) -> Result<CaseLoads, LoadsError> {
    let tool = rig.tool();
    let Some(&held_at) = tool.hand.grips.get(grip) else {
        return Err(LoadsError::NoForces);
    };
    let indeterminate = indeterminate_joints(rig.solver());
    match place {
        Where::Step(k) => rig.go_to_step(k, tool.stroke.steps)?,
        Where::Pace(pace) => rig.go_to(pace)?,
        Where::At(at) => {
            let pace = locate(rig, at, grip).map_err(LoadsError::Locate)?;
            rig.go_to(pace)?;
        }
    }
    if rig.ended() {
        return Err(LoadsError::DiesMet);
    }
    let (sheet, jaw_force) = rig.sheet(grip, hand_force).ok_or(LoadsError::NoForces)?;
    let residual = residual(tool, &sheet, rig.solver().linkage.size);
    agree(&[
        (CLOSURE, rig.solver().closure()),
        (BOTH_ROUTES, rig.forces().virtual_work),
        (BALANCE, residual),
    ])
    .map_err(LoadsError::Failure)?;
    let (pins, points) = (pins(tool, &sheet), rig.points());
    let (handle, travel, gap, span) = (
        rig.stance().handle,
        rig.stance().travel,
        rig.forces().gap[0],
        rig.span(grip),
    );
    let give = give(rig, grip).ok();
    // Pressing goes its own way along the stroke, so it comes last.
    let rigid = tool.work.as_ref().and_then(|w| w.rigid);
    let press = rigid.map(|thickness| press(rig, grip, hand_force, thickness));
    let links = Links::of(tool);
    let axial = links.parts().zip(links.axial(&pins, &points));
    Ok(CaseLoads {
        handle,
        travel,
        gap,
        grip: held_at,
        span,
        hand_force,
        load: None,
        jaw_force,
        axial: axial
            .filter_map(|(part, force)| Some((part, force?)))
            .filter(|(part, _)| {
                let on =
                    |(j, _): (usize, &bool)| tool.joints.get(j).is_some_and(|j| j.touches(*part));
                !indeterminate
                    .iter()
                    .enumerate()
                    .filter(|(_, u)| **u)
                    .any(on)
            })
            .collect(),
        indeterminate,
        sheet,
        residual,
        give,
        press,
    })
}

fn residual(tool: &Tool, sheet: &Sheet, size: f64) -> f64 {
    let forces = || sheet.part_forces.iter().flatten();
    let greatest = forces().fold(0.0_f64, |m, f| worse(m, f.force[0].hypot(f.force[1])));
    let left = (0..tool.parts.len())
        // A bench holds the fixed part with what is not on its sheet.
        .filter(|&p| p != tool.fixed || tool.palm().is_some())
        .fold(0.0_f64, |worst, part| {
            let about = sheet.on(part).first().map_or([0.0; 2], |f| f.at);
            let ([x, y], moment) = sheet.sum(part, about);
            let left = [x.abs(), y.abs(), moment.abs() / size];
            left.into_iter().fold(worst, worse)
        });
    // Without any force there is nothing to balance; what is no number stays none.
    if greatest == 0.0 {
        0.0
    } else {
        left / greatest
    }
}

fn pins(tool: &Tool, sheet: &Sheet) -> Vec<Option<[f64; 2]>> {
    let on = |(j, joint): (usize, &crate::model::PinJoint)| {
        let found = sheet
            .on(joint.part)
            .iter()
            .find(|f| f.what == crate::statics::ForceKind::Joint(j));
        found.map(|f| f.force)
    };
    tool.joints.iter().enumerate().map(on).collect()
}

#[cfg(test)]
#[test]
fn a_sheet_that_holds_no_numbers_is_not_balanced() {
    use crate::model::{Hand, Jaw, Part, PointRef, Stroke, Target};
    let parts = ["base", "lever"].map(|name| Part::new(name, &[("heel", [0.0; 2])], &[]));
    let at = |part| PointRef { part, point: 0 };
    let jaw = Jaw {
        name: String::new(),
        on: at(1),
        against: at(0),
        axis: None,
        closed: 0.0,
    };
    let stroke = Stroke {
        open: Target::Gap(8.0),
        shut: Target::Gap(0.0),
        steps: 8,
    };
    let hand = Hand::new(1, &[[0.0, 0.0], [-120.0, 0.0]], &[120.0]);
    let tool = Tool::new("lever", parts.to_vec(), hand, jaw, stroke);
    let kind = crate::statics::ForceKind::Hand;
    let sheet = Sheet::new(2).with(1, kind, [0.0; 2], [f64::NAN, 1.0]);
    assert!(agree(&[(BALANCE, residual(&tool, &sheet, 1.0))]).is_err());
}
