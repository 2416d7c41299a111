//! Where on the stroke a position asked for is.

use super::rig::Rig;
use crate::model::{At, Fixed, FixedBy, GripId};
use crate::motion::{MotionError, Reach};
use crate::numeric::least::least;
use crate::numeric::root::root;
use std::f64::consts::TAU;

/// Why a position is not on the stroke.
#[derive(Debug, Clone, PartialEq)]
pub enum LocateError {
    /// The stroke does not pass it.
    OutOfRange {
        /// What was asked for.
        fixed: Fixed,
        /// From where to where the stroke goes.
        reach: Reach,
    },
    /// The tool has no second handle, so there is no span.
    NoSpan,
    /// The greatest or least value of a measure is no position by itself.
    NotAPosition,
    /// A position of the stroke could not be solved.
    Motion(MotionError),
}

impl From<MotionError> for LocateError {
    fn from(error: MotionError) -> Self {
        Self::Motion(error)
    }
}

/// A value nearer than this to one asked for (over the tool's size, or rad) meets it at the ends
/// of the stroke and where the value turns.
const MEETS: f64 = 1e-9;

/// How closely the place is found where a value turns, over the two samples around it. The value is
/// then exact to rounding.
const TURN: f64 = 1e-9;

/// Samples of the stroke at least, to find where a value is passed.
const SAMPLES: usize = 60;

/// The pace (see [`Rig::go_to`]) at which the position `at` is met, exactly: the first time from
/// open where it is met more than once. `grip` is the index of the grip whose span is meant; a
/// handle angle is met modulo whole turns. The rig is left somewhere on the stroke.
///
/// # Errors
/// [`LocateError`]: the stroke does not pass the position.
pub fn locate(rig: &mut Rig, at: At, grip: GripId) -> Result<f64, LocateError> {
    let fixed = match at {
        At::Open => return Ok(0.0),
        At::Shut => return Ok(rig.whole()),
        _ => at.fixed().ok_or(LocateError::NotAPosition)?,
    };
    let Fixed { by, value } = fixed;
    let mut reading = Reading { rig, by, grip };
    let knots = reading.knots()?;
    let reach = Reach {
        low: knots.iter().fold(f64::INFINITY, |a, k| a.min(k.value)),
        high: knots.iter().fold(f64::NEG_INFINITY, |a, k| a.max(k.value)),
    };
    let missed = LocateError::OutOfRange { fixed, reach };
    let near = match by {
        FixedBy::Handle => MEETS,
        FixedBy::Gap | FixedBy::Span => MEETS * reading.rig.solver().linkage.size,
    };
    let mut before: Option<Knot> = None;
    for knot in knots {
        if let Some(from) = before
            && let Some(level) = reading.level(value, from.value, knot.value)
            && let Some(found) = reading.between(level, from.pace, knot.pace)?
        {
            return Ok(found);
        }
        // Met at an end or where the value turns, but for rounding.
        let (low, high) = (knot.value - near, knot.value + near);
        if knot.last && reading.level(value, low, high).is_some() {
            return Ok(knot.pace);
        }
        before = Some(knot);
    }
    Err(missed)
}

/// A reading along the stroke.
#[derive(Debug, Clone, Copy)]
struct Knot {
    pace: f64,
    value: f64,
    /// An end of the stroke, or a place where the value turns.
    last: bool,
}

/// Reads one thing along the stroke.
struct Reading<'r, 'a> {
    rig: &'r mut Rig<'a>,
    by: FixedBy,
    grip: GripId,
}

impl Reading<'_, '_> {
    fn at(&mut self, pace: f64) -> Result<f64, LocateError> {
        self.rig.go_to(pace)?;
        match self.by {
            FixedBy::Gap => Ok(self.rig.forces().gap.first().copied().unwrap_or(f64::NAN)),
            FixedBy::Handle => Ok(self.rig.stance().handle),
            FixedBy::Span => self.rig.span(self.grip).ok_or(LocateError::NoSpan),
        }
    }

    /// Samples of the stroke, and the places where the value turns.
    fn knots(&mut self) -> Result<Vec<Knot>, LocateError> {
        let (whole, steps) = (self.rig.whole(), self.rig.tool().stroke.steps.max(SAMPLES));
        let mut samples = Vec::with_capacity(steps + 1);
        for k in 0..=steps {
            let pace = whole * k as f64 / steps as f64;
            samples.push(Knot {
                pace,
                value: self.at(pace)?,
                last: k == 0 || k == steps,
            });
        }
        let mut knots = samples.clone();
        for three in samples.windows(3) {
            let [a, b, c] = three else { continue };
            let above = b.value > a.value;
            if b.value != a.value && above == (b.value > c.value) {
                knots.push(self.turn(a.pace, c.pace, if above { 1.0 } else { -1.0 })?);
            }
        }
        knots.sort_by(|a, b| a.pace.total_cmp(&b.pace));
        Ok(knots)
    }

    /// Where the value is greatest (`sign` 1) or least (−1) between two paces.
    fn turn(&mut self, low: f64, high: f64, sign: f64) -> Result<Knot, LocateError> {
        let nearness = TURN * (high - low).abs();
        let below = |pace| self.at(pace).map(|value| -sign * value);
        let (pace, value) = least(below, low, high, nearness)?;
        Ok(Knot {
            pace,
            value: -sign * value,
            last: true,
        })
    }

    /// The level that means `value` between two readings, if one does.
    fn level(&self, value: f64, a: f64, b: f64) -> Option<f64> {
        let (low, high) = (a.min(b), a.max(b));
        let level = if self.by == FixedBy::Handle {
            value + ((low - value) / TAU).ceil() * TAU
        } else {
            value
        };
        (level >= low && level <= high).then_some(level)
    }

    /// The pace at which the reading is `level`.
    fn between(&mut self, level: f64, from: f64, to: f64) -> Result<Option<f64>, LocateError> {
        let mut failed = None;
        let found = root(
            |pace| match self.at(pace) {
                Ok(read) => Some(read - level),
                Err(error) => {
                    failed = Some(error);
                    None
                }
            },
            from,
            to,
            0.0,
        );
        match failed {
            Some(error) => Err(error),
            None => Ok(found),
        }
    }
}
