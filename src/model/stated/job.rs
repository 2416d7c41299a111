//! The numbers of the job.

use super::Values;
use crate::units::Quantity;

/// A number of the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum JobNumber {
    Strokes,
    Held,
    Hours,
    Wrist,
    Share,
}

impl JobNumber {
    /// What it measures; `None`: a plain number.
    pub(super) fn quantity(self) -> Option<Quantity> {
        match self {
            Self::Strokes => Some(Quantity::Frequency),
            Self::Held => Some(Quantity::Time),
            Self::Wrist => Some(Quantity::Angle),
            Self::Hours | Self::Share => None,
        }
    }

    /// Which values it may have.
    pub(super) fn values(self) -> Values {
        match self {
            Self::Strokes | Self::Held => Values::Positive,
            Self::Hours => Values::Hours,
            Self::Wrist => Values::Any,
            Self::Share => Values::Share,
        }
    }
}
