//! Free-body sheets at single positions, and strength over the whole stroke.

use crate::analysis::{Direction, Failure};
use crate::give::{Give, NoPress, Press, give, press};
use crate::model::{At, Tool};
use crate::statics::{
    Answer, Answers, Links, LocateError, Mounted, Rig, Sheet, indeterminate_joints, locate,
};
use crate::strength::{Case, Checks, LoadCase, Note, Strength, Subject, hand_forces};

/// Most intervals of the stroke at whose ends the factors are looked for: they change little from
/// one position to the next, and both ends of the stroke are always among them.
const MOST_INTERVALS: usize = 36;

/// Residuals above this are errors: the balance of each part, the two routes to the jaw force.
const ALLOWED: f64 = 1e-9;

/// The factors of a tool: along the stroke and at every grip, under the larger of the hand's limit
/// there (or the tool's hand force, where it has no limit) and what the work needs there.
/// What has no forces (toggles, locked positions) or forces that statics cannot tell (redundant
/// bars) is left out and said in the notes.
///
/// # Errors
/// [`Failure`]: what the linkage cannot do, or forces that do not balance.
pub fn strength(tool: &Tool, direction: Direction) -> Result<Strength, Failure> {
    let mounted = Mounted::new(tool)?;
    let mut rig = Rig::new(tool, &mounted, direction == Direction::Opening)?;
    let unknown = indeterminate_joints(rig.solver());
    let mut checks = Checks::new(tool);
    let (mut toggles, mut refused) = (0, 0);
    let mut worst = 0.0_f64;
    let steps = tool.stroke.steps;
    let stride = steps.div_ceil(MOST_INTERVALS).max(1);
    let positions = (0..steps).step_by(stride).chain(std::iter::once(steps));
    for position in positions {
        rig.go_to_step(position, steps)?;
        if rig.forces().toggle.first() == Some(&true) {
            toggles += 1;
            continue;
        }
        rig.ask_for(None, Answers::HandForce);
        rig.solve();
        for grip in 0..tool.hand.grips.len() {
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
                refused += 1;
                continue;
            };
            worst = worst.max(residual(tool, &sheet, mounted.linkage.size));
            checks.add(&Case {
                position,
                grip,
                hand_force,
                load,
                sheet: &sheet,
            });
        }
    }
    let forces = rig.forces();
    balanced(worst.max(forces.free_body), forces.virtual_work)?;
    let mut strength = checks.finish();
    if toggles + refused > 0 {
        strength.notes.push(Note::NoForces { toggles, refused });
    }
    leave_out(tool, &unknown, &mut strength);
    Ok(strength)
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

/// Whether the forces agree with themselves.
fn balanced(free_body: f64, virtual_work: f64) -> Result<(), Failure> {
    for (what, found) in [
        ("the balance of a part", free_body),
        (
            "jaw force by free bodies against virtual work",
            virtual_work,
        ),
    ] {
        if !(found <= ALLOWED) {
            return Err(Failure::Check {
                what,
                found,
                allowed: ALLOWED,
            });
        }
    }
    Ok(())
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
    /// Greatest sum of forces or moments left on a moving part, over the greatest force (and the
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
    /// At position `k` of the stroke's steps.
    Step(usize),
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
}

/// The loads for a hand force (N) at a grip (index), with their own check.
///
/// # Errors
/// [`LoadsError`].
pub fn case_loads(
    tool: &Tool,
    direction: Direction,
    place: Where,
    grip: usize,
    hand_force: f64,
) -> Result<CaseLoads, LoadsError> {
    let failure = |e: Failure| LoadsError::Failure(e);
    let mounted = Mounted::new(tool).map_err(|e| failure(e.into()))?;
    let mut rig =
        Rig::new(tool, &mounted, direction == Direction::Opening).map_err(|e| failure(e.into()))?;
    let indeterminate = indeterminate_joints(rig.solver());
    match place {
        Where::Step(k) => rig
            .go_to_step(k, tool.stroke.steps)
            .map_err(|e| failure(e.into()))?,
        Where::At(at) => {
            let pace = locate(&mut rig, at, grip).map_err(LoadsError::Locate)?;
            rig.go_to(pace).map_err(|e| failure(e.into()))?;
        }
    }
    let (sheet, jaw_force) = rig.sheet(grip, hand_force).ok_or(LoadsError::NoForces)?;
    let residual = residual(tool, &sheet, mounted.linkage.size);
    balanced(residual, rig.forces().virtual_work).map_err(failure)?;
    let (pins, points) = (pins(tool, &sheet), places(tool, &rig));
    let (handle, travel, gap, span) = (
        rig.stance().handle,
        rig.stance().travel,
        rig.forces().gap.first().copied().unwrap_or(0.0),
        rig.span(grip),
    );
    let give = give(&mut rig, grip).ok();
    // Pressing goes its own way along the stroke, so it comes last.
    let rigid = tool.work.as_ref().and_then(|w| w.rigid);
    let press = rigid.map(|thickness| press(&mut rig, grip, hand_force, thickness));
    let links = Links::of(tool);
    let axial = links.parts().zip(links.axial(&pins, &points));
    Ok(CaseLoads {
        handle,
        travel,
        gap,
        grip: tool.hand.grips.get(grip).copied().unwrap_or(0.0),
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
    let greatest = forces().fold(0.0_f64, |m, f| m.max(f.force[0].hypot(f.force[1])));
    let left = (0..tool.parts.len())
        .filter(|&p| p != tool.fixed)
        .fold(0.0_f64, |worst, part| {
            let about = sheet.on(part).first().map_or([0.0; 2], |f| f.at);
            let ([x, y], moment) = sheet.sum(part, about);
            worst.max(x.abs()).max(y.abs()).max(moment.abs() / size)
        });
    if greatest > 0.0 { left / greatest } else { 0.0 }
}

fn pins(tool: &Tool, sheet: &Sheet) -> Vec<Option<[f64; 2]>> {
    let on = |(j, joint): (usize, &crate::model::PinJoint)| {
        let found = sheet
            .on(joint.part)
            .iter()
            .find(|f| f.what == crate::statics::ForceKind::Pin(j));
        found.map(|f| f.force)
    };
    tool.joints.iter().enumerate().map(on).collect()
}

fn places(tool: &Tool, rig: &Rig) -> Vec<Vec<[f64; 2]>> {
    let solver = rig.solver();
    let place = |(p, part): (usize, &crate::model::Part)| {
        let at = |point: &crate::model::Point| solver.pose.place(solver.linkage.spot(p, point.at));
        part.points.iter().map(at).collect()
    };
    tool.parts.iter().enumerate().map(place).collect()
}
