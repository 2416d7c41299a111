//! A cam that pushes a roller or a flat of another part: an eccentric disc, or a curved face, see
//! [`super::face`].
//!
//! On a roller the centres stay R + r apart: the equation of an arc slot about the disc's centre in which the
//! roller's centre rides. On a flat the disc's centre stays R off the flat: that of a straight slot, R off
//! the flat, in which the centre rides. The force of the equation, positive where it pushes, is that between
//! rim and follower. It cannot pull: where the equations ask for that, the follower lifts off.
//!
//! Friction acts at the rim: μ |N| against the sliding of the disc on the flat; for a roller that of its pin,
//! see [`super::wall`].

use super::arc::ArcFrame;
use super::face::FaceFrame;
use super::kind::{Kind, Tally, spot_at, spot_of, unplaced};
use super::rub::{Rub, Wall};
use super::slot::SlotFrame;
use super::wall::Walls;
use crate::geometry::Vec2;
use crate::mechanism::{Body, Linkage, Pose, Rates, Spot, Take};
use crate::model::{Cam, CamFace, Follower, PartId, Tool};
use std::ops::Range;

/// A cam as the equations see it.
#[derive(Debug, Clone)]
pub struct CamFrame {
    /// Index into [`Tool::cams`].
    pub index: usize,
    /// The point that it pushes.
    pub pushed: Spot,
    /// What it is like.
    pub like: Like,
    /// Radius of a disc, mm.
    disc: f64,
}

/// The slot that a cam and its follower are like.
#[derive(Debug, Clone)]
pub enum Like {
    /// The roller's centre rides about the disc's.
    Arc(ArcFrame),
    /// The disc's centre rides along the flat.
    Slot(SlotFrame),
    /// A curved face.
    Curve(FaceFrame),
}

/// Asks the slot.
macro_rules! ask {
    ($cam:expr, $slot:ident => $what:expr) => {
        match &$cam.like {
            Like::Arc($slot) => $what,
            Like::Slot($slot) => $what,
            Like::Curve($slot) => $what,
        }
    };
}

impl CamFrame {
    pub(super) fn new(index: usize, cam: &Cam, tally: &mut Tally) -> Self {
        let like = match (&cam.face, cam.follower) {
            (CamFace::Curve(_), _) => Like::Curve(FaceFrame::new(index, cam, tally)),
            (&CamFace::Disc { radius, .. }, Follower::Roller(roller)) => {
                Like::Arc(ArcFrame::between(
                    index,
                    [cam.pushes.part, cam.part],
                    radius + 0.5 * roller.diameter,
                    Walls::at(0.5 * roller.diameter),
                    tally,
                ))
            }
            (&CamFace::Disc { radius, .. }, Follower::Flat { angle, side }) => {
                Like::Slot(SlotFrame::between(
                    index,
                    [cam.part, cam.pushes.part],
                    Vec2::unit(angle) * side,
                    Walls::at(radius),
                    tally,
                ))
            }
        };
        Self {
            index,
            pushed: unplaced(cam.pushes.part),
            like,
            disc: 0.0,
        }
    }

    /// It has a curved face.
    #[must_use]
    pub fn is_curved(&self) -> bool {
        matches!(self.like, Like::Curve(_))
    }

    /// How much of a curved face is left to the nearer of its ends, mm, below zero beyond it; `None` for a disc.
    #[must_use]
    pub fn face_left(&self, pose: &Pose) -> Option<f64> {
        match &self.like {
            Like::Curve(face) => Some(face.left(pose)),
            Like::Arc(_) | Like::Slot(_) => None,
        }
    }

    /// Direction of the force on the first body.
    #[inline]
    #[must_use]
    pub fn normal(&self, pose: &Pose) -> Vec2 {
        ask!(self, slot => slot.normal(pose))
    }
}

impl Kind for CamFrame {
    #[inline]
    fn bodies(&self) -> [PartId; 2] {
        ask!(self, slot => slot.bodies())
    }

    #[inline]
    fn rows(&self) -> Range<usize> {
        ask!(self, slot => slot.rows())
    }

    fn place(&mut self, tool: &Tool, bodies: &[Body]) {
        let cam = &tool.cams[self.index];
        let pushed = spot_of(tool, bodies, cam.pushes);
        self.pushed = pushed;
        let CamFace::Disc { centre, radius } = cam.face else {
            if let Like::Curve(face) = &mut self.like {
                face.place(tool, bodies);
            }
            return;
        };
        self.disc = radius;
        let centre = spot_at(tool, bodies, cam.part, centre);
        match (&mut self.like, cam.follower) {
            (Like::Arc(arc), Follower::Roller(roller)) => {
                (arc.rider, arc.centre) = (pushed, centre);
                arc.radius = radius + 0.5 * roller.diameter;
                arc.walls = Walls::at(0.5 * roller.diameter);
            }
            (Like::Slot(slot), Follower::Flat { angle, side }) => {
                slot.along = Vec2::unit(angle) * side;
                (slot.rider, slot.through) = (centre, pushed);
                slot.through.arm += Vec2::new(-slot.along[1], slot.along[0]) * radius;
                slot.walls = Walls::at(radius);
            }
            // A tool that is dimensioned anew keeps its kinds of face and of follower.
            (Like::Arc(_), Follower::Flat { .. })
            | (Like::Slot(_), Follower::Roller(_))
            | (Like::Curve(_), _) => {}
        }
    }

    #[inline]
    fn residual(&self, linkage: &Linkage, pose: &Pose, out: &mut [f64]) {
        ask!(self, slot => slot.residual(linkage, pose, out));
    }

    #[inline]
    fn gradient(&self, linkage: &Linkage, pose: &Pose, row: &mut [f64]) {
        ask!(self, slot => slot.gradient(linkage, pose, row));
    }

    fn apart(&self, residual: &[f64]) -> f64 {
        ask!(self, slot => slot.apart(residual))
    }

    #[inline]
    fn load(&self, size: f64, multipliers: &[f64]) -> [f64; 2] {
        ask!(self, slot => slot.load(size, multipliers))
    }

    #[inline]
    fn act(&self, pose: &Pose, load: [f64; 2], to: &mut (impl Take + ?Sized)) {
        ask!(self, slot => slot.act(pose, load, to));
    }

    /// A disc is touched at its rim, and so is a flat; a roller takes what it is pushed with at its pin.
    fn touches(&self, pose: &Pose) -> [Option<Vec2>; 2] {
        match &self.like {
            Like::Arc(arc) => {
                let rim = pose.place(arc.centre) + arc.normal(pose) * self.disc;
                [None, Some(rim)]
            }
            Like::Slot(slot) => [Some(pose.place(slot.rider) - slot.normal(pose) * self.disc); 2],
            Like::Curve(face) => face.touches(pose),
        }
    }

    /// There where it pushes, without friction too, so that one sees whether it does.
    fn rub(&self, tool: &Tool, wall: Wall) -> Option<Rub> {
        Walls::pushed(tool.cams.get(self.index)?, wall)
    }

    #[inline]
    fn rate(&self, pose: &Pose, rates: &Rates, wall: Wall) -> f64 {
        ask!(self, slot => slot.rate(pose, rates, wall))
    }

    #[inline]
    fn usual_rate(&self, size: f64) -> f64 {
        size
    }

    fn drag(&self, pose: &Pose, friction: f64, wall: Wall, to: &mut (impl Take + ?Sized)) {
        ask!(self, slot => slot.drag(pose, friction, wall, to));
    }
}
