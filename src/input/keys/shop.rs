//! The tables that say what is asked of plates as things: room between them, sheets to cut them from; and the bench.

use super::Omitted::{Means, Takes, Wrong};
use super::kind::Kind;
use super::tool::{ANGLE, LENGTH, SPOT};
use super::{Table, key, table};

pub(in crate::input) static ROOM: Table = table(&[
    key(
        "finger",
        LENGTH,
        Means("25 mm"),
        "25",
        "Clear width that fingers take: a place that is wider with the tool open, and narrower than this with it \
         shut, may catch them.",
    ),
    key(
        "apart",
        LENGTH,
        Means("they may come as near as they like"),
        "0.3",
        "Least distance that plates in one layer are to keep.",
    ),
    key(
        "reach",
        Kind::Words(&["hand", "all"]),
        Takes("\"hand\""),
        "\"all\"",
        "Where fingers are looked for: round the handles, or between all parts.",
    ),
]);

pub(in crate::input) static STOCK: Table = table(&[
    key(
        "margin",
        LENGTH,
        Means("nothing is kept"),
        "3",
        "Kept between blanks on a sheet: half of it is counted round each.",
    ),
    key(
        "thickness",
        Kind::List(&LENGTH, 1),
        Means("any thickness is at hand"),
        "[2, 3, 4, 5, 6, 8]",
        "Thicknesses of the sheets at hand.",
    ),
]);

pub(in crate::input) static BENCH: Table = table(&[
    key(
        "at",
        SPOT,
        Wrong,
        "[0, -80]",
        "Where the fixed part stands on the bench: the middle of its base, where forces and moment of the bench are told.",
    ),
    key(
        "up",
        ANGLE,
        Means("90: the bench is below"),
        "90",
        "Direction out of the bench and into the tool.",
    ),
]);
