//! What is not read off samples, and what the tool as drawn gives there.

use super::error::StudyError;
use super::targets::Subject;
use crate::measure::Measure;
use crate::model::{Direction, Tool};
use crate::statics::LocateError;
use crate::verdict::{self, Found, Judge};

/// A number that is not read off samples, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Unread {
    /// Which.
    pub subject: Subject,
    /// Why.
    pub why: &'static str,
    /// What the tool as drawn gives, if it can be read there.
    pub nominal: Option<f64>,
}

impl Unread {
    /// Whether the tool as drawn meets the demand; `None` for what is no demand.
    #[must_use]
    pub fn nominal_met(&self) -> Option<bool> {
        let bound = self.subject.bound?;
        Some(self.nominal.is_some_and(|value| bound.holds(value)))
    }
}

/// Reads off the tool as drawn what is not read off samples.
pub(super) fn as_drawn(
    tool: &Tool,
    found: &Found,
    unread: Vec<Unread>,
) -> Result<Vec<Unread>, StudyError> {
    if unread.is_empty() {
        return Ok(unread);
    }
    let read = |judge: &mut Judge, one: Unread| {
        let Subject { name, at, grip, .. } = &one.subject;
        let measure = Measure::parse(tool, name).map_err(StudyError::Measure)?;
        let reading = judge.read(&measure, *at, *grip).map_err(|why| match why {
            verdict::Unread::Measure(error) => StudyError::Measure(error),
            verdict::Unread::Failure(failure) => StudyError::Failure(failure),
            verdict::Unread::Locate(LocateError::Motion(error)) => StudyError::Motion(error),
            verdict::Unread::Locate(error) => StudyError::Position {
                measure: name.clone(),
                error,
            },
        })?;
        let nominal = reading.value();
        Ok(Unread { nominal, ..one })
    };
    let judged = found.judge(tool, Direction::Closing, |judge| {
        unread.into_iter().map(|one| read(judge, one)).collect()
    });
    judged.map_err(StudyError::Failure)?
}
