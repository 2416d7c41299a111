//! Places that meet both targets and are no stroke, as they are told.

use super::events::Happening;
use super::hits::Stop;

/// Handle angle (rad) and gap (mm) of a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// Handle angle, rad.
    pub handle: f64,
    /// Gap, mm: of the jaw in view; where there is no stroke, of the one that should close on it.
    pub gap: f64,
}

impl Mark {
    pub(super) fn of(stop: &Stop) -> Self {
        Self {
            handle: stop.handle,
            gap: stop.gap,
        }
    }

    /// With the gap of the jaw that should close.
    pub(super) fn of_lead(stop: &Stop) -> Self {
        Self {
            handle: stop.handle,
            gap: stop.lead_gap,
        }
    }

    /// The same place, so much taken off the handle angle.
    pub(super) fn less(self, off: f64) -> Self {
        Self {
            handle: self.handle - off,
            ..self
        }
    }
}

/// Why a pair of places is no stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Refusal {
    /// The jaw opens all the way, and nothing else is wrong.
    Opens,
    /// This happens on the way.
    Past(Happening, Mark),
    /// The open or the shut target (`"open"`, `"shut"`) is met on the way too.
    Again(&'static str, Mark),
}

/// A pair of places that meet both targets, and is no stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Candidate {
    /// Where the open target is met.
    pub open: Mark,
    /// Where the shut target is met.
    pub shut: Mark,
    /// Why it is no stroke.
    pub refusal: Refusal,
}
