//! Where parts rub.

use super::balance::{Balance, Loads};
use crate::mechanism::joint::{Rub, Wall};
use crate::mechanism::{Kind, Linkage, Pose, Rates};
use crate::model::{JointId, Tool};

/// A place of a joint that rubs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// Index into [`Linkage::joints`].
    pub joint: JointId,
    /// Where it rubs.
    pub wall: Wall,
    /// What rubbing costs there.
    pub rub: Rub,
}

/// Parts that move against each other by less than this at a contact, over the length of the
/// tangent, do not rub there.
const AT_REST: f64 = 1e-9;

/// All places of a tool that rub.
#[must_use]
pub fn contacts(tool: &Tool, linkage: &Linkage) -> Vec<Contact> {
    let joints = JointId::each(&linkage.joints);
    joints
        .flat_map(|(joint, frame)| Wall::ALL.map(|wall| (joint, wall, frame.rub(tool, wall))))
        .filter_map(|(joint, wall, rub)| {
            let rub = rub?;
            Some(Contact { joint, wall, rub })
        })
        .collect()
}

impl Contact {
    /// Rate at which the two parts rub on each other, see [`Kind::rate`]; zero at rest.
    #[inline]
    #[must_use]
    pub fn rate(&self, linkage: &Linkage, pose: &Pose, rates: &Rates) -> f64 {
        let joint = &linkage.joints[self.joint];
        let rate = joint.rate(pose, rates, self.wall);
        if rate.abs() < AT_REST * (rates.length() * joint.usual_rate(linkage.size)) {
            0.0
        } else {
            rate
        }
    }

    /// Friction (N or N mm) of a contact force of `size` (N), against motion of sign `sense`.
    #[inline]
    #[must_use]
    pub fn friction(&self, sense: f64, size: f64) -> f64 {
        -sense * self.rub.drag * size
    }

    /// Adds the friction of a contact force of `size` (N) as a load, against motion of sign
    /// `sense`.
    #[inline]
    pub fn load(
        &self,
        linkage: &Linkage,
        pose: &Pose,
        balance: &mut Balance,
        sense: f64,
        size: f64,
    ) {
        let friction = self.friction(sense, size);
        let mut loads = Loads { balance, pose };
        linkage.joints[self.joint].drag(pose, friction, self.wall, &mut loads);
    }
}
