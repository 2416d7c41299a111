//! All loads at one position: the free-body sheets.

use super::agree::{BALANCE, BOTH_ROUTES, CLOSURE, agree, residual};
use super::failure::Failure;
use crate::geometry::Vec2;
use crate::give::{Give, NoPress, Press, give, press};
use crate::model::{At, GripId, JawId, JointId, PartId, PinJoint, StopId, Tool};
use crate::motion::MotionError;
use crate::statics::{
    Absent, ForceKind, Links, LocateError, Rig, Sheet, indeterminate_joints, locate,
};
use crate::strength::LoadCase;

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
    /// Axial force of every two-pin link, tension positive.
    pub axial: Vec<(PartId, f64)>,
    /// Joints whose force statics alone cannot tell (redundant bars): what the sheet says of them
    /// is one of many states of balance.
    pub indeterminate: Vec<bool>,
    /// Greatest sum of forces or moments left on a part (of a tool on a bench: a moving one), over the greatest force (and the
    /// tool's size).
    pub residual: f64,
    /// How far the jaws spread per unit of jaw force, and what that comes from; `None` where the
    /// hand cannot hold the jaw, or with redundant bars.
    pub give: Option<Give>,
    /// The jaw that carries the work, in whose gap and force the case is told.
    pub jaw: JawId,
    /// A rigid workpiece pressed with this hand force at this grip, if the file has one.
    pub press: Option<Result<Press, NoPress>>,
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
    /// The dies of a jaw or a stop meet before it.
    DiesMet,
    /// The stop that was asked for carries nothing.
    Stop(Absent),
}

impl From<MotionError> for LoadsError {
    fn from(error: MotionError) -> Self {
        Self::Failure(error.into())
    }
}

/// [`case_loads`] at a position that the stroke passes.
///
/// # Errors
/// [`LoadsError`].
pub fn loads_at(
    rig: &mut Rig,
    at: At,
    grip: GripId,
    hand_force: f64,
) -> Result<CaseLoads, LoadsError> {
    let pace = locate(rig, at, grip).map_err(LoadsError::Locate)?;
    if let At::Stop(stop) = at {
        return at_stop(rig, (pace, stop), grip, hand_force);
    }
    case_loads(rig, pace, grip, hand_force)
}

/// The loads where a stop is met at its end of the stroke: the first jaw takes what its work needs, the stop the
/// rest.
fn at_stop(
    rig: &mut Rig,
    (pace, stop): (f64, StopId),
    grip: GripId,
    hand_force: f64,
) -> Result<CaseLoads, LoadsError> {
    rig.go_to(pace)?;
    if rig.ended() {
        return Err(LoadsError::DiesMet);
    }
    let jaw_force = rig.work().unwrap_or(0.0);
    let on = rig.on_stop(stop, (grip, hand_force), jaw_force)?;
    let on = on.map_err(LoadsError::Stop)?;
    agree(&[(BOTH_ROUTES, on.virtual_work), (BALANCE, on.free_body)])
        .map_err(LoadsError::Failure)?;
    rig.go_to(pace)?;
    case_of(rig, (grip, hand_force), on.sheet, jaw_force)
}

/// The loads at a pace (see [`Rig::go_to`]) for a hand force (N) at a grip (index), with their own check.
/// The rig is left somewhere on the stroke.
///
/// # Errors
/// [`LoadsError`].
pub fn case_loads(
    rig: &mut Rig,
    pace: f64,
    grip: GripId,
    hand_force: f64,
) -> Result<CaseLoads, LoadsError> {
    rig.go_to(pace)?;
    if rig.ended() {
        return Err(LoadsError::DiesMet);
    }
    let (sheet, jaw_force) = rig.sheet(grip, hand_force).ok_or(LoadsError::NoForces)?;
    case_of(rig, (grip, hand_force), sheet, jaw_force)
}

/// A sheet found where the rig stands, with its own check and what goes with it.
fn case_of(
    rig: &mut Rig,
    (grip, hand_force): (GripId, f64),
    sheet: Sheet,
    jaw_force: f64,
) -> Result<CaseLoads, LoadsError> {
    let tool = rig.tool();
    let Some(held_at) = tool.grip(grip) else {
        return Err(LoadsError::NoForces);
    };
    let indeterminate = indeterminate_joints(rig.solver());
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
    let rigid = tool.work().and_then(|w| w.rigid);
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
                let on = |(j, _): (JointId, &bool)| tool.pin(j).is_some_and(|j| j.touches(*part));
                !JointId::each(&indeterminate).filter(|(_, u)| **u).any(on)
            })
            .collect(),
        indeterminate,
        sheet,
        residual,
        give,
        jaw: JawId::FIRST,
        press,
    })
}

fn pins(tool: &Tool, sheet: &Sheet) -> Vec<Option<Vec2>> {
    let on = |(j, joint): (JointId, &PinJoint)| {
        let found = sheet
            .on(joint.part)
            .iter()
            .find(|f| f.what == ForceKind::Joint(j));
        found.map(|f| f.force)
    };
    JointId::each(&tool.joints).map(on).collect()
}
