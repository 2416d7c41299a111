//! Why a tool has no answer.

use crate::model::{ModelError, PartId};
use crate::motion::MotionError;
use crate::statics::MountError;

/// Why a tool could not be analysed.
#[derive(Debug, Clone, PartialEq)]
pub enum Failure {
    /// The model breaks a promise.
    Model(ModelError),
    /// The linkage cannot do what the stroke asks.
    Motion(MotionError),
    /// Two parts have plates in one layer that overlap with the tool open.
    Overlap {
        /// The parts.
        parts: [PartId; 2],
        /// The layer.
        layer: u32,
        /// Area that both claim, mm².
        area: f64,
        /// Its middle, `[x, y]` in the fixed part's axes, mm.
        at: [f64; 2],
    },
    /// A check of the answer against itself failed: the numbers are not to be trusted.
    Check {
        /// Which.
        what: &'static str,
        /// Residual found, relative.
        found: f64,
        /// Greatest that is allowed.
        allowed: f64,
    },
}

impl From<ModelError> for Failure {
    fn from(error: ModelError) -> Self {
        Self::Model(error)
    }
}

impl From<MotionError> for Failure {
    fn from(error: MotionError) -> Self {
        Self::Motion(error)
    }
}

impl From<MountError> for Failure {
    fn from(error: MountError) -> Self {
        match error {
            MountError::Model(error) => Self::Model(error),
            MountError::Motion(error) => Self::Motion(error),
        }
    }
}
