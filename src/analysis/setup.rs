//! What an adjuster does at the end of the stroke, setting by setting.

use super::{Analysis, Failure};
use crate::geometry::Vec2;
use crate::model::{Adjusts, Direction, GripId, JawId, JointId, Tool};
use crate::motion::MotionError;
use crate::statics::{Absent, Rig};

/// The tool with an adjuster at one setting.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// The setting, rad or mm.
    pub at: f64,
    /// What it comes to, or why it does not.
    pub end: Result<AtEnd, Failure>,
}

/// The end of the stroke, where dies or a stop meet or it is shut, held at the first grip; mm, rad, N.
#[derive(Debug, Clone, PartialEq)]
pub struct AtEnd {
    /// Gap of the first jaw.
    pub gap: f64,
    /// Handle angle.
    pub handle: f64,
    /// Jaw force per hand force.
    pub ratio: Result<f64, Absent>,
    /// Jaw force at the tool's hand force.
    pub jaw: Result<f64, Absent>,
    /// Hand force for the work.
    pub hand: Result<f64, Absent>,
    /// What would turn an eccentric pin at the tool's hand force; `None` for a dimension.
    pub turning: Option<Result<Turning, Absent>>,
}

/// What would turn an eccentric pin in its hole, N mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turning {
    /// Moment of the pin's load about the centre of the hole, counter-clockwise positive.
    pub torque: f64,
    /// What friction holds at the pin's own radius, which is less than at the shank that turns in the hole:
    /// coefficient x load x radius. `None` where the pin has no friction.
    pub friction: Option<f64>,
}

/// Every setting of an adjuster (its place in the list), from its least to its greatest.
#[must_use]
pub fn settings(tool: &Tool, adjuster: usize) -> Vec<Setting> {
    let all = tool.adjusters.get(adjuster);
    let all = all.map_or(Vec::new(), |adjuster| adjuster.settings());
    let set = |at: f64| {
        let mut tool = tool.clone();
        tool.adjust(adjuster, at);
        Setting {
            at,
            end: at_end(&tool, adjuster),
        }
    };
    all.into_iter().map(set).collect()
}

/// The end of the stroke of the tool as it is set.
///
/// # Errors
/// [`Failure`]: it cannot be set up.
pub fn at_end(tool: &Tool, adjuster: usize) -> Result<AtEnd, Failure> {
    let analysis = Analysis::of(tool.clone());
    let mut rig = analysis.rig(Direction::Closing)?;
    rig.go_to(rig.pace())?;
    let (jaw, grip, force) = (JawId::FIRST, GripId::FIRST, tool.hand.force);
    let turning = turning(&mut rig, adjuster)?;
    let mut here = rig.here();
    Ok(AtEnd {
        gap: here.gap(jaw).unwrap_or(f64::NAN),
        handle: here.handle(),
        ratio: here.ratio(grip, jaw),
        jaw: here.jaw_force(grip, jaw, force),
        hand: here.hand_force(grip),
        turning,
    })
}

/// Load of an eccentric pin times the arm at which it passes the centre of the hole. The force on the pin is
/// the opposite of that on the other parts where its own part carries it, else that on its own part.
fn turning(rig: &mut Rig, adjuster: usize) -> Result<Option<Result<Turning, Absent>>, MotionError> {
    let tool = rig.tool();
    let Some(this) = tool.adjusters.get(adjuster) else {
        return Ok(None);
    };
    let Adjusts::Eccentric { pin, throw } = this.moves else {
        return Ok(None);
    };
    let name = tool
        .part(pin.part)
        .and_then(|part| part.points.get(pin.point));
    let name = name.map_or("", |point| point.name.as_str());
    let joints: Vec<(JointId, f64)> = JointId::each(&tool.joints)
        .filter(|(_, joint)| joint.pin == name && joint.touches(pin.part))
        .map(|(id, joint)| (id, if joint.carrier == pin.part { -1.0 } else { 1.0 }))
        .collect();
    // The least that any of its joints holds.
    let holds = |joint: &JointId| {
        let data = tool.joint_data.get(joint.index())?;
        (data.friction > 0.0).then_some(0.5 * data.friction * data.diameter?)
    };
    let held = joints.iter().map(|(joint, _)| holds(joint));
    let held = held.reduce(|a, b| Some(a?.min(b?))).flatten();
    let frame = rig.solver().pose.frames.get(pin.part.index());
    let Some(arm) = frame.map(|frame| frame.direction(Vec2::unit(this.now)) * throw) else {
        return Ok(None);
    };
    let mut here = rig.here();
    let mut sum = Vec2::ZERO;
    for (joint, sense) in joints {
        match here.pin(joint, GripId::FIRST, tool.hand.force) {
            Ok(force) => sum += force * sense,
            Err(why) => return Ok(Some(Err(why))),
        }
    }
    Ok(Some(Ok(Turning {
        torque: arm.cross(sum),
        friction: held.map(|arm| arm * sum.length()),
    })))
}
