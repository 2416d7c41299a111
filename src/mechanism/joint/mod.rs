//! What each kind of joint is to the equations: one file for each kind.
//!
//! [`Kind`] is everything that is asked of a kind. Closure, free bodies, friction, sheets and errors
//! go over [`Linkage::joints`] and ask; none of them knows what kinds there are. A new kind is a file
//! here with its type and its `impl Kind`, and its lines in [`JointFrame`].
//!
//! # Room for kinds to come
//! - *More or fewer equations*: a kind takes its rows from [`Tally::equations`] when it is made, as many
//!   as it has, and keeps the first.
//! - *An unknown of a contact's own*, such as its place on a curve: the kind takes a coordinate from
//!   [`Tally::coordinates`] in the same way. It stands behind those that place bodies
//!   ([`Linkage::placing`]), in `pose.q` and in the columns of the gradient, and its rate is in
//!   `rates.tangent`; [`Kind::start`] gives it its first value. It moves no body, so no force is summed
//!   up for it.
//! - *Where it rubs*: at one place, or, as a roller between the walls of its slot, at one of two ([`Wall`]).
//! - *A contact that only pushes* has the same rows as one that holds both ways. Whether it still
//!   touches is told by the sign of its load, the first number of which is the force along the
//!   row's normal: it is for the one that asks for forces to look.

mod arc;
mod cam;
mod face;
mod gear;
mod key;
mod kind;
mod mesh;
mod pin;
mod rack;
mod rub;
mod slot;
#[cfg(test)]
mod tests;
mod wall;

pub use arc::ArcFrame;
pub use cam::{CamFrame, Like};
pub use face::FaceFrame;
pub use gear::GearFrame;
pub use key::KeyFrame;
pub(in crate::mechanism) use kind::resolve;
pub use kind::{Kind, Tally};
pub use pin::{Held, PinFrame};
pub use rack::RackFrame;
pub use rub::{ContactForce, Rub, Wall};
pub use slot::SlotFrame;

use crate::geometry::Vec2;
use crate::mechanism::{Body, Linkage, Pose, Rates, Take, Wrench};
use crate::model::{Joint, JointId, Mesh, Numbered, PartId, SlotLine, Tool};
use std::ops::Range;

impl Numbered<JointId> for JointFrame {}

impl JointFrame {
    /// A joint of the tool, not placed yet. `child_is_part`: see [`Held::Tree`]; `None` where the
    /// tree does not hold it.
    #[must_use]
    pub fn new(joint: Joint<'_>, child_is_part: Option<bool>, tally: &mut Tally) -> Self {
        match joint {
            Joint::Pin(index, pin) => Self::Pin(PinFrame::new(index, pin, child_is_part, tally)),
            Joint::Cam(index, cam) => Self::Cam(CamFrame::new(index, cam, tally)),
            Joint::Slot(index, slot) => match (slot.line, slot.keyed) {
                (SlotLine::Arc { radius, .. }, _) => {
                    Self::Arc(ArcFrame::new(index, slot, radius, tally))
                }
                (SlotLine::Straight { angle, .. }, None) => {
                    Self::Slot(SlotFrame::new(index, slot, angle, tally))
                }
                (SlotLine::Straight { angle, .. }, Some(turn)) => {
                    Self::Key(KeyFrame::new(index, slot, [angle, turn], tally))
                }
            },
            Joint::Gears(index, gears) => match gears.mesh {
                Mesh::Rack { .. } => Self::Rack(RackFrame::new(index, gears, tally)),
                Mesh::External | Mesh::Internal => Self::Gear(GearFrame::new(index, gears, tally)),
            },
        }
    }
}

