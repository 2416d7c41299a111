//! Why a report could not be put into a format.

use crate::output::finite::NotFinite;
use std::fmt;

/// Why a report could not be put into a format.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OutputError {
    /// A number of the report is not finite: a mistake of the program, never shown as a result.
    NotFinite(NotFinite),
    /// There is no stroke with positions: of several tools or variants none could be solved.
    NothingToDraw,
    /// The library that writes the format gave up.
    Writer(String),
}

impl fmt::Display for OutputError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFinite(place) => write!(f, "{place}"),
            Self::NothingToDraw => f.write_str("there is nothing to draw: no stroke was solved"),
            Self::Writer(text) => write!(f, "cannot write the result: {text}"),
        }
    }
}

impl std::error::Error for OutputError {}

impl From<NotFinite> for OutputError {
    fn from(place: NotFinite) -> Self {
        Self::NotFinite(place)
    }
}
