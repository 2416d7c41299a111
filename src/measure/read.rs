//! Reading measures.

use super::evaluate::read_at;
use super::integrals;
use super::reading::Reading;
use crate::model::{At, GripId, Measure, Tool};
use crate::motion::MotionError;
use crate::statics::{Absent, LocateError, Rig, locate};

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
    pub fn at(&mut self, measure: &Measure, at: At, grip: GripId) -> Result<Reading, LocateError> {
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
    pub fn over_stroke(&mut self, measure: &Measure, grip: GripId) -> Result<Reading, MotionError> {
        integrals::over_stroke(self.rig, measure, grip)
    }
}

/// Whether a measure has no value because it grows without bound there.
pub(super) fn unbounded(measure: &Measure, why: Absent) -> bool {
    match measure {
        Measure::HandForce | Measure::HandShare | Measure::Effort => why == Absent::Locked,
        Measure::StrainIndex => matches!(why, Absent::Locked | Absent::AboveStrength),
        Measure::Ratio | Measure::JawForce | Measure::PinLoad(_) => why == Absent::Toggle,
        _ => false,
    }
}
