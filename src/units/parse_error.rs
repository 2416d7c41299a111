//! Why a text is not the quantity wanted, and what to do about it.

use std::fmt;
use std::ops::Range;

use super::Quantity;
use super::table::UNITS;
use super::words::{article, examples, unit_hint};

/// Why a text is not the quantity wanted, and where in the text.
#[derive(Debug, Clone, PartialEq)]
pub struct ParseError {
    /// What is wrong.
    pub kind: ParseErrorKind,
    /// Bytes of the text that are at fault; may be empty, at the end of the text.
    pub at: Range<usize>,
}

/// What can be wrong with the text of a quantity.
#[derive(Debug, Clone, PartialEq)]
pub enum ParseErrorKind {
    /// It does not begin with a number, or the number is not written with a decimal point.
    Number {
        /// What was wanted; `None` for a plain number.
        want: Option<Quantity>,
    },
    /// The number is `nan`, `inf`, or too large or too small to be held.
    NotFinite,
    /// A unit is needed and there is none.
    NoUnit {
        /// What was wanted.
        want: Quantity,
    },
    /// A unit that is not known.
    UnknownUnit {
        /// The unit as written.
        name: String,
    },
    /// A unit of another kind.
    WrongKind {
        /// What was wanted.
        want: Quantity,
        /// What the unit measures, in words.
        got: String,
    },
}

impl ParseError {
    /// What to do about it.
    #[must_use]
    pub fn help(&self) -> String {
        match &self.kind {
            ParseErrorKind::Number { want: None } => "write digits with a decimal point".to_owned(),
            ParseErrorKind::Number { want: Some(want) } => format!(
                "write digits with a decimal point, then the unit: {}",
                examples(*want)
            ),
            ParseErrorKind::NotFinite => "write a finite number".to_owned(),
            ParseErrorKind::NoUnit { want } => {
                format!("give the unit, such as {}", examples(*want))
            }
            ParseErrorKind::UnknownUnit { name } => {
                unit_hint(name, UNITS.iter().map(|unit| unit.0))
            }
            ParseErrorKind::WrongKind {
                want: Quantity::Force,
                got,
            } if got == article(Quantity::Mass) => {
                "write `lbf` for a force in pounds, `kgf` for one in kilograms".to_owned()
            }
            ParseErrorKind::WrongKind { want, .. } => {
                format!(
                    "{} is wanted here, such as {}",
                    article(*want),
                    examples(*want)
                )
            }
        }
    }
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.kind {
            ParseErrorKind::Number { want: None } => f.write_str("this is not a plain number"),
            ParseErrorKind::Number { want: Some(_) } => {
                f.write_str("this is not a number with a unit")
            }
            ParseErrorKind::NotFinite => f.write_str("this number is not finite"),
            ParseErrorKind::NoUnit { want } => {
                write!(f, "this text has no unit, and {} needs one", article(*want))
            }
            ParseErrorKind::UnknownUnit { name } => write!(f, "unknown unit `{name}`"),
            ParseErrorKind::WrongKind { want, got } => {
                write!(f, "this is {got}, not {}", article(*want))
            }
        }
    }
}

impl std::error::Error for ParseError {}