/// Makes the enum of all kinds, which passes every question on.
macro_rules! kinds {
    ($($(#[$what:meta])* $kind:ident($frame:ident),)+) => {
        /// A joint as the equations see it.
        #[derive(Debug, Clone)]
        pub enum JointFrame {
            $($(#[$what])* $kind($frame),)+
        }

        impl Kind for JointFrame {
            #[inline]
            fn bodies(&self) -> [PartId; 2] {
                match self { $(Self::$kind(joint) => joint.bodies(),)+ }
            }
            #[inline]
            fn rows(&self) -> Range<usize> {
                match self { $(Self::$kind(joint) => joint.rows(),)+ }
            }
            fn columns(&self, linkage: &Linkage, row: usize) -> Vec<usize> {
                match self { $(Self::$kind(joint) => joint.columns(linkage, row),)+ }
            }
            fn place(&mut self, tool: &Tool, bodies: &[Body]) {
                match self { $(Self::$kind(joint) => joint.place(tool, bodies),)+ }
            }
            fn start(&self, linkage: &Linkage, q: &mut [f64]) {
                match self { $(Self::$kind(joint) => joint.start(linkage, q),)+ }
            }
            fn wind(&mut self, linkage: &Linkage, pose: &Pose) {
                match self { $(Self::$kind(joint) => joint.wind(linkage, pose),)+ }
            }
            #[inline]
            fn residual(&self, linkage: &Linkage, pose: &Pose, out: &mut [f64]) {
                match self { $(Self::$kind(joint) => joint.residual(linkage, pose, out),)+ }
            }
            #[inline]
            fn gradient(&self, linkage: &Linkage, pose: &Pose, rows: &mut [f64]) {
                match self { $(Self::$kind(joint) => joint.gradient(linkage, pose, rows),)+ }
            }
            fn apart(&self, residual: &[f64]) -> f64 {
                match self { $(Self::$kind(joint) => joint.apart(residual),)+ }
            }
            #[inline]
            fn load(&self, size: f64, multipliers: &[f64]) -> [f64; 2] {
                match self { $(Self::$kind(joint) => joint.load(size, multipliers),)+ }
            }
            #[inline]
            fn hung_load(&self, sums: &[Wrench]) -> [f64; 2] {
                match self { $(Self::$kind(joint) => joint.hung_load(sums),)+ }
            }
            #[inline]
            fn act(&self, pose: &Pose, load: [f64; 2], to: &mut (impl Take + ?Sized)) {
                match self { $(Self::$kind(joint) => joint.act(pose, load, to),)+ }
            }
            fn touches(&self, pose: &Pose) -> [Option<Vec2>; 2] {
                match self { $(Self::$kind(joint) => joint.touches(pose),)+ }
            }
            fn rub(&self, tool: &Tool, wall: Wall) -> Option<Rub> {
                match self { $(Self::$kind(joint) => joint.rub(tool, wall),)+ }
            }
            #[inline]
            fn rate(&self, pose: &Pose, rates: &Rates, wall: Wall) -> f64 {
                match self { $(Self::$kind(joint) => joint.rate(pose, rates, wall),)+ }
            }
            #[inline]
            fn usual_rate(&self, size: f64) -> f64 {
                match self { $(Self::$kind(joint) => joint.usual_rate(size),)+ }
            }
            #[inline]
            fn drag(&self, pose: &Pose, friction: f64, wall: Wall, to: &mut (impl Take + ?Sized)) {
                match self { $(Self::$kind(joint) => joint.drag(pose, friction, wall, to),)+ }
            }
            fn spreads(&self) -> Option<Rub> {
                match self { $(Self::$kind(joint) => joint.spreads(),)+ }
            }
            fn spread(&self, pose: &Pose, force: f64, to: &mut (impl Take + ?Sized)) {
                match self { $(Self::$kind(joint) => joint.spread(pose, force, to),)+ }
            }
            fn play(&mut self, bodies: &mut [Body], shift: Vec2) {
                match self { $(Self::$kind(joint) => joint.play(bodies, shift),)+ }
            }
            fn play_axes(&self) -> PartId {
                match self { $(Self::$kind(joint) => joint.play_axes(),)+ }
            }
        }
    };
}

kinds! {
    /// A pin in a hole.
    Pin(PinFrame),
    /// A pin in a straight slot.
    Slot(SlotFrame),
    /// A slider that may not turn in its straight slot.
    Key(KeyFrame),
    /// A pin in an arc slot.
    Arc(ArcFrame),
    /// A cam that pushes a roller or a flat.
    Cam(CamFrame),
    /// Two tooth sectors.
    Gear(GearFrame),
    /// A rack and pinion.
    Rack(RackFrame),
}
