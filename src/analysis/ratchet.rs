//! What a ratchet does on the stroke: tooth by tooth, and where it lets go.

use super::failure::Failure;
use crate::measure::{NoTeeth, Tooth, teeth};
use crate::model::{GripId, JawId, Ratchet};
use crate::motion::MotionError;
use crate::statics::{Absent, Rig};

/// A ratchet on the stroke. Lengths in mm, angles in rad, forces in N, moments in N mm.
#[derive(Debug, Clone, PartialEq)]
pub struct RatchetSeen {
    /// The teeth from the first to the last, after which the pawl is free.
    pub teeth: Vec<ToothSeen>,
    /// Angle of the part with the teeth from there to the end of the stroke.
    pub left: f64,
    /// Gap of the first jaw at the end of the stroke.
    pub shut: f64,
    /// The flank pulls the pawl in against friction.
    pub engages_itself: bool,
    /// Mean moment of the pawl on the part with the teeth as it goes over them: what lifts its spring, and
    /// friction. `None` without the height of the teeth.
    pub drag: Option<f64>,
    /// Bending and shear stress at the root of a tooth under the greatest load of the pawl, MPa. `None` without
    /// the height and width of the teeth.
    pub tooth: Option<[f64; 2]>,
}

/// Angles nearer than this are one, rad.
const SAME: f64 = 1e-8;

impl RatchetSeen {
    /// Whether the teeth turn on far enough for the pawl to turn over, and so let the tool open again.
    #[must_use]
    pub fn turns_over(&self, ratchet: &Ratchet) -> bool {
        self.left + SAME >= ratchet.over_travel
    }
}

/// A tooth.
#[derive(Debug, Clone, PartialEq)]
pub struct ToothSeen {
    /// Where.
    pub tooth: Tooth,
    /// Handle angle.
    pub handle: f64,
    /// What the gap opens by if the hand lets go just before the next tooth; `None` at the last.
    pub step: Option<f64>,
    /// Force on the pawl if the hand lets go there: the work, which springs back with what it needs there, and the
    /// springs, without the friction that would help. Zero where they do not open the tool.
    pub pawl: f64,
    /// Hand force for the work there, at each grip, with the drag.
    pub hand: Vec<Result<f64, Absent>>,
    /// What of it is for the drag, at each grip, without the friction that comes with it.
    pub drag: Vec<Option<f64>>,
}

/// The ratchet of the tool that `rig` has set up; `None` where it has none.
pub(super) fn ratchet_seen(rig: &mut Rig) -> Result<Option<Result<RatchetSeen, NoTeeth>>, Failure> {
    let tool = rig.tool();
    let Some(ratchet) = &tool.ratchet else {
        return Ok(None);
    };
    let found = match teeth(rig)? {
        Ok(found) => found,
        Err(why) => return Ok(Some(Err(why))),
    };
    let drag = ratchet.drag();
    let mut seen: Vec<ToothSeen> = Vec::with_capacity(found.len());
    for (k, tooth) in found.iter().enumerate() {
        let next = found.get(k + 1);
        seen.push(ToothSeen {
            step: next.map(|next| (tooth.gap - next.gap).abs()),
            ..see(rig, ratchet, *tooth, drag)?
        });
    }
    rig.go_to(rig.pace())?;
    let here = rig.here();
    let end = here.turned(ratchet.teeth_on, ratchet.pawl.on);
    let last = found.last().map_or(end, |tooth| tooth.turned);
    let first = found.first().map_or(last, |tooth| tooth.turned);
    let most = seen.iter().map(|tooth| tooth.pawl).fold(0.0, f64::max);
    Ok(Some(Ok(RatchetSeen {
        left: (end - last) * (last - first).signum(),
        shut: here.gap(JawId::FIRST).unwrap_or(f64::NAN),
        engages_itself: engages_itself(ratchet.flank, ratchet.friction),
        drag,
        tooth: stresses(ratchet, most),
        teeth: seen,
    })))
}

/// Angles of the part with the teeth against that of the pawl at which the pawl falls behind each tooth, rad; none
/// where the teeth have no places.
///
/// # Errors
/// When a position cannot be solved.
pub fn tooth_angles(rig: &mut Rig) -> Result<Vec<f64>, MotionError> {
    let found = teeth(rig)?.unwrap_or_default();
    Ok(found.iter().map(|tooth| tooth.turned).collect())
}

/// Whether an undercut flank (its angle to the radius, rad) pulls the pawl in: the force along the flank is
/// greater than friction holds. Common practice: the angle exceeds that of friction.
fn engages_itself(flank: f64, friction: f64) -> bool {
    flank.tan() >= friction
}

/// A tooth as a short cantilever as thick at its root as the pitch is long: bending 6 F h / (b a²), shear
/// 1.5 F / (a b). Strength of materials, any textbook; no notch factor.
fn stresses(ratchet: &Ratchet, force: f64) -> Option<[f64; 2]> {
    let (height, face) = (ratchet.height?, ratchet.face?);
    let root = ratchet.radius * ratchet.pitch;
    Some([
        6.0 * force * height / (face * root * root),
        1.5 * force / (root * face),
    ])
}

fn see(
    rig: &mut Rig,
    ratchet: &Ratchet,
    tooth: Tooth,
    drag: Option<f64>,
) -> Result<ToothSeen, Failure> {
    rig.go_to(tooth.pace)?;
    let grips = GripId::ids(rig.tool().hand.grips.len());
    let mut here = rig.here();
    let turning = here.turning(ratchet.teeth_on, ratchet.pawl.on).abs();
    let opening = here.opening_power(here.work().unwrap_or(0.0));
    let added = |power: f64| {
        let force = drag? * turning / power;
        force.is_finite().then_some(force)
    };
    let drag = grips.clone().map(|grip| added(here.hand_power(grip)));
    let drag = drag.collect();
    let pawl = opening.max(0.0) / (ratchet.radius * turning);
    Ok(ToothSeen {
        tooth,
        handle: here.handle(),
        step: None,
        pawl: if pawl.is_finite() { pawl } else { 0.0 },
        hand: grips.map(|grip| here.hand_force(grip)).collect(),
        drag,
    })
}
