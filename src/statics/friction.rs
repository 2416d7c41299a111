//! Where parts rub, and how much that costs.
//!
//! Pins: a pin loose in its hole passes its force R on along a line that touches the friction
//! circle, radius r sin φ with φ = atan μ, so that its moment is r sin φ |R| against the relative
//! rotation (D. W. Baker and W. Haynes, *Engineering Statics: Open and Interactive*, sec. 9.6).
//! Some books write μ r, the small-angle form; at μ = 0.2 that is 2 % more.
//!
//! Slots: μ |N| along the slot against the sliding. A keyed slider of guide width w carries its
//! turning moment M by edge forces N/2 ± M/w, each with its friction: μ max(|N|, 2 |M| / w).

use super::balance::Balance;
use super::rates::Rates;
use crate::mechanism::{Linkage, Pose, dot, minus, turned};
use crate::model::Tool;

/// A place where parts rub.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Contact {
    /// A pin joint and the radius of its friction circle, mm.
    Pin {
        /// Index of the joint.
        joint: usize,
        /// r sin φ.
        radius: f64,
    },
    /// A slot.
    Slot {
        /// Index of the slot.
        slot: usize,
        /// Coefficient of friction.
        friction: f64,
        /// 2 / guide width of a keyed slider, 1/mm; 0 where none is given.
        edge: f64,
    },
}

/// All places of a tool where parts rub.
#[must_use]
pub fn contacts(tool: &Tool) -> Vec<Contact> {
    let pins = tool
        .joint_data
        .iter()
        .enumerate()
        .filter_map(|(joint, data)| {
            let radius = 0.5 * data.diameter? * data.friction.atan().sin();
            (radius > 0.0).then_some(Contact::Pin { joint, radius })
        });
    let slots = tool
        .slots
        .iter()
        .enumerate()
        .filter(|(_, s)| s.friction > 0.0)
        .map(|(slot, s)| Contact::Slot {
            slot,
            friction: s.friction,
            edge: if s.keyed.is_some() {
                s.width.map_or(0.0, |w| 2.0 / w)
            } else {
                0.0
            },
        });
    pins.chain(slots).collect()
}

impl Contact {
    /// Rate at which the two parts rub on each other: rad for a pin, mm for a slot; its sign is
    /// that of the later part (the rider) against the carrier (the slotted part).
    #[inline]
    #[must_use]
    pub fn rate(self, linkage: &Linkage, pose: &Pose, rates: &Rates) -> f64 {
        match self {
            Self::Pin { joint, .. } => {
                let joint = &linkage.joints[joint];
                rates.spin[joint.part.body] - rates.spin[joint.carrier.body]
            }
            Self::Slot { slot, .. } => {
                let slot = &linkage.slots[slot];
                let (rider, on) = (slot.rider.body, slot.through.body);
                let place = pose.place(slot.rider);
                let v = minus(rates.of(pose, rider, place), rates.of(pose, on, place));
                dot(v, turned(pose.turn[on], slot.along))
            }
        }
    }

    /// Adds the friction of a contact force of `size` (N) as a load, against motion of sign
    /// `sense`.
    #[inline]
    pub fn load(
        self,
        linkage: &Linkage,
        pose: &Pose,
        balance: &mut Balance,
        sense: f64,
        size: f64,
    ) {
        match self {
            Self::Pin { joint, radius } => {
                let joint = &linkage.joints[joint];
                let moment = -sense * radius * size;
                balance.add_moment(linkage, joint.part.body, moment);
                balance.add_moment(linkage, joint.carrier.body, -moment);
            }
            Self::Slot { slot, friction, .. } => {
                let slot = &linkage.slots[slot];
                let (rider, on) = (slot.rider.body, slot.through.body);
                let along = turned(pose.turn[on], slot.along);
                let f = -sense * friction * size;
                let place = pose.place(slot.rider);
                balance.add_force(linkage, pose, rider, place, [f * along[0], f * along[1]]);
                balance.add_force(linkage, pose, on, place, [-f * along[0], -f * along[1]]);
            }
        }
    }

    /// Power lost (N mm per unit of motion, ≤ 0) at a contact force of 1 N and this rubbing rate.
    #[inline]
    #[must_use]
    pub fn power(self, rate: f64) -> f64 {
        match self {
            Self::Pin { radius, .. } => -radius * rate.abs(),
            Self::Slot { friction, .. } => -friction * rate.abs(),
        }
    }
}
