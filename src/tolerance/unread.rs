//! What is not read off samples, and what the tool as drawn gives there.

use super::error::StudyError;
use super::fate::Fate;
use super::subject::Subject;
use crate::analysis::{Analysis, Judge, ReadError};
use crate::measure::Measure;
use crate::model::{Direction, JawId};
use crate::statics::{Absent, LocateError};

/// Why a number is not read off samples.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// It is a strength factor, and redundant bars share the load as statics cannot tell.
    Redundant,
    /// It stands beyond the stroke, at a place that made tools cannot be followed to: a change point, points
    /// of a jaw that meet, or any where the handle slides.
    BeyondShut,
    /// It is of plates, which made tools have as they are drawn.
    OfPlates,
    /// The handle turns back within the stroke.
    TurnsBack,
    /// The jaw opens again within the stroke.
    OpensAgain,
    /// It is the load of a stop, which samples do not find.
    OfAStop,
    /// It is the way between the teeth of a ratchet, which samples do not find.
    OfTeeth,
    /// Springs of wire are not checked on samples.
    OfSprings,
    /// The work has more rows than samples are followed through one by one.
    ManyRows,
    /// The tool as drawn has no such number.
    Absent(Absent),
    /// The tool as drawn has it, but comes to this when it is solved anew.
    SolvedAnew(Fate),
}

/// A number that is not read off samples, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Unread {
    /// Which.
    pub subject: Subject,
    /// Why.
    pub why: Why,
    /// What the tool as drawn gives, if it can be read there.
    pub nominal: Option<f64>,
}

impl Unread {
    /// The same, read off a tool that faces this jaw.
    pub(super) fn seen(mut self, jaw: JawId) -> Self {
        // What is of no jaw is read in the view of the first alone, or of all together.
        if jaw != JawId::FIRST && !matches!(self.subject.measure, Measure::Safety(_)) {
            self.subject.jaw = jaw;
        }
        self
    }

    /// Whether the tool as drawn meets the demand; `None` for what is no demand.
    #[must_use]
    pub fn nominal_met(&self) -> Option<bool> {
        let bound = self.subject.bound?;
        Some(self.nominal.is_some_and(|value| bound.holds(value)))
    }
}

/// Reads off the tool as drawn what is not read off samples.
pub(super) fn as_drawn(
    analysis: &Analysis,
    unread: Vec<Unread>,
) -> Result<Vec<Unread>, StudyError> {
    if unread.is_empty() {
        return Ok(unread);
    }
    let read = |judge: &mut Judge, one: Unread| {
        let Subject {
            measure,
            jaw,
            at,
            grip,
            ..
        } = &one.subject;
        let reading = judge
            .read(measure, *jaw, *at, *grip)
            .map_err(|why| match why {
                ReadError::Failure(failure) => StudyError::Failure(failure),
                ReadError::Locate(LocateError::Motion(error)) => StudyError::Motion(error),
                ReadError::Locate(error) => StudyError::Position {
                    measure: measure.name_of(analysis.tool(), *jaw),
                    error,
                },
            })?;
        let nominal = reading.ok();
        Ok(Unread { nominal, ..one })
    };
    let judged = analysis.judge(Direction::Closing, |judge| {
        unread.into_iter().map(|one| read(judge, one)).collect()
    });
    judged.map_err(StudyError::Failure)?
}
