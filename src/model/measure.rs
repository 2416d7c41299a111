//! The vocabulary of measures: names, what they measure, and over what they are read.

use crate::units::Quantity;

/// Over what a measure is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reads {
    /// At one position of the stroke.
    Position,
    /// Over the whole stroke.
    Stroke,
}

/// What a measure measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MeasureKind {
    /// Its quantity; `None` for plain numbers.
    pub quantity: Option<Quantity>,
    /// Over what it is read.
    pub reads: Reads,
    /// What may or must follow the name behind a full stop.
    pub suffix: Suffix,
}

/// What follows a measure's name behind a full stop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Suffix {
    /// Nothing.
    None,
    /// The label of a pin joint: `pin_load.knee`.
    Joint,
    /// A part or pin, or nothing: `safety`, `safety.ram`.
    PartOrPin,
}

/// Every measure by its first word.
pub const MEASURES: &[(&str, MeasureKind)] = &[
    ("gap", at_position(Some(Quantity::Length))),
    ("handle", at_position(Some(Quantity::Angle))),
    ("travel", at_position(Some(Quantity::Angle))),
    ("span", at_position(Some(Quantity::Length))),
    ("ratio", at_position(None)),
    ("jaw_force", at_position(Some(Quantity::Force))),
    ("hand_force", at_position(Some(Quantity::Force))),
    ("hand_share", at_position(None)),
    ("efficiency", at_position(None)),
    (
        "pin_load",
        MeasureKind {
            suffix: Suffix::Joint,
            ..at_position(Some(Quantity::Force))
        },
    ),
    (
        "safety",
        MeasureKind {
            quantity: None,
            reads: Reads::Stroke,
            suffix: Suffix::PartOrPin,
        },
    ),
    ("hand_work", over_stroke()),
    ("jaw_work", over_stroke()),
];

const fn at_position(quantity: Option<Quantity>) -> MeasureKind {
    MeasureKind {
        quantity,
        reads: Reads::Position,
        suffix: Suffix::None,
    }
}

const fn over_stroke() -> MeasureKind {
    MeasureKind {
        quantity: Some(Quantity::Energy),
        reads: Reads::Stroke,
        suffix: Suffix::None,
    }
}

/// The kind of a measure, by its full name, and what follows the first full stop of it.
#[must_use]
pub fn measure_kind(name: &str) -> Option<(MeasureKind, Option<&str>)> {
    let (first, rest) = match name.split_once('.') {
        Some((first, rest)) => (first, Some(rest)),
        None => (name, None),
    };
    MEASURES
        .iter()
        .find(|(known, _)| *known == first)
        .map(|(_, kind)| (*kind, rest))
}
