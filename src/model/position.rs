//! What fixes a position of the tool: one reading, and its value there.
//!
//! [`At`] is what a user names and [`Target`] what ends a stroke; both come down to this, and all that looks
//! for a position, or says that there is none, speaks of it.

use super::{At, JawId, PartId, StopId, Target};
use crate::units::Quantity;

/// What a position can be fixed by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FixedBy {
    /// Gap of this jaw.
    Gap(JawId),
    /// Grip span.
    Span,
    /// Handle angle.
    Handle,
    /// Distance of the faces of this stop.
    Stop(StopId),
    /// Angle of the first part's axes against those of the second, not reduced to one turn.
    Turned(PartId, PartId),
}

impl FixedBy {
    /// What it measures, which decides its unit.
    #[must_use]
    pub fn quantity(self) -> Quantity {
        match self {
            Self::Gap(_) | Self::Span | Self::Stop(_) => Quantity::Length,
            Self::Handle | Self::Turned(..) => Quantity::Angle,
        }
    }
}

/// A position as what fixes it. At which grip a span is read, its user knows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fixed {
    /// What is read.
    pub by: FixedBy,
    /// Its value there, mm or rad.
    pub value: f64,
}

impl Fixed {
    fn new(by: FixedBy, value: f64) -> Self {
        Self { by, value }
    }
}

impl Target {
    /// What fixes it.
    #[must_use]
    pub fn fixed(self) -> Fixed {
        match self {
            Self::Gap(gap, jaw) => Fixed::new(FixedBy::Gap(jaw), gap),
            Self::Span(span, _) => Fixed::new(FixedBy::Span, span),
            Self::Handle(angle) => Fixed::new(FixedBy::Handle, angle),
            Self::Stop(stop) => Fixed::new(FixedBy::Stop(stop), 0.0),
        }
    }
}

impl At {
    /// What fixes it, of the jaw in view; `None` for the ends of the stroke, which the stroke fixes, and for peak and least,
    /// which are no position by themselves.
    #[must_use]
    pub fn fixed(self) -> Option<Fixed> {
        match self {
            Self::Gap(gap) => Some(Fixed::new(FixedBy::Gap(JawId::FIRST), gap)),
            Self::Span(span) => Some(Fixed::new(FixedBy::Span, span)),
            Self::Handle(angle) => Some(Fixed::new(FixedBy::Handle, angle)),
            Self::Stop(stop) => Some(Fixed::new(FixedBy::Stop(stop), 0.0)),
            Self::Turned(a, b, angle) => Some(Fixed::new(FixedBy::Turned(a, b), angle)),
            Self::Open | Self::Shut | Self::Peak | Self::Least => None,
        }
    }
}
