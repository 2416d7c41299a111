//! The numbers of the hand.

use super::Values;
use crate::units::Quantity;

/// A number of the hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum HandNumber {
    Force,
    Thickness,
    Push,
    Limit,
    HandleLength,
    HandleWidth,
    HandleDepth,
    Glove,
}

impl HandNumber {
    /// What it measures.
    pub(super) fn quantity(self) -> Quantity {
        match self {
            Self::Force | Self::Limit => Quantity::Force,
            Self::Push => Quantity::Angle,
            Self::Thickness
            | Self::HandleLength
            | Self::HandleWidth
            | Self::HandleDepth
            | Self::Glove => Quantity::Length,
        }
    }

    /// Which values it may have.
    pub(super) fn values(self) -> Values {
        match self {
            Self::Force
            | Self::Limit
            | Self::HandleLength
            | Self::HandleWidth
            | Self::HandleDepth => Values::Positive,
            Self::Thickness | Self::Glove => Values::NotNegative,
            Self::Push => Values::Any,
        }
    }
}
