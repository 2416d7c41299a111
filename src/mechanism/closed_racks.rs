//! Rack and pinion in closed form: the equation gives the place of the rack along its pitch line from the turn of
//! the pinion, and the turn from the place.

use super::closed_gears::whole_angle;
use super::joint::RackFrame;
use super::way::Way;
use super::{JointFrame, Linkage, Pose};
use crate::geometry::Vec2;
use crate::model::{JointId, PartId};

/// The numbers of the equation: the way from the pinion's pin to the rack's mark goes so far along the pitch line as the
/// pinion turns on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Racked {
    /// Pinion and rack, and the coordinates that are their angles.
    bodies: [PartId; 2],
    angles: [usize; 2],
    towards: Vec2,
    radius: f64,
    /// Added to the angle of the pinion less that of the rack.
    phase: f64,
    lost: f64,
}

/// A pinion of unknown turn, of which everything else is known.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Rolling {
    joint: JointId,
    rack: Racked,
    /// From the pinion's pin to the rack's mark.
    way: Way,
}

impl Racked {
    pub(super) fn of(linkage: &Linkage, rack: &RackFrame) -> Self {
        let bodies = [rack.centre.body, rack.mark.body];
        Self {
            bodies,
            angles: bodies.map(|body| linkage.bodies[body].angle),
            towards: rack.towards,
            radius: rack.radius,
            phase: rack.phase + rack.turns,
            lost: rack.lost,
        }
    }

    /// Along the pitch line, in the tool's axes.
    #[inline]
    pub(super) fn along(&self, pose: &Pose) -> Vec2 {
        let towards = pose.frames[self.bodies[1]].direction(self.towards);
        Vec2::new(-towards[1], towards[0])
    }

    /// How far the mark stands along the pitch line from the pinion's pin, mm.
    #[inline]
    pub(super) fn gone(&self, pose: &Pose, near: &[f64]) -> f64 {
        let [pinion, rack] =
            [0, 1].map(|k: usize| whole_angle(pose, near, self.bodies[k], self.angles[k]));
        self.radius * (pinion - rack + self.phase) - self.lost
    }
}

impl Rolling {
    /// `None` where the body is not the pinion.
    pub(super) fn new(linkage: &Linkage, joint: JointId, body: PartId) -> Option<Self> {
        let JointFrame::Rack(rack) = &linkage.joints[joint] else {
            return None;
        };
        (rack.centre.body == body).then(|| Self {
            joint,
            rack: Racked::of(linkage, rack),
            way: Way::default(),
        })
    }

    /// Takes over the dimensions. `None` where the pinion's pin goes round with the pinion.
    pub(super) fn measure(&mut self, linkage: &Linkage) -> Option<()> {
        let JointFrame::Rack(rack) = &linkage.joints[self.joint] else {
            return None;
        };
        self.rack = Racked::of(linkage, rack);
        self.way = Way::default();
        let mut own = [Vec2::ZERO];
        for (spot, sign) in [(rack.mark, 1.0), (rack.centre, -1.0)] {
            linkage.add_way(spot, sign, &mut self.way, &[rack.centre.body], &mut own);
        }
        self.way.tidy();
        (own[0] == Vec2::ZERO).then_some(())
    }

    /// Turns the pinion. `false` where the angle is no number.
    #[inline]
    pub(super) fn turn(&self, pose: &mut Pose, near: &[f64]) -> bool {
        let Racked {
            bodies: [pinion, rack],
            angles,
            radius,
            phase,
            lost,
            ..
        } = self.rack;
        let gone = self.rack.along(pose).dot(self.way.sum(pose));
        let angle = whole_angle(pose, near, rack, angles[1]) - phase + (gone + lost) / radius;
        pose.frames[pinion].turn = Vec2::unit(angle);
        angle.is_finite()
    }
}
