//! A curved cam face that pushes a roller or a flat of another part.
//!
//! One equation: the roller's centre stays its radius off the nearest place of the face, (P − X)·n − r = 0, or
//! the foremost place of the face stays on the flat, (X − F)·m = 0, with m square to the flat towards the cam.
//! The place X is found anew at each position. As it is the nearest or foremost of its neighbours, moving
//! along the face changes nothing to first order: gradient, force and sliding are those of a place that is
//! fixed on the cam.
//!
//! The force is positive where it pushes. Friction acts at the contact, see [`super::wall`].

use super::kind::{Kind, Tally, spot_of, unplaced};
use super::rub::{Rub, Wall};
use super::wall::Walls;
use crate::geometry::Vec2;
use crate::mechanism::pose::Touched;
use crate::mechanism::{Body, Linkage, Pose, Rates, Spot, Take};
use crate::model::{Cam, CamFace, Follower, PartId, Tool};
use crate::numeric::{Face, Touch};
use std::ops::Range;
use std::sync::Arc;

/// A curved face and what it pushes, as the equations see them.
#[derive(Debug, Clone)]
pub struct FaceFrame {
    /// Index into [`Tool::cams`].
    index: usize,
    /// The datum of the part that has the face.
    datum: Spot,
    /// The roller's centre, or a point on the flat.
    pushed: Spot,
    like: Pushed,
    /// In the axes of its part; `None` until it is placed, and where its points make no curve.
    face: Option<Arc<Face>>,
    row: usize,
}

/// What is pushed.
#[derive(Debug, Clone, Copy)]
enum Pushed {
    /// A roller of this radius, mm.
    Roller(f64),
    /// A flat in this direction of its part's axes, the cam on its left.
    Flat(Vec2),
}

/// A contact at one position, in the tool's axes.
#[derive(Debug, Clone, Copy)]
struct Contact {
    touch: Touch,
    /// On the cam.
    at: Spot,
    /// Direction of the force on the first body.
    normal: Vec2,
}

impl FaceFrame {
    pub(super) fn new(index: usize, cam: &Cam, tally: &mut Tally) -> Self {
        tally.equations += 1;
        Self {
            index,
            datum: unplaced(cam.part),
            pushed: unplaced(cam.pushes.part),
            like: Pushed::of(cam),
            face: None,
            row: tally.equations - 1,
        }
    }

    /// The rider and the body that it rides on, where the friction of a wall is asked for.
    #[inline]
    fn ends(&self, contact: &Contact) -> (Spot, PartId) {
        match self.like {
            Pushed::Roller(_) => (self.pushed, self.datum.body),
            Pushed::Flat(_) => (contact.at, self.pushed.body),
        }
    }

    #[inline]
    fn walls(&self) -> Walls {
        match self.like {
            Pushed::Roller(radius) => Walls::at(radius),
            Pushed::Flat(_) => Walls::at(0.0),
        }
    }

    /// Where the two touch.
    fn contact(&self, pose: &Pose) -> Contact {
        let frame = &pose.frames[self.datum.body];
        let nowhere = Touch {
            at: [0.0; 2],
            out: [1.0, 0.0],
            bend: 0.0,
            left: f64::NAN,
        };
        let (touch, normal) = match self.like {
            Pushed::Roller(_) => {
                let to = frame.own_place(pose.place(self.pushed)) - self.datum.arm;
                let touch = self.touched(pose, to, Face::nearest);
                let touch = touch.unwrap_or(nowhere);
                (touch, frame.direction(touch.out.into()))
            }
            Pushed::Flat(along) => {
                let along = pose.frames[self.pushed.body].direction(along);
                let side = Vec2::new(-along[1], along[0]);
                let own = frame.own_direction(side);
                let touch = self.touched(pose, own, Face::foremost);
                (touch.unwrap_or(nowhere), side)
            }
        };
        let at = Spot {
            body: self.datum.body,
            arm: self.datum.arm + touch.at.into(),
        };
        Contact { touch, at, normal }
    }

    /// Where the face is touched, from a place or direction in its axes; the same again is not looked for again.
    #[inline]
    fn touched(
        &self,
        pose: &Pose,
        from: Vec2,
        find: fn(&Face, [f64; 2]) -> Touch,
    ) -> Option<Touch> {
        let (face, from) = (self.face.as_ref()?, from.xy());
        let memo = pose.touched.get(self.index)?;
        if let Some(known) = memo.get()
            && (known.face, known.from) == (face.id(), from)
        {
            return Some(known.touch);
        }
        let touch = find(face, from);
        memo.set(Touched {
            face: face.id(),
            from,
            touch,
        });
        Some(touch)
    }

