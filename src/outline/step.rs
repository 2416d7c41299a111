//! The steps that a path is made of.

use crate::geometry::Vec2;

/// One step of a path.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Where it ends, mm.
    pub to: Vec2,
    /// How it gets there.
    pub way: Way,
    /// Radius at the corner at its end, mm; zero leaves the corner.
    pub round: f64,
}

/// How a step gets to its end.
#[derive(Debug, Clone, PartialEq)]
pub enum Way {
    /// Straight.
    Straight,
    /// By the shorter arc of this radius, mm: positive turns left, negative right.
    Arc(f64),
    /// By one smooth run through points on the way.
    Smooth {
        /// The points, without both ends, mm.
        through: Vec<Vec2>,
        /// Whether it leaves and meets its neighbours without a corner.
        tangent: bool,
    },
}
