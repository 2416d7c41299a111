//! Outlines of plates: borders of lines and arcs, and what can be measured on them.
//!
//! Plain numbers in and out, mm and rad, in axes of the plate's own; x right, y up, angles counter-clockwise.
//! Material lies on the left of every border: outer borders run counter-clockwise, openings clockwise.
//!
//! [`path`] and [`belts`] make borders, [`Shape::new`] checks them and adds holes. A [`Shape`] then tells its
//! [`Moments`], what lies inside, how near it comes to another ([`Shape::gap`]) and what a straight cut goes
//! through ([`Shape::cut`], [`Shape::section`]). Errors are a [`Fault`]: which entry, where, by how much.
//!
//! Smooth runs become arcs once, when they are read ([`SMOOTH`]); everything is then exact for lines and arcs.

mod belts;
mod borders;
mod bounds;
mod crossing;
mod cut;
mod edges;
mod fault;
mod gap;
mod hole;
mod hull;
mod moments;
mod overlap;
mod pair;
mod path;
mod piece;
mod section;
mod shape;
mod side;
mod smooth;
mod step;
mod throat;
mod tree;
mod union;
mod winding;

pub use belts::{MOST_DISCS, belts};
pub use borders::Border;
pub use bounds::Bounds;
pub use cut::{Hit, Span};
pub use edges::Edges;
pub use fault::Fault;
pub use gap::Gap;
pub use hole::Hole;
pub use hull::Disc;
pub use moments::Moments;
pub use overlap::{Overlap, overlap};
pub use path::path;
pub use piece::{Arc, Piece};
pub use shape::{Nearest, Shape};
pub use side::Side;
pub use step::{Step, Way};

/// The farthest that a coordinate may be from the origin, mm: beyond, rounding is more than
/// 1e-9 mm.
pub const FARTHEST: f64 = 1e7;

/// The shortest piece and the smallest hole, mm.
pub const LEAST: f64 = 1e-3;

/// The farthest that the arcs of a smooth run are from its curve, mm.
pub const SMOOTH: f64 = 1e-3;

#[cfg(test)]
mod tests;
