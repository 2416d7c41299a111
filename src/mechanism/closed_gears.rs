//! Tooth sectors in closed form: their equation is linear in the angles of both and of the line of
//! centres, so that it gives any one of them from the other two.
//!
//! Angles count with their whole turns here, since a ratio of teeth multiplies them.

use super::way::Way;
use super::{GROUND, JointFrame, Kind, Linkage, Pose};
use crate::geometry::Vec2;
use crate::model::{JointId, PartId};
use crate::numeric::angle::wrapped;

/// A pair of tooth sectors with one body of unknown turn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Geared {
    joint: JointId,
    body: PartId,
    /// Coordinates that are the angles of the first, the second and the carrier.
    angles: [usize; 3],
    bodies: [PartId; 3],
    /// From the first centre to the second.
    way: Way,
    /// What is wanted.
    wanted: Wanted,
    radii: [f64; 2],
    /// Marks less outward directions; whole turns over the radii's sum, less what backlash takes, stand in
    /// `turns`.
    phases: [f64; 2],
    line: f64,
    turns: f64,
}

/// Which angle is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Wanted {
    /// Of one of the two.
    Side(usize),
    /// Of the carrier, in whose axes the line of centres stands so.
    Carrier(f64),
}

impl Geared {
    /// `None` where the line of centres turns with more than the carrier, or with one of the two.
    pub(super) fn new(linkage: &Linkage, joint: JointId, body: PartId) -> Option<Self> {
        let JointFrame::Gear(gear) = &linkage.joints[joint] else {
            return None;
        };
        let [first, second] = gear.bodies();
        let bodies = [first, second, gear.on];
        let wanted = match bodies.iter().position(|&b| b == body)? {
            2 => Wanted::Carrier(0.0),
            side => Wanted::Side(side),
        };
        Some(Self {
            joint,
            body,
            angles: bodies.map(|b| linkage.bodies[b].angle),
            bodies,
            way: Way::default(),
            wanted,
            radii: [0.0; 2],
            phases: [0.0; 2],
            line: 0.0,
            turns: 0.0,
        })
    }

    /// Takes over the dimensions.
    pub(super) fn measure(&mut self, linkage: &Linkage) -> Option<()> {
        let JointFrame::Gear(gear) = &linkage.joints[self.joint] else {
            return None;
        };
        self.way = Way::default();
        let mut own = [Vec2::ZERO];
        for (spot, sign) in [(gear.centres[1], 1.0), (gear.centres[0], -1.0)] {
            linkage.add_way(spot, sign, &mut self.way, &[self.body], &mut own);
        }
        self.way.tidy();
        match &mut self.wanted {
            // The line of centres must not turn with the one that is looked for.
            Wanted::Side(_) if own[0] != Vec2::ZERO => return None,
            Wanted::Carrier(_) if !self.way.is_empty() => return None,
            Wanted::Carrier(angle) => *angle = own[0].angle(),
            Wanted::Side(_) => {}
        }
        let outward = gear.outward();
        self.phases = [0, 1].map(|side: usize| gear.marks[side] - outward[side]);
        (self.radii, self.line, self.turns) = (gear.radii, gear.line, gear.gone());
        Some(())
    }

    #[inline]
    fn angle(&self, pose: &Pose, near: &[f64], which: usize) -> f64 {
        whole_angle(pose, near, self.bodies[which], self.angles[which])
    }

    /// Turns the body. `false` where the angle is no number.
    #[inline]
    pub(super) fn turn(&self, pose: &mut Pose, near: &[f64]) -> bool {
        let turned = |side: usize| self.angle(pose, near, side) + self.phases[side];
        let angle = match self.wanted {
            Wanted::Side(side) => {
                let about = self.angle(pose, near, 2) + self.line;
                let line = about + wrapped(self.way.sum(pose).angle() - about);
                let other = 1 - side;
                let gone = self.radii[other] * (turned(other) - line) + self.turns;
                line - self.phases[side] - gone / self.radii[side]
            }
            Wanted::Carrier(angle) => {
                let sum = self.radii[0] * turned(0) + self.radii[1] * turned(1) + self.turns;
                let line = sum / (self.radii[0] + self.radii[1]);
                // The same line, by what the carrier's angle makes of it.
                line - (self.line + wrapped(angle - self.line))
            }
        };
        pose.frames[self.body].turn = Vec2::unit(angle);
        angle.is_finite()
    }
}

/// The angle of a body, this coordinate, with its whole turns: those nearest to `near`.
#[inline]
pub(super) fn whole_angle(pose: &Pose, near: &[f64], body: PartId, coordinate: usize) -> f64 {
    if coordinate == GROUND {
        return 0.0;
    }
    let near = near[coordinate];
    near + wrapped(pose.frames[body].turn.angle() - near)
}
