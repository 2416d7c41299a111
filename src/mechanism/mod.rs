//! Parts and joints to unknowns and closure equations.
//!
//! # Axes and signs, stated once
//! The tool's axes are those of the fixed part: x to the right, y up, angles counter-clockwise,
//! lengths in mm. Internal numbers are mm, N, rad; moments N mm.
//!
//! # Coordinates
//! A spanning tree of pins from the fixed part places every part by one *absolute* angle. Each
//! tree pin is the `entry` of the outer part; the origin of a part that no pin path ties to the
//! fixed part is placed by two more coordinates, divided by the tool's size so that all
//! coordinates are of one order. Every other joint closes a loop by equations of its own, see
//! [`joint`]. This is the spanning-tree form of loop closure: J. Wittenburg,
//! *Dynamics of Multibody Systems*, 2nd ed. (2008), ch. 5; E. J. Haug, *Computer-Aided Kinematics
//! and Dynamics of Mechanical Systems* (1989), ch. 3.
//!
//! All equations are in mm, all coordinates are plain numbers.

mod build;
mod closed;
mod closed_gears;
mod closed_racks;
mod closed_slides;
mod closure;
mod freedom;
mod guided;
mod hand_line;
mod hold;
pub mod joint;
mod palm;
mod pose;
mod rates;
mod sparse;
mod way;
mod wrench;

use crate::geometry::Vec2;
use crate::model::{JawId, JointId, PartId};
use std::sync::Arc;

pub use closed::Closed;
pub use freedom::{Freedom, Looseness, freedom, looseness};
pub use hand_line::hand_curve;
pub use hold::{GripFrame, HandFrame, JawFrame, Push, PushFrame, Reaction, StopFrame};
pub use joint::{JointFrame, Kind};
pub use palm::PalmFrame;
pub use pose::Pose;
pub use rates::Rates;
pub use sparse::Sparse;
pub use wrench::{Take, Wrench};

/// Marks a body whose angle is no coordinate: the fixed part.
pub const GROUND: usize = usize::MAX;
/// What stands for the parent of a body that is pinned to none in the tree.
pub const ROOT: PartId = PartId::new(usize::MAX);

/// The equations of one tool, as plain numbers. Bodies are numbered as the tool's parts.
#[derive(Debug, Clone)]
pub struct Linkage {
    /// A length of the order of the tool, mm.
    pub size: f64,
    /// Number of coordinates.
    pub coordinates: usize,
    /// How many of them place bodies: the first ones.
    pub placing: usize,
    /// Number of closure equations.
    pub equations: usize,
    /// Bodies, in the order of the tool's parts.
    pub bodies: Vec<Body>,
    /// Moving bodies from the roots outwards.
    pub order: Vec<PartId>,
    /// Joints, in the order of [`crate::model::Tool::all_joints`].
    pub joints: Vec<JointFrame>,
    /// How many of them are pins: the first ones.
    pub pins: usize,
    /// Those with equations.
    pub closing: Vec<JointId>,
    /// The others, which the tree holds.
    pub hung: Vec<JointId>,
    /// Where the hand holds.
    pub hand: HandFrame,
    /// Jaws.
    pub jaws: Vec<JawFrame>,
    /// Stops.
    pub stops: Vec<StopFrame>,
    /// The jaw that closes all the way on the stroke.
    pub lead: JawId,
    /// Coordinates at the sketched position.
    pub sketch: Vec<f64>,
    /// What stands where in the gradients, the handle driving; `None` where they cannot be solved
    /// block by block.
    pub sparse: Option<Arc<Sparse>>,
    /// How positions are found in closed form, the handle driving; `None` where they cannot.
    pub closed: Option<Closed>,
}

impl crate::model::Numbered<PartId> for Body {}

/// A part as the equations see it.
#[derive(Debug, Clone, Copy)]
pub struct Body {
    /// Coordinate that is its absolute angle, or [`GROUND`].
    pub angle: usize,
    /// The body it is pinned to in the tree, or [`ROOT`].
    pub parent: PartId,
    /// From the parent's entry to this body's, in the parent's axes, mm.
    pub exit: Vec2,
    /// Its entry point in its own axes, mm: the tree pin, or its origin.
    pub entry: Vec2,
    /// First of the two coordinates that place its entry, for a root that is not the fixed part;
    /// otherwise [`GROUND`].
    pub slide: usize,
    /// The tree pin, as the index of a point on the parent and on this part; `None` for roots.
    pub pins: Option<[usize; 2]>,
}

/// A point carried by a body: the arm from the body's entry, in its axes, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// The body.
    pub body: PartId,
    /// From the body's entry.
    pub arm: Vec2,
}

impl Spot {
    /// The point of `body` at `at` in its part's axes.
    #[must_use]
    pub fn new(bodies: &[Body], body: PartId, at: Vec2) -> Self {
        Self {
            body,
            arm: (at - bodies[body].entry),
        }
    }
}
