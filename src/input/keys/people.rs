//! The tables that say who uses the tool, and how often.

use super::Omitted::{Means, Nothing, Takes, Wrong};
use super::kind::Kind;
use super::tool::{ANGLE, LENGTH};
use super::{Table, key, table};
use crate::units::Quantity;

pub(super) const GROUP: Kind = Kind::Text("name of a published group");

pub(in crate::input) static JOB: Table = table(&[
    key(
        "strokes",
        Kind::Quantity(Quantity::Frequency),
        Wrong,
        "\"6 /min\"",
        "How often the tool is squeezed while the job is done.",
    ),
    key(
        "held",
        Kind::Quantity(Quantity::Time),
        Wrong,
        "\"1.5 s\"",
        "How long the hand squeezes in each stroke.",
    ),
    key(
        "hours",
        Kind::Above(0.0),
        Takes("8"),
        "8",
        "Hours a day, up to 24.",
    ),
    key(
        "wrist",
        ANGLE,
        Takes("0"),
        "10",
        "Angle of the wrist while it squeezes: flexion (towards the palm) is positive, extension negative.",
    ),
    key(
        "speed",
        Kind::Words(&["very slow", "slow", "fair", "fast", "very fast"]),
        Takes("\"fair\""),
        "\"fair\"",
        "Speed of work, for the Strain Index of 1995: fast is hard to keep up with.",
    ),
    key(
        "population",
        GROUP,
        Means("the hand's limit is how strong the hand is"),
        "\"w-20-24\"",
        "Whose hands: women (w) or men (m) by age, right hand, such as w-20-24 or m-75-up; au-w-20s and the like are \
         of another study, dominant hand.",
    ),
    key(
        "share",
        Kind::Above(0.0),
        Takes("0.75"),
        "0.75",
        "Share of that group whose strength must be enough, below 1.",
    ),
]);

pub(in crate::input) static OPERATORS: Table = table(&[
    key(
        "group",
        GROUP,
        Wrong,
        "\"w-20-24\"",
        "Who they are, as `population` of [job].",
    ),
    key(
        "count",
        Kind::Above(0.0),
        Takes("1"),
        "12",
        "How many of them: their weight among all operators.",
    ),
]);

pub(in crate::input) static HANDLE_SIZE: Table = table(&[
    key(
        "length",
        LENGTH,
        Wrong,
        "115",
        "Length of what is held, back from the outer end of the hand line.",
    ),
    key(
        "width",
        LENGTH,
        Nothing,
        "25",
        "Its section across the plane of the linkage.",
    ),
    key("depth", LENGTH, Nothing, "20", "Its section in that plane."),
]);
