//! Parts that slide without turning by themselves, in closed form: what keeps each from the side, and what pushes it
//! along, are two equations for the place of its axes.
//!
//! With every turn known, a straight slot, a flat on a disc and a rack's teeth say how far the part stands in one
//! direction; a roller on a disc or an arc slot, that it stands on a circle. Line and line meet once; of line and circle
//! the sign of the block's determinant tells which of the two meetings is meant.

use super::closed_racks::Racked;
use super::guided::{Line, guided};
use super::way::Way;
use super::{JointFrame, Linkage, Pose};
use crate::geometry::Vec2;
use crate::model::{JointId, PartId};

/// A part whose turn is known and whose place is not.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Slider {
    pub(super) body: PartId,
    /// A line first.
    keepers: [Keeper; 2],
}

/// One equation for the place.
#[derive(Debug, Clone, PartialEq)]
struct Keeper {
    joint: JointId,
    /// The way round its loop, without the place of the sliding part, which is to be added `sign` times.
    way: Way,
    sign: f64,
    law: Law,
}

/// What the way round the loop has to meet.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Law {
    Line(Line),
    /// The rack's equation.
    Rack(Racked),
}

/// What the way round the loop has to meet, at one position.
enum Meets {
    /// So much in this direction.
    Across(Vec2, f64),
    /// This length.
    Long(f64),
}

impl Slider {
    /// `None` where two circles keep it, or something that has no closed form.
    pub(super) fn new(linkage: &Linkage, body: PartId, joints: [JointId; 2]) -> Option<Self> {
        let keeper = |joint: JointId| {
            let law = match &linkage.joints[joint] {
                JointFrame::Rack(rack) => Law::Rack(Racked::of(linkage, rack)),
                frame => Law::Line(guided(frame)?.1),
            };
            Some(Keeper {
                joint,
                way: Way::default(),
                sign: 0.0,
                law,
            })
        };
        let mut keepers = [keeper(joints[0])?, keeper(joints[1])?];
        if keepers[0].is_circle() {
            keepers.swap(0, 1);
        }
        (!keepers[0].is_circle()).then_some(Self { body, keepers })
    }

    /// Takes over the dimensions.
    pub(super) fn measure(&mut self, linkage: &Linkage) -> Option<()> {
        for keeper in &mut self.keepers {
            let spots = match &linkage.joints[keeper.joint] {
                JointFrame::Rack(rack) => {
                    keeper.law = Law::Rack(Racked::of(linkage, rack));
                    [rack.mark, rack.centre]
                }
                frame => {
                    let (spots, line) = guided(frame)?;
                    keeper.law = Law::Line(line);
                    spots
                }
            };
            keeper.way = Way::default();
            for (spot, sign) in spots.into_iter().zip([1.0, -1.0]) {
                linkage.add_way(spot, sign, &mut keeper.way, &[], &mut []);
            }
            keeper.way.tidy();
            keeper.sign = keeper.way.take_slide(self.body)?;
        }
        Some(())
    }

    /// The sine of the angle between the two equations' gradients.
    pub(super) fn sine(&self, pose: &Pose) -> f64 {
        let place = pose.frames[self.body].origin;
        let [first, second] = [0, 1].map(|k: usize| {
            let keeper = &self.keepers[k];
            let across = match keeper.law {
                Law::Line(Line::Arc { radius }) => {
                    (keeper.way.sum(pose) + place * keeper.sign) * (1.0 / radius)
                }
                Law::Line(Line::Straight { on, along }) => left(pose.frames[on].direction(along)),
                Law::Rack(rack) => rack.along(pose),
            };
            across * keeper.sign
        });
        first.cross(second)
    }

    /// Puts the part where both equations are met. `false` where that cannot be.
    #[inline]
    pub(super) fn put(&self, pose: &mut Pose, sign: f64, near: &[f64]) -> bool {
        let [line, other] = &self.keepers;
        let [known, others] = [line.way.sum(pose), other.way.sum(pose)];
        let Meets::Across(n, e) = line.meets(pose, near) else {
            return false;
        };
        // n · p, from n · (K + s p) = e.
        let d = (e - n.dot(known)) * line.sign;
        let place = match other.meets(pose, near) {
            Meets::Across(m, e) => {
                let f = (e - m.dot(others)) * other.sign;
                let per = 1.0 / n.cross(m);
                Vec2::new((d * m[1] - f * n[1]) * per, (f * n[0] - d * m[0]) * per)
            }
            Meets::Long(radius) => {
                // V = K + s p of the circle: n · V = s (d - n · p(K)), and so far along the line to its side.
                let v = other.sign * d + n.dot(others);
                let rest = radius * radius - v * v;
                if !(rest > 0.0) {
                    return false;
                }
                let h = rest.sqrt().copysign(sign * line.sign * other.sign);
                (n * v + left(n) * h - others) * other.sign
            }
        };
        pose.frames[self.body].origin = place;
        place[0].is_finite() && place[1].is_finite()
    }
}

impl Keeper {
    fn is_circle(&self) -> bool {
        matches!(self.law, Law::Line(Line::Arc { .. }))
    }

    #[inline]
    fn meets(&self, pose: &Pose, near: &[f64]) -> Meets {
        match self.law {
            Law::Line(Line::Arc { radius }) => Meets::Long(radius),
            Law::Line(Line::Straight { on, along }) => {
                Meets::Across(left(pose.frames[on].direction(along)), 0.0)
            }
            Law::Rack(rack) => Meets::Across(rack.along(pose), rack.gone(pose, near)),
        }
    }
}

/// A quarter turn further.
#[inline]
fn left(v: Vec2) -> Vec2 {
    Vec2::new(-v[1], v[0])
}
