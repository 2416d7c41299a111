//! Why there is no study.

use crate::analysis::Failure;
use crate::motion::MotionError;
use crate::statics::{LocateError, MountError};

/// Why there is no study.
#[derive(Debug, Clone, PartialEq)]
pub enum StudyError {
    /// The tool has no `[tolerances]`.
    NoTolerances,
    /// It has, but none gives any dimension room, and no pin has clearance.
    NothingVaries,
    /// The tool cannot be mounted.
    Mount(MountError),
    /// It cannot be moved.
    Motion(MotionError),
    /// Its strength cannot be found.
    Failure(Failure),
    /// The position of a measure is not on the stroke.
    Position {
        /// The measure.
        measure: String,
        /// Why.
        error: LocateError,
    },
    /// The threads cannot be had.
    Threads(String),
    /// The demands ask for more numbers than can be read off samples in some seconds: so many.
    TooManyMeasures(usize),
    /// More samples than memory holds.
    TooManySamples {
        /// How many it holds.
        most: usize,
    },
}

impl From<MotionError> for StudyError {
    fn from(error: MotionError) -> Self {
        Self::Motion(error)
    }
}
