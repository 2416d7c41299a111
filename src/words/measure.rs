//! Why a measure cannot be read off a tool.

use crate::measure::MeasureError;
use std::fmt;

impl fmt::Display for MeasureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown { name, known } => write!(
                f,
                "there is no measure `{name}`; measures: {}",
                known.join(", ")
            ),
            Self::NoPin { label, pins } => {
                write!(f, "there is no pin `{label}`; pins: {}", pins.join(", "))
            }
            Self::NoJaw { name, jaws } => {
                write!(f, "there is no jaw `{name}`; jaws: {}", jaws.join(", "))
            }
            Self::NoStop { stops, .. } if stops.is_empty() => {
                f.write_str("the tool has no stop: add a table [[stops]]")
            }
            Self::NoStop { name, stops } if name.is_empty() => {
                write!(f, "say which stop: stop_load.NAME; stops: {}", stops.join(", "))
            }
            Self::NoStop { name, stops } => {
                write!(f, "there is no stop `{name}`; stops: {}", stops.join(", "))
            }
            Self::NoContact { contacts, .. } if contacts.is_empty() => {
                f.write_str("the tool has nothing of the kind: add a table [[cams]]")
            }
            Self::NoContact { name, contacts } if name.is_empty() => {
                write!(f, "say which: {}", contacts.join(", "))
            }
            Self::NoContact { name, contacts } => {
                write!(f, "there is no contact `{name}`; contacts: {}", contacts.join(", "))
            }
            Self::WhichPin(word, pins) => {
                write!(f, "say which pin: {word}.NAME; pins: {}", pins.join(", "))
            }
            Self::NothingFollows { name, word } => {
                write!(f, "`{name}`: nothing follows `{word}`")
            }
            Self::NoWork => f.write_str(
                "it follows from what the work needs of the hand, and there is no [work] at that jaw",
            ),
            Self::NoJob(word) => write!(f, "`{word}` is about repeated use: it needs a table [job]"),
            Self::NoShare => f.write_str(
                "`hand_share` is what the work needs over what the hand can give: it needs [work] at that jaw and [hand] limit",
            ),
            Self::NoTolerances => f.write_str(
                "`yield` is the share of the made tools that meet every other demand, and nothing says how exact \
                 they are: add [tolerances]",
            ),
            Self::NoSecondHandle => {
                f.write_str("`span` needs a second handle: [hand] against")
            }
        }
    }
}

impl std::error::Error for MeasureError {}
