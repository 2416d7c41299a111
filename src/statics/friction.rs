//! Where parts rub.

use crate::mechanism::joint::{Rub, Wall};
use crate::mechanism::{JointFrame, Kind, Linkage, Pose, Rates, Take};
use crate::model::{JointId, Tool};

/// A place of a joint that rubs, or a joint whose load presses its bodies apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// Index into [`Linkage::joints`].
    pub joint: JointId,
    /// What follows from its load.
    pub effect: Effect,
    /// What rubbing costs there, or how hard it presses.
    pub rub: Rub,
}

/// What follows from the load of a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effect {
    /// Friction against the motion, at this place.
    Friction(Wall),
    /// A force without power, whichever way the tool moves.
    Spread,
}

impl Effect {
    /// All there may be.
    const ALL: [Self; 3] = [
        Self::Friction(Wall::First),
        Self::Friction(Wall::Second),
        Self::Spread,
    ];

    /// What a joint costs, or how hard it presses.
    pub(super) fn of(self, frame: &JointFrame, tool: &Tool) -> Option<Rub> {
        match self {
            Self::Friction(wall) => frame.rub(tool, wall),
            Self::Spread => frame.spreads(),
        }
    }
}

/// Parts that move against each other by less than this at a contact, over the length of the
/// tangent, do not rub there.
const AT_REST: f64 = 1e-9;

/// All places of a tool that rub, and joints that press their bodies apart.
#[must_use]
pub fn contacts(tool: &Tool, linkage: &Linkage) -> Vec<Contact> {
    let joints = JointId::each(&linkage.joints);
    joints
        .flat_map(|(joint, frame)| {
            Effect::ALL.map(|effect| (joint, effect, effect.of(frame, tool)))
        })
        .filter_map(|(joint, effect, rub)| {
            let rub = rub?;
            Some(Contact { joint, effect, rub })
        })
        .collect()
}

/// The joints of a tool that press their bodies apart.
pub(super) fn spreads(tool: &Tool, linkage: &Linkage) -> Vec<Contact> {
    let mut found = contacts(tool, linkage);
    found.retain(|contact| contact.effect == Effect::Spread);
    found
}

impl Contact {
    /// Rate at which the two parts rub on each other, see [`Kind::rate`]; zero at rest, and for a force
    /// without power.
    #[inline]
    #[must_use]
    pub fn rate(&self, linkage: &Linkage, pose: &Pose, rates: &Rates) -> f64 {
        let Effect::Friction(wall) = self.effect else {
            return 0.0;
        };
        let joint = &linkage.joints[self.joint];
        let rate = joint.rate(pose, rates, wall);
        if rate.abs() < AT_REST * (rates.length() * joint.usual_rate(linkage.size)) {
            0.0
        } else {
            rate
        }
    }

    /// Friction (N or N mm) of a contact force of `size` (N), against motion of sign `sense`; a force
    /// without power (N) asks for no motion.
    #[inline]
    #[must_use]
    pub fn friction(&self, sense: f64, size: f64) -> f64 {
        match self.effect {
            Effect::Friction(_) => -sense * self.rub.drag * size,
            Effect::Spread => self.rub.drag * size,
        }
    }

    /// What that does to each body.
    #[inline]
    pub fn drag(
        &self,
        linkage: &Linkage,
        pose: &Pose,
        friction: f64,
        to: &mut (impl Take + ?Sized),
    ) {
        let joint = &linkage.joints[self.joint];
        match self.effect {
            Effect::Friction(wall) => joint.drag(pose, friction, wall, to),
            Effect::Spread => joint.spread(pose, friction, to),
        }
    }
}
