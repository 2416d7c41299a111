//! Cams over the stroke: the pressure angle, where one lifts off, how much of a face is left, hollows.

use super::failure::Failure;
use crate::mechanism::JointFrame;
use crate::model::{CamFace, Follower, Joint, JointId, Tool};
use crate::numeric::Face;
use crate::statics::Rig;

/// A cam over the stroke. Lengths in mm, angles in rad.
#[derive(Debug, Clone, PartialEq)]
pub struct CamSeen {
    /// Index into [`Tool::cams`].
    pub index: usize,
    /// The greatest pressure angle at the positions of the stroke, and the gap of the first jaw there; `None`
    /// where the followed point stands still at all of them.
    pub pressure: Option<[f64; 2]>,
    /// Gaps of the first and the last position at which it lifts off at some grip.
    pub lifts: Option<[f64; 2]>,
    /// The least that is left of a curved face to the nearer of its ends.
    pub left: Option<f64>,
    /// Least radius of a hollow of the face, where it is narrower than the roller.
    pub hollow: Option<f64>,
}

/// A position of the stroke.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub(super) pace: f64,
    /// Gap of the first jaw, mm.
    pub(super) gap: f64,
    /// A cam lifts off at some grip.
    pub(super) lifts: bool,
}

/// All cams of the tool, over these positions of its stroke.
pub(super) fn cams_seen(rig: &mut Rig, positions: &[Place]) -> Result<Vec<CamSeen>, Failure> {
    let tool = rig.tool();
    let mut seen = Vec::new();
    for (k, joint) in tool.all_joints().enumerate() {
        if let Joint::Cam(index, _) = joint {
            seen.push(see(rig, positions, JointId::new(k), index)?);
        }
    }
    Ok(seen)
}

fn see(
    rig: &mut Rig,
    positions: &[Place],
    joint: JointId,
    index: usize,
) -> Result<CamSeen, Failure> {
    let mut seen = CamSeen {
        index,
        pressure: None,
        lifts: None,
        left: None,
        hollow: hollow(rig.tool(), index),
    };
    for position in positions {
        let gap = position.gap;
        if position.lifts {
            seen.lifts = Some([seen.lifts.map_or(gap, |[first, _]| first), gap]);
        }
        let stand = rig.at(position.pace)?;
        let angle = stand.pressure_angle(joint);
        if let Some(angle) =
            angle.filter(|angle| seen.pressure.is_none_or(|[most, _]| *angle > most))
        {
            seen.pressure = Some([angle, gap]);
        }
        let solver = rig.solver();
        if let JointFrame::Cam(cam) = &solver.linkage.joints[joint]
            && let Some(left) = cam.face_left(&solver.pose)
        {
            seen.left = Some(seen.left.map_or(left, |least| least.min(left)));
        }
    }
    Ok(seen)
}

/// The least radius of a hollow that its roller does not fit into.
fn hollow(tool: &Tool, index: usize) -> Option<f64> {
    let cam = tool.cams.get(index)?;
    let (CamFace::Curve(points), Follower::Roller(roller)) = (&cam.face, cam.follower) else {
        return None;
    };
    let [deepest, _] = Face::through(points)?.bends();
    (deepest * 0.5 * roller.diameter < -1.0).then(|| -1.0 / deepest)
}
