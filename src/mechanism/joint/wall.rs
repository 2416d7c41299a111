//! What rubs where a pin or a roller is pressed against a wall of its slot.
//!
//! A pin that slides: μ |N| along the wall against the sliding, at the pin's centre (common practice; a pin
//! that does not turn on its part shifts the wall by its radius, which is left out).
//!
//! A roller turns on its pin, which takes μ d/2 |N| about it; that is a force μ (d/D) |N| along the wall at
//! the roller's rim, D its diameter (balance of the roller). It rolls on the wall that is pressed, so its
//! spin is that at which the rim is at rest there: the rubbing rate times D/2 is the rate of the rider's
//! part against the slotted one at that place of the wall. The slot is taken to be so much wider than the
//! roller that the other wall is not touched.

use super::rub::{ContactForce, Rub, Wall};
use crate::geometry::Vec2;
use crate::mechanism::{Pose, Rates, Spot, Take};
use crate::model::{Cam, PartId, Slot};

/// How far from the rider's centre it rubs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Walls {
    /// Radius of the roller, mm; 0: the rider slides.
    radius: f64,
}

/// The riding spot, and the body that has the slot.
type Ends = (Spot, PartId);

impl Walls {
    pub(super) fn of(slot: &Slot) -> Self {
        Self::at(slot.roller.map_or(0.0, |roller| 0.5 * roller.diameter))
    }

    /// Rubs at this distance (mm) from the rider's centre.
    pub(super) fn at(radius: f64) -> Self {
        Self { radius }
    }

    /// A force on the rider and its opposite on the slotted body, both at the rider.
    #[inline]
    pub(super) fn pair(pose: &Pose, (rider, on): Ends, force: Vec2, to: &mut (impl Take + ?Sized)) {
        let place = pose.place(rider);
        let back = -force;
        let arm = |body: PartId| place - pose.frames[body].origin;
        to.force(rider.body, arm(rider.body), place, force);
        to.force(on, arm(on), place, back);
    }

    /// What rubs, with the contact force that a moment of 1 N mm on a sliding rider makes.
    pub(super) fn rub(self, slot: &Slot, edge: f64, wall: Wall) -> Option<Rub> {
        let (drag, force) = match (slot.roller, wall) {
            (Some(roller), _) => (
                roller.drag(slot.friction),
                ContactForce::Pressed { sign: wall.sign() },
            ),
            (None, Wall::First) => (slot.friction, ContactForce::Greater { edge }),
            (None, Wall::Second) => return None,
        };
        (drag > 0.0).then_some(Rub {
            drag,
            force,
            lifts: false,
        })
    }

    /// What rubs between a cam and what it pushes: there where it pushes, without friction too, so that one sees
    /// whether it does.
    pub(super) fn pushed(cam: &Cam, wall: Wall) -> Option<Rub> {
        (wall == Wall::First).then_some(Rub {
            drag: cam.drag(),
            force: ContactForce::Pressed { sign: 1.0 },
            lifts: true,
        })
    }

    /// From the rider's centre to where it rubs: the wall from which a force along `normal` comes.
    #[inline]
    fn arm(self, normal: Vec2, wall: Wall) -> Vec2 {
        normal * (-wall.sign() * self.radius)
    }

    /// Rate (mm) of the rider's part against the slotted one, along the wall: to the right of `normal`.
    #[inline]
    pub(super) fn rate(
        self,
        pose: &Pose,
        rates: &Rates,
        (rider, on): Ends,
        normal: Vec2,
        wall: Wall,
    ) -> f64 {
        let place = pose.place(rider) + self.arm(normal, wall);
        let v = rates.of(pose, rider.body, place) - rates.of(pose, on, place);
        v.dot(right(normal))
    }

    /// What friction (N), positive along the rate, does: at the rider's centre, with the moment that
    /// brings it to the wall.
    #[inline]
    pub(super) fn drag(
        self,
        pose: &Pose,
        friction: f64,
        ends: Ends,
        normal: Vec2,
        wall: Wall,
        to: &mut (impl Take + ?Sized),
    ) {
        let force = right(normal) * friction;
        Self::pair(pose, ends, force, to);
        if self.radius > 0.0 {
            let moment = self.arm(normal, wall).cross(force);
            to.couple(ends.0.body, moment);
            to.couple(ends.1, -moment);
        }
    }
}

/// A quarter of a turn clockwise: along a centre line whose left is `normal`.
#[inline]
fn right(normal: Vec2) -> Vec2 {
    Vec2::new(normal[1], -normal[0])
}
