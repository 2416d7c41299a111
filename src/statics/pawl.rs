//! What the pawl of a ratchet costs while the tool closes.
//!
//! From the first tooth to the last the pawl is lifted over one tooth after the other against its spring, drops
//! behind it, and rubs along. The work of one tooth spread over its pitch is a couple between the part with the
//! teeth and that with the pawl, about the pin that the ratchet turns on, against the closing. The ripple within a
//! tooth is left out, and so is the small force that the tip puts on that pin.

use super::balance::Balance;
use super::springs::{SpringEnd, pin_on};
use crate::geometry::Vec2;
use crate::mechanism::{Linkage, Pose, Rates, Spot};
use crate::model::{Ratchet, Tool};

/// The couple of a pawl.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PawlDrag {
    /// The pin, on the part with the teeth and on that with the pawl.
    pins: [Spot; 2],
    /// On the part with the teeth, N mm, counter-clockwise positive.
    couple: f64,
    /// Angles of the part with the teeth against that of the pawl between which there are teeth, rad.
    from: f64,
    to: f64,
    /// Paces at the first and the last tooth, see [`super::Rig::go_to`]: the couple jumps there.
    pub(super) ends: [f64; 2],
}

/// An angle this near to the first or the last tooth is at it, rad; and a number of pitches this near to a whole one
/// is that.
const AT: f64 = 1e-9;

impl Ratchet {
    /// Mean moment against the closing (N mm) as the pawl goes over the teeth: over each it is lifted by its height
    /// against the force of its spring at the tip, and rubs along. Energy over the pitch; strength of the spring
    /// as stated, the same at root and tip. Common practice, no source. `None` without the height of the teeth.
    #[must_use]
    pub fn drag(&self) -> Option<f64> {
        let tip = self.pawl.spring / self.pawl.length;
        let lift = tip * self.height? / self.pitch;
        Some(lift + self.friction * tip * self.radius)
    }
}

impl Ratchet {
    /// How many whole pitches lie in an angle, rad.
    #[must_use]
    pub fn pitches(&self, angle: f64) -> usize {
        (angle.abs() / self.pitch + AT).floor() as usize
    }
}

impl PawlDrag {
    /// The drag of the ratchet of `tool`, from the angles of its first and last tooth (rad) and the paces there.
    /// `None` where it has none.
    pub(super) fn new(
        tool: &Tool,
        linkage: &Linkage,
        [first, last]: [f64; 2],
        ends: [f64; 2],
    ) -> Option<Self> {
        let ratchet = tool.ratchet.as_ref()?;
        let moment = ratchet.drag().filter(|moment| *moment > 0.0)?;
        Some(Self {
            pins: pins(tool, linkage, ratchet),
            couple: -(last - first).signum() * moment,
            from: first.min(last) - AT,
            to: first.max(last) + AT,
            ends,
        })
    }

    /// Takes over the numbers of a tool that is the same but for them; the teeth stand where they do.
    pub fn take(&mut self, tool: &Tool, linkage: &Linkage) {
        if let Some(ratchet) = &tool.ratchet {
            self.pins = pins(tool, linkage, ratchet);
            self.couple = self.couple.signum() * ratchet.drag().unwrap_or(0.0);
        }
    }

    /// The couple on the part with the teeth where the linkage stands, N mm.
    #[inline]
    fn here(&self, linkage: &Linkage, pose: &Pose) -> f64 {
        let [teeth, pawl] = self.pins;
        let turned = pose.angle(linkage, teeth.body) - pose.angle(linkage, pawl.body);
        if turned >= self.from && turned <= self.to {
            self.couple
        } else {
            0.0
        }
    }

    /// Adds it as a load.
    #[inline]
    pub(super) fn load(&self, linkage: &Linkage, pose: &Pose, balance: &mut Balance) {
        let couple = self.here(linkage, pose);
        let [teeth, pawl] = self.pins;
        balance.add_moment(teeth.body, couple);
        balance.add_moment(pawl.body, -couple);
    }

    /// Power that it gives to the motion (less than zero as the tool closes), N mm per unit of it.
    #[inline]
    pub(super) fn power(&self, linkage: &Linkage, pose: &Pose, rates: &Rates) -> f64 {
        let [teeth, pawl] = self.pins;
        let turning = rates.spin[teeth.body.index()] - rates.spin[pawl.body.index()];
        self.here(linkage, pose) * turning
    }

    /// What it does to both parts.
    pub(super) fn ends(&self, linkage: &Linkage, pose: &Pose) -> [SpringEnd; 2] {
        let couple = self.here(linkage, pose);
        let [teeth, pawl] = self.pins;
        [(teeth, couple), (pawl, -couple)].map(|(pin, moment)| SpringEnd {
            body: pin.body,
            at: pose.place(pin),
            force: Vec2::ZERO,
            moment,
        })
    }
}

fn pins(tool: &Tool, linkage: &Linkage, ratchet: &Ratchet) -> [Spot; 2] {
    let (teeth, pawl) = (ratchet.teeth_on, ratchet.pawl.on);
    [
        pin_on(tool, linkage, teeth, pawl),
        pin_on(tool, linkage, pawl, teeth),
    ]
}
