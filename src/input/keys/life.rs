//! `[life]` and `[trial]`: how long the tool lasts, and what it did on the bench.

use super::Omitted::{Takes, Wrong};
use super::kind::Kind;
use super::{Table, key, table};

pub(in crate::input) static LIFE: Table = table(&[
    key(
        "strokes",
        Kind::Above(0.0),
        Wrong,
        "200000",
        "Strokes that pins and parts have to last; springs of wire too where they state no `cycles`.",
    ),
    key(
        "against",
        Kind::Words(&["goodman", "soderberg"]),
        Takes("\"goodman\""),
        "\"soderberg\"",
        "What a mean stress is held against: the ultimate strength (Goodman), or the yield strength (Soderberg).",
    ),
    key(
        "reliability",
        Kind::Number(50.0, 100.0),
        Takes("50"),
        "90",
        "Share of the parts that have to last, per cent, at most 99.99.",
    ),
]);

pub(in crate::input) static TRIAL: Table = table(&[
    key(
        "data",
        Kind::Text("path of a CSV file"),
        Wrong,
        "\"bench.csv\"",
        "Readings, from the tool file's folder: gap, jaw_force, hand_force, direction (closing or opening), and grip \
         where it is not the first. `trial FILE --sheet` prints a file to fill in.",
    ),
    key(
        "error",
        Kind::Above(0.0),
        Takes("5"),
        "3",
        "Error of a reading, per cent of itself, at most 100: what the band is widened by.",
    ),
]);
