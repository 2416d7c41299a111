//! The table of the ratchet.

use super::Omitted::{Nothing, Takes, Wrong};
use super::grasp::TARGET;
use super::kind::Kind;
use super::tool::{A_PART, ANGLE, FRICTION, LENGTH, SPOT};
use super::{Table, key, table};
use crate::units::Quantity;

pub(in crate::input) static RATCHET: Table = table(&[
    key(
        "teeth-on",
        A_PART,
        Wrong,
        "\"lever\"",
        "The part that has the teeth.",
    ),
    key(
        "about",
        Kind::Name("name of a pin"),
        Wrong,
        "\"heel\"",
        "The pin about which it turns on the part of the pawl.",
    ),
    key(
        "pawl",
        Kind::Table(&PAWL),
        Wrong,
        "{ on = \"frame\", pin = [-8, 14], length = 9, spring = \"12 N mm\" }",
        "What holds the teeth.",
    ),
    key(
        "radius",
        LENGTH,
        Wrong,
        "20",
        "Of the tips of the teeth about that pin.",
    ),
    key("pitch", ANGLE, Wrong, "3", "From tooth to tooth."),
    key(
        "engages",
        Kind::Table(&TARGET),
        Wrong,
        "{ gap = 6 }",
        "Where the pawl falls behind the first tooth.",
    ),
    key(
        "frees",
        Kind::Table(&TARGET),
        Wrong,
        "{ gap = 0.05 }",
        "Where the last tooth has let it go, at the latest: the teeth stand at whole pitches from the first.",
    ),
    key(
        "over-travel",
        ANGLE,
        Wrong,
        "1.5",
        "How far the teeth must turn on from there, for the pawl to turn over.",
    ),
    key(
        "height",
        LENGTH,
        Nothing,
        "1.2",
        "Of the teeth: for the drag of the pawl, and the strength of a tooth.",
    ),
    key(
        "face",
        LENGTH,
        Nothing,
        "4",
        "Width of the teeth: for their strength.",
    ),
    key(
        "flank",
        ANGLE,
        Takes("0"),
        "12",
        "Undercut of the flanks that hold: their angle to the radius, below 45 degrees.",
    ),
    key(
        "friction",
        FRICTION,
        Takes("0"),
        "0.15",
        "Coefficient of friction of pawl and teeth.",
    ),
    key(
        "material",
        Kind::Name("name of a material"),
        Nothing,
        "\"plate\"",
        "Of the teeth: for their strength factor.",
    ),
]);

pub(in crate::input) static PAWL: Table = table(&[
    key(
        "on",
        A_PART,
        Wrong,
        "\"frame\"",
        "The part that carries it.",
    ),
    key(
        "pin",
        SPOT,
        Wrong,
        "[-8, 14]",
        "Its pin, in the axes of that part.",
    ),
    key("length", LENGTH, Wrong, "9", "From its pin to its tip."),
    key(
        "spring",
        Kind::Quantity(Quantity::Torque),
        Wrong,
        "12",
        "Moment with which its spring presses it against the teeth.",
    ),
]);
