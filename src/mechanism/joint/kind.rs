//! What is asked of a kind of joint.

use super::rub::{Rub, Wall};
use crate::geometry::Vec2;
use crate::mechanism::{Body, Linkage, Pose, Rates, Spot, Take, Wrench};
use crate::model::{PartId, Place, PointRef, Tool};
use std::ops::Range;

/// What is asked of a kind of joint. Of its two bodies the first is the one whose force is listed.
///
/// Places and forces are in the tool's axes, mm and N.
pub trait Kind {
    /// The two bodies: the later part or the rider, and the carrier or the part that is ridden on.
    fn bodies(&self) -> [PartId; 2];

    /// Its closure equations; none where the tree of pins holds it.
    fn rows(&self) -> Range<usize>;

    /// Coordinates that this equation of its own may depend on, in order.
    fn columns(&self, linkage: &Linkage, _row: usize) -> Vec<usize> {
        linkage.loop_columns(self.bodies())
    }

    /// Takes over the dimensions of `tool`, and takes away all play.
    fn place(&mut self, tool: &Tool, bodies: &[Body]);

    /// Puts the angles of the sketched position, and an unknown of its own, to where its equations
    /// are nearly met.
    fn start(&self, _linkage: &Linkage, _q: &mut [f64]) {}

    /// Takes note of the whole turns in which the sketched angles stand, where its equations ask for angles
    /// that are not reduced to one turn.
    fn wind(&mut self, _linkage: &Linkage, _pose: &Pose) {}

    /// Residuals of its equations, mm.
    fn residual(&self, linkage: &Linkage, pose: &Pose, out: &mut [f64]);

    /// Adds the gradients of its equations by the coordinates to `rows`, one row after the other.
    fn gradient(&self, linkage: &Linkage, pose: &Pose, rows: &mut [f64]);

    /// Distance that residuals of its equations leave between its two sides, mm.
    fn apart(&self, residual: &[f64]) -> f64;

    /// Its load, from the forces of the closure equations. Two numbers: of a pin the force on the
    /// later part; of a joint that slides the force on the rider along the normal (N) and the moment
    /// on it (N mm).
    fn load(&self, size: f64, multipliers: &[f64]) -> [f64; 2];

    /// The same where the tree holds it, from the sums of all that acts on each body and on what
    /// hangs on it. Only pins are in the tree.
    #[inline]
    fn hung_load(&self, _sums: &[Wrench]) -> [f64; 2] {
        [0.0; 2]
    }

    /// What a load does to each body: the first body, then the second.
    fn act(&self, pose: &Pose, load: [f64; 2], to: &mut (impl Take + ?Sized));

    /// Where its bodies, the first and the second, are touched, in the tool's axes, mm; `None` of a body whose force the
    /// equations have there already. They may take the same load at another place along its line: for what it does inside
    /// of a part, only this one is right.
    fn touches(&self, _pose: &Pose) -> [Option<Vec2>; 2] {
        [None; 2]
    }

    /// What rubs at one of the two places where a joint may; `None` where nothing does.
    fn rub(&self, tool: &Tool, wall: Wall) -> Option<Rub>;

    /// Rate at which it rubs, of its first body against the second: rad where it turns, mm where it
    /// slides.
    fn rate(&self, pose: &Pose, rates: &Rates, wall: Wall) -> f64;

    /// Rate of an ordinary motion of a linkage of that size, per length of the tangent.
    fn usual_rate(&self, size: f64) -> f64;

    /// What friction does to each body. `friction` (N or N mm) is positive along [`Kind::rate`].
    fn drag(&self, pose: &Pose, friction: f64, wall: Wall, to: &mut (impl Take + ?Sized));

    /// What presses its bodies apart, or together, whenever it carries a load: a force without power that
    /// is no part of its equations. `None` where nothing does.
    fn spreads(&self) -> Option<Rub> {
        None
    }

    /// What such a force (N) does to each body.
    fn spread(&self, _pose: &Pose, _force: f64, _to: &mut (impl Take + ?Sized)) {}

    /// Shifts the first body's side off the other by `shift`, in the axes of [`Kind::play_axes`]. Pins have
    /// play, and gears along the pitch line.
    fn play(&mut self, _bodies: &mut [Body], _shift: Vec2) {}

    /// The body in whose axes play is given.
    fn play_axes(&self) -> PartId {
        self.bodies()[1]
    }
}

/// Equations and coordinates given out so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tally {
    /// Closure equations.
    pub equations: usize,
    /// Coordinates.
    pub coordinates: usize,
}

/// A named point of the tool.
pub(super) fn spot_of(tool: &Tool, bodies: &[Body], at: PointRef) -> Spot {
    Spot::new(
        bodies,
        at.part,
        tool.parts[at.part].points[at.point].at.into(),
    )
}

/// A place of a part.
pub(super) fn spot_at(tool: &Tool, bodies: &[Body], part: PartId, place: Place) -> Spot {
    Spot::new(bodies, part, resolve(tool, part, place))
}

/// Coordinates of a place of a part, in its axes.
pub(in crate::mechanism) fn resolve(tool: &Tool, part: PartId, place: Place) -> Vec2 {
    match place {
        Place::At(at) => at.into(),
        Place::Point(point) => tool.parts[part].points[point].at.into(),
    }
}

/// A spot that is not placed yet.
pub(super) fn unplaced(body: PartId) -> Spot {
    Spot {
        body,
        arm: Vec2::ZERO,
    }
}
