//! What a table of the file may refer to in the others.

use super::draft::Draft;
use crate::model::{ContactName, Hand, Jaw, JawId, Stop};

/// What measures may refer to.
#[derive(Clone, Copy)]
pub(super) struct Around<'a> {
    pub(super) draft: &'a Draft,
    pub(super) hand: Option<&'a Hand>,
    pub(super) jaws: Jaws<'a>,
    pub(super) stops: Stops<'a>,
    pub(super) contacts: Contacts<'a>,
    /// The jaws whose work some [work] states, well or badly; none where it cannot be told which.
    pub(super) work: &'a [Option<JawId>],
    /// Whether there is a table [tolerances].
    pub(super) tolerances: bool,
    /// Whether there is a table [job].
    pub(super) job: bool,
}

/// The jaws of the file.
#[derive(Clone, Copy)]
pub(super) struct Jaws<'a> {
    pub(super) list: &'a [Jaw],
    /// None was left out for what is wrong in it, so that a name which is not among them is unknown.
    pub(super) complete: bool,
}

impl Jaws<'_> {
    pub(super) fn get(&self, jaw: JawId) -> Option<&Jaw> {
        self.list.get(jaw.index())
    }
}

/// The stops of the file.
#[derive(Clone, Copy)]
pub(super) struct Stops<'a> {
    pub(super) list: &'a [Stop],
    /// As of [`Jaws`].
    pub(super) complete: bool,
}

/// The slots and cams of the file.
#[derive(Clone, Copy)]
pub(super) struct Contacts<'a> {
    pub(super) list: &'a [ContactName],
    /// As of [`Jaws`].
    pub(super) complete: bool,
}