    /// How much of the face is left to the nearer of its ends, mm; below zero beyond it.
    #[must_use]
    pub fn left(&self, pose: &Pose) -> f64 {
        self.contact(pose).touch.left
    }

    /// Where they touch, in the tool's axes, and the curvature of the face there, 1/mm.
    #[must_use]
    pub fn touch(&self, pose: &Pose) -> (Vec2, f64) {
        let contact = self.contact(pose);
        (pose.place(contact.at), contact.touch.bend)
    }

    /// Direction of the force on the first body.
    #[must_use]
    pub fn normal(&self, pose: &Pose) -> Vec2 {
        self.contact(pose).normal
    }
}

impl Pushed {
    fn of(cam: &Cam) -> Self {
        match cam.follower {
            Follower::Roller(roller) => Self::Roller(0.5 * roller.diameter),
            Follower::Flat { angle, side } => Self::Flat(Vec2::unit(angle) * side),
        }
    }
}

impl Kind for FaceFrame {
    #[inline]
    fn bodies(&self) -> [PartId; 2] {
        match self.like {
            Pushed::Roller(_) => [self.pushed.body, self.datum.body],
            Pushed::Flat(_) => [self.datum.body, self.pushed.body],
        }
    }

    #[inline]
    fn rows(&self) -> Range<usize> {
        self.row..self.row + 1
    }

    fn place(&mut self, tool: &Tool, bodies: &[Body]) {
        let cam = &tool.cams[self.index];
        self.datum = Spot::new(bodies, cam.part, Vec2::ZERO);
        self.pushed = spot_of(tool, bodies, cam.pushes);
        self.like = Pushed::of(cam);
        if let CamFace::Curve(points) = &cam.face {
            let known = self.face.as_ref().map(|face| face.id());
            if known != Some(Face::id_of(points)) {
                self.face = Face::through(points).map(Arc::new);
            }
        }
    }

    fn residual(&self, _linkage: &Linkage, pose: &Pose, out: &mut [f64]) {
        let contact = self.contact(pose);
        let (pushed, at) = (pose.place(self.pushed), pose.place(contact.at));
        out[0] = match self.like {
            Pushed::Roller(radius) => (pushed - at).dot(contact.normal) - radius,
            Pushed::Flat(_) => (at - pushed).dot(contact.normal),
        };
    }

    fn gradient(&self, linkage: &Linkage, pose: &Pose, row: &mut [f64]) {
        let contact = self.contact(pose);
        let (pushed, at) = (pose.place(self.pushed), pose.place(contact.at));
        let [first, second] = self.bodies();
        // Off the face the roller's distance changes as from the place itself; a flat turns with its part, as
        // seen from the place.
        let places = match self.like {
            Pushed::Roller(_) => [pushed, at],
            Pushed::Flat(_) => [at, at],
        };
        linkage.add_gradient(pose, first, places[0], contact.normal, row);
        linkage.add_gradient(pose, second, places[1], -contact.normal, row);
    }

    fn apart(&self, residual: &[f64]) -> f64 {
        residual[0].abs()
    }

    #[inline]
    fn load(&self, _size: f64, multipliers: &[f64]) -> [f64; 2] {
        [multipliers[self.row], 0.0]
    }

    fn act(&self, pose: &Pose, load: [f64; 2], to: &mut (impl Take + ?Sized)) {
        let contact = self.contact(pose);
        Walls::pair(pose, self.ends(&contact), contact.normal * load[0], to);
    }

    /// A roller takes what it is pushed with at its pin, the face where it is touched.
    fn touches(&self, pose: &Pose) -> [Option<Vec2>; 2] {
        match self.like {
            Pushed::Roller(_) => [None, Some(pose.place(self.contact(pose).at))],
            Pushed::Flat(_) => [None; 2],
        }
    }

    /// There where it pushes, without friction too, so that one sees whether it does.
    fn rub(&self, tool: &Tool, wall: Wall) -> Option<Rub> {
        Walls::pushed(tool.cams.get(self.index)?, wall)
    }

    fn rate(&self, pose: &Pose, rates: &Rates, wall: Wall) -> f64 {
        let contact = self.contact(pose);
        let ends = self.ends(&contact);
        self.walls().rate(pose, rates, ends, contact.normal, wall)
    }

    #[inline]
    fn usual_rate(&self, size: f64) -> f64 {
        size
    }

    fn drag(&self, pose: &Pose, friction: f64, wall: Wall, to: &mut (impl Take + ?Sized)) {
        let contact = self.contact(pose);
        let ends = self.ends(&contact);
        (self.walls()).drag(pose, friction, ends, contact.normal, wall, to);
    }
}
