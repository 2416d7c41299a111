//! `[life]`.

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
