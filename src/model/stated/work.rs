//! The numbers of the work at a jaw.

use super::Values;
use crate::jobs::Size;
use crate::units::Quantity;

/// A number of the work at a jaw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WorkNumber {
    /// Factor of the curve; 1 is as it is given.
    Scale,
    /// Thickness of a rigid workpiece.
    Rigid,
    /// What an estimated curve is estimated from.
    Of(Size),
    /// Gap at which estimated work is touched, where it is stated.
    Starts,
    /// What the piece springs back.
    Return,
    /// As a spring of which rate it does.
    Stiffness,
}

impl WorkNumber {
    /// What it measures; `None`: a plain number.
    pub(super) fn quantity(self) -> Option<Quantity> {
        match self {
            Self::Scale | Self::Of(Size::Penetration | Size::Friction) => None,
            Self::Of(Size::Shear | Size::Tensile | Size::Flow) => Some(Quantity::Stress),
            Self::Stiffness => Some(Quantity::Rate),
            _ => Some(Quantity::Length),
        }
    }

    /// Which values it may have.
    pub(super) fn values(self) -> Values {
        match self {
            Self::Of(Size::Friction) => Values::Friction,
            Self::Of(Size::Penetration) => Values::Share,
            Self::Of(Size::Rise) | Self::Return => Values::NotNegative,
            _ => Values::Positive,
        }
    }
}
