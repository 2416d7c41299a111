//! Where on the stroke a position asked for is.

use super::rig::Rig;
use crate::model::{At, Fixed, FixedBy, GripId};
use crate::motion::{MotionError, Reach};
use crate::numeric::scan::{Knot, even, first_met, knots, with_turns};
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
    locate_fixed(rig, fixed, grip)
}

/// The same of a position by what fixes it.
///
/// # Errors
/// As [`locate`].
pub fn locate_fixed(rig: &mut Rig, fixed: Fixed, grip: GripId) -> Result<f64, LocateError> {
    let Fixed { by, value } = fixed;
    let (whole, steps) = (rig.whole(), rig.tool().stroke.steps.max(SAMPLES));
    let touch = match by {
        FixedBy::Handle | FixedBy::Turned(..) => MEETS,
        FixedBy::Gap(_) | FixedBy::Span | FixedBy::Stop(_) => MEETS * rig.solver().linkage.size,
    };
    let mut read = |pace| reading(rig, by, grip, pace);
    let looks = knots(&mut read, even([0.0, whole], steps))?;
    let looks = with_turns(&mut read, &looks, TURN)?;
    let reach = Reach {
        low: looks.iter().fold(f64::INFINITY, |a, k| a.min(k.value)),
        high: looks.iter().fold(f64::NEG_INFINITY, |a, k| a.max(k.value)),
    };
    let levels = levels(by, value, reach, &looks);
    first_met(&mut read, &looks, &levels, touch)?.ok_or(LocateError::OutOfRange { fixed, reach })
}

/// What fixes a position, read at a pace.
fn reading(rig: &mut Rig, by: FixedBy, grip: GripId, pace: f64) -> Result<f64, LocateError> {
    rig.go_to(pace)?;
    match by {
        FixedBy::Gap(jaw) => Ok(rig.here().gap(jaw).unwrap_or(f64::NAN)),
        FixedBy::Stop(stop) => Ok(rig.here().apart(stop).unwrap_or(f64::NAN)),
        FixedBy::Handle => Ok(rig.stance().handle),
        FixedBy::Turned(a, b) => Ok(rig.here().turned(a, b)),
        FixedBy::Span => rig.span(grip).ok_or(LocateError::NoSpan),
    }
}

/// The readings that mean `value`: of a handle angle all that differ by whole turns.
fn levels(by: FixedBy, value: f64, reach: Reach, looks: &[Knot]) -> Vec<f64> {
    let finite = looks.iter().all(|look| look.value.is_finite());
    if by != FixedBy::Handle || !finite {
        return vec![value];
    }
    let turns = |to: f64| (to - value) / TAU;
    let (first, last) = (turns(reach.low).floor(), turns(reach.high).ceil());
    (first as i64..=last as i64)
        .map(|k| value + k as f64 * TAU)
        .collect()
}
