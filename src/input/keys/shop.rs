//! The tables that say what is asked of plates as things: room between them.

use super::Omitted::{Means, Takes};
use super::kind::Kind;
use super::tool::LENGTH;
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
