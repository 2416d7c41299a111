//! Jaws, and the stroke between open and shut.

use super::{JawId, Numbered, PointRef, StopId, Work};

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
    /// What the job needs at this jaw.
    pub work: Option<Work>,
}

impl Numbered<JawId> for Jaw {}

/// The stroke to be solved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Where it begins.
    pub open: Target,
    /// Where it ends.
    pub shut: Target,
    /// Number of intervals, equal in handle angle.
    pub steps: usize,
    /// The jaw that closes on it all the way: the first of the tool file, whichever is in view.
    pub lead: JawId,
}

/// The direction of the stroke, which decides the sense of friction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Direction {
    /// The hand closes the tool.
    #[default]
    Closing,
    /// The work or a spring opens it: the return stroke.
    Opening,
}

impl Direction {
    /// The return stroke if `opening`.
    #[must_use]
    pub fn of(opening: bool) -> Self {
        if opening {
            Self::Opening
        } else {
            Self::Closing
        }
    }

    /// +1 closing, −1 opening.
    #[must_use]
    pub fn sign(self) -> f64 {
        match self {
            Self::Closing => 1.0,
            Self::Opening => -1.0,
        }
    }
}

/// A place on the motion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Target {
    /// Gap of this jaw, mm.
    Gap(f64, JawId),
    /// Grip span, mm, at the grip given (mm along the line; `None`: the first grip).
    Span(f64, Option<f64>),
    /// Handle angle, rad.
    Handle(f64),
    /// Where the faces of this stop meet.
    Stop(StopId),
}
