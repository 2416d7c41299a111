//! Jaws, and the stroke between open and shut.

use super::PointRef;

/// A pair of points between which the tool works.
#[derive(Debug, Clone, PartialEq)]
pub struct Jaw {
    /// Unique name.
    pub name: String,
    /// The point that the work pushes along +axis.
    pub on: PointRef,
    /// The point it works against.
    pub against: PointRef,
    /// Opening direction in `against`'s axes, rad; `None`: along the line between the points.
    pub axis: Option<f64>,
    /// Point distance along the axis at which the gap counts as zero, mm.
    pub closed: f64,
}

/// The stroke to be solved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Where it begins.
    pub open: Target,
    /// Where it ends.
    pub shut: Target,
    /// Number of intervals, equal in handle angle.
    pub steps: usize,
}

/// A place on the motion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Target {
    /// Gap of the first jaw, mm.
    Gap(f64),
    /// Grip span, mm, at the grip given (mm along the line; `None`: the first grip).
    Span(f64, Option<f64>),
    /// Handle angle, rad.
    Handle(f64),
}
