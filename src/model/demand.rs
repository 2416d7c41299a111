//! What the tool must do, how exact it is made, and what may be changed.

use super::{JawId, Measure, PartId, StopId};

/// A limit on a measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    /// Which.
    pub measure: Measure,
    /// Of which jaw, or under the work at which.
    pub jaw: JawId,
    /// Where it is read; `None` for measures of the whole stroke.
    pub at: Option<At>,
    /// Grip, mm along the hand line; `None`: every grip.
    pub grip: Option<f64>,
    /// The limits, in internal units of the measure.
    pub bound: Bound,
}

impl Demand {
    /// Whether it is about one jaw: its measure is of that or read under its work, or its gap fixes the
    /// position.
    #[must_use]
    pub fn is_of_jaw(&self) -> bool {
        self.measure.per_jaw() || matches!(self.at, Some(At::Gap(_)))
    }
}

/// Limits; at least one is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bound {
    /// Least value that is good enough.
    pub min: Option<f64>,
    /// Greatest value that is good enough.
    pub max: Option<f64>,
}

impl Bound {
    /// Whether a value keeps the limits; a last digit of rounding is not held against it.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        let slack = 1e-9 * value.abs();
        self.min.is_none_or(|min| value >= min - slack)
            && self.max.is_none_or(|max| value <= max + slack)
    }
}

/// A position at which a measure is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum At {
    /// The open end of the stroke.
    Open,
    /// The shut end.
    Shut,
    /// Where the gap of the jaw that is asked about is this, mm.
    Gap(f64),
    /// Where the handle angle is this, rad.
    Handle(f64),
    /// Where the span at the grip is this, mm.
    Span(f64),
    /// Where this stop is met.
    Stop(StopId),
    /// Where the first part is turned against the second by this, rad: where a ratchet lets go.
    Turned(PartId, PartId, f64),
    /// The greatest value over the stroke.
    Peak,
    /// The least value over the stroke.
    Least,
}

/// How exact the dimensions are.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tolerances {
    /// For every length that has no rule of its own.
    pub class: Option<ToleranceClass>,
    /// Rules by dimension address.
    pub rules: Vec<ToleranceRule>,
}

impl Tolerances {
    /// Whether the file says anything about them.
    #[must_use]
    pub fn stated(&self) -> bool {
        self.class.is_some() || !self.rules.is_empty()
    }
}

/// A general tolerance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ToleranceClass {
    /// ISO 2768-1, fine.
    Fine,
    /// ISO 2768-1, medium.
    Medium,
    /// ISO 2768-1, coarse.
    Coarse,
    /// ISO 2768-1, very coarse.
    VeryCoarse,
    /// A plain ± value, mm.
    Plain(f64),
}

/// ± value of one number.
#[derive(Debug, Clone, PartialEq)]
pub struct ToleranceRule {
    /// Its address.
    pub dimension: String,
    /// ± value, internal unit.
    pub value: f64,
}

/// A number that may be changed, and its range.
#[derive(Debug, Clone, PartialEq)]
pub struct Tune {
    /// Its address.
    pub dimension: String,
    /// Least value, internal unit.
    pub from: f64,
    /// Greatest value, internal unit.
    pub to: f64,
}

/// What tuning is to reach.
#[derive(Debug, Clone, PartialEq)]
pub struct Aim {
    /// Which measure.
    pub measure: Measure,
    /// Of which jaw, or under the work at which.
    pub jaw: JawId,
    /// Where it is read.
    pub at: Option<At>,
    /// Grip, mm along the hand line; `None`: the first grip.
    pub grip: Option<f64>,
    /// What is wanted of it.
    pub want: Want,
}

/// Sense of an aim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Want {
    /// As small as can be.
    Least,
    /// As great as can be.
    Most,
    /// This value, in internal units of the measure.
    Value(f64),
}
