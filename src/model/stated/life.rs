//! The numbers of the life that is asked for.

use super::Values;

/// A number of the life.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum LifeNumber {
    Strokes,
    Reliability,
}

impl LifeNumber {
    /// Which values it may have.
    pub(super) fn values(self) -> Values {
        match self {
            Self::Strokes => Values::Strokes,
            Self::Reliability => Values::Reliability,
        }
    }
}
