//! Reading measures.

use super::evaluate::read_at;
use super::integrals;
use crate::model::{At, Measure, Tool};
use crate::motion::MotionError;
use crate::statics::{Absent, LocateError, Rig, locate};

/// What a measure says, in internal units; or why there is no value.
pub type Reading = Result<f64, Absent>;

/// Where a peak or least value was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Pace from open, see [`Rig::go_to`].
    pub pace: f64,
    /// Gap there, mm.
    pub gap: f64,
    /// Handle angle there, rad.
    pub handle: f64,
    /// Handle angle travelled since open, rad.
    pub travel: f64,
}

impl Place {
    /// Where the rig stands, which has gone to this pace.
    pub(super) fn of(rig: &Rig, pace: f64) -> Self {
        Self {
            pace,
            gap: rig.forces().gap[0],
            handle: rig.stance().handle,
            travel: rig.stance().travel,
        }
    }
}

/// Reads measures off a tool that is set up.
#[derive(Debug)]
pub struct Reader<'r, 'a> {
    pub(super) rig: &'r mut Rig<'a>,
}

impl<'r, 'a> Reader<'r, 'a> {
    /// A reader on `rig`, for the tool's hand force.
    pub fn new(rig: &'r mut Rig<'a>) -> Self {
        Self { rig }
    }

    /// The tool that is read.
    #[must_use]
    pub fn tool(&self) -> &'a Tool {
        self.rig.tool()
    }

    /// Reads a measure of a position, for the hand at a grip (index).
    ///
    /// # Errors
    /// When the position does not lie in the stroke or cannot be solved.
    pub fn at(&mut self, measure: &Measure, at: At, grip: usize) -> Result<Reading, LocateError> {
        match at {
            At::Peak => Ok(self.extreme(measure, grip, 1.0)?.0),
            At::Least => Ok(self.extreme(measure, grip, -1.0)?.0),
            _ => {
                let pace = locate(self.rig, at, grip)?;
                Ok(read_at(&mut self.rig.at(pace)?, measure, grip))
            }
        }
    }

    /// Reads a measure of the whole stroke, strength factors left out (they belong to
    /// [`crate::strength`]).
    ///
    /// # Errors
    /// When a position cannot be solved.
    pub fn over_stroke(&mut self, measure: &Measure, grip: usize) -> Result<Reading, MotionError> {
        integrals::over_stroke(self.rig, measure, grip)
    }
}

/// Whether a measure has no value because it grows without bound there.
pub(super) fn unbounded(measure: &Measure, why: Absent) -> bool {
    match measure {
        Measure::HandForce | Measure::HandShare => why == Absent::Locked,
        Measure::Ratio | Measure::JawForce | Measure::PinLoad(_) => why == Absent::Toggle,
        _ => false,
    }
}
