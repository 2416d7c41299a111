//! What is read off samples: a measure, where, and what is asked of it.

use crate::measure::Measure;
use crate::model::{At, Bound, JawId};

/// What stays the same when a measure is read off different tools.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// The position as the tool file defines it.
    Position,
    /// The handle angle of the position on the nominal tool, since the definition is the measure.
    NominalHandle,
    /// Nothing: it is read over the whole stroke.
    Stroke,
}

/// A measure, where it is read, and what is asked of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Subject {
    /// Which.
    pub measure: Measure,
    /// Of which jaw.
    pub jaw: JawId,
    /// Where; `None` for measures of the stroke.
    pub at: Option<At>,
    /// Grip, mm along the hand line; `None` where none matters.
    pub grip: Option<f64>,
    /// Limits, for those that come from a demand.
    pub bound: Option<Bound>,
}
