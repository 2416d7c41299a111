//! Numbers of a spring as it is bought.

use super::SpringNumber;
use crate::units::Quantity;

/// A number of a spring as it is bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum WoundNumber {
    Wire,
    /// Mean diameter.
    Coil,
    Outside,
    Turns,
    /// One of the two.
    Leg(usize),
    Mandrel,
    Bore,
    Pin,
    Cycles,
    Modulus,
    Ultimate,
}

impl WoundNumber {
    /// What it measures; `None`: a plain number.
    pub(super) fn quantity(self) -> Option<Quantity> {
        match self {
            Self::Turns | Self::Cycles => None,
            Self::Modulus | Self::Ultimate => Some(Quantity::Stress),
            _ => Some(Quantity::Length),
        }
    }

    /// All of them with the words of their addresses.
    pub(super) const ALL: [(&'static str, SpringNumber); 12] = [
        ("wire", SpringNumber::Wound(Self::Wire)),
        ("coil", SpringNumber::Wound(Self::Coil)),
        ("outside", SpringNumber::Wound(Self::Outside)),
        ("turns", SpringNumber::Wound(Self::Turns)),
        ("legs.1", SpringNumber::Wound(Self::Leg(0))),
        ("legs.2", SpringNumber::Wound(Self::Leg(1))),
        ("mandrel", SpringNumber::Wound(Self::Mandrel)),
        ("guide.bore", SpringNumber::Wound(Self::Bore)),
        ("guide.pin", SpringNumber::Wound(Self::Pin)),
        ("cycles", SpringNumber::Wound(Self::Cycles)),
        ("modulus", SpringNumber::Wound(Self::Modulus)),
        ("ultimate", SpringNumber::Wound(Self::Ultimate)),
    ];
}
