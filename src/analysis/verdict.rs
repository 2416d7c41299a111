//! Whether a hand can do the job at all: the first thing that a reader wants to know.

use super::stroke::Solved;
use crate::measure::{HandPeak, Stall, first_stall, hand_peak};
use crate::model::{Direction, GripId, JawId, Tool};
use crate::motion::MotionError;
use crate::statics::Rig;

/// Why it was not judged whether a hand can do the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotJudged {
    /// The file does not say what the job needs.
    NoWork,
    /// The file does not say what a hand may give.
    NoLimit,
    /// The return stroke: the work pushes, the hand holds against it.
    Opening,
}

/// The work at one jaw and grip against what a hand may give there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandCase {
    /// The jaw at which it is done.
    pub jaw: JawId,
    /// Grip, mm along the hand line.
    pub grip: f64,
    /// The greatest hand force that the work needs.
    pub peak: HandPeak,
    /// Where the work first stops the tool.
    pub stall: Option<Stall>,
}

impl HandCase {
    /// Whether the hand can do it; `None` where there is no hand force to be told from.
    #[must_use]
    pub fn can(&self) -> Option<bool> {
        match (self.stall, self.peak.force) {
            (Some(_), _) => Some(false),
            (None, Ok(force)) => Some(force.is_finite()),
            (None, Err(_)) => None,
        }
    }
}

/// The work at the jaw in view of a rig, against what a hand may give at a grip (index); `jaw` is that jaw's
/// number in the tool. `None` without such a grip.
///
/// # Errors
/// When a position cannot be solved.
pub fn hand_case(rig: &mut Rig, jaw: JawId, grip: GripId) -> Result<Option<HandCase>, MotionError> {
    let Some(at) = rig.tool().grip(grip) else {
        return Ok(None);
    };
    Ok(Some(HandCase {
        jaw,
        grip: at,
        peak: hand_peak(rig, grip)?,
        stall: first_stall(rig, grip)?,
    }))
}

/// Whether the hand can do the job of each jaw that has one, at each grip of a tool.
///
/// # Errors
/// [`NotJudged`].
pub fn hand_cases(tool: &Tool, solved: &Solved) -> Result<Vec<HandCase>, NotJudged> {
    if solved.direction == Direction::Opening {
        return Err(NotJudged::Opening);
    }
    if tool.jaws.iter().all(|jaw| jaw.work.is_none()) {
        return Err(NotJudged::NoWork);
    }
    if tool.hand.limit.is_none() {
        return Err(NotJudged::NoLimit);
    }
    let first = (JawId::FIRST, &solved.peaks, &solved.stalls);
    let others = (solved.elsewhere.iter()).map(|other| (other.jaw, &other.peaks, &other.stalls));
    let cases = std::iter::once(first)
        .chain(others)
        .flat_map(|(jaw, peaks, stalls)| {
            let grips = tool.hand.grips.iter().zip(peaks).zip(stalls);
            grips.map(move |((&grip, &peak), &stall)| HandCase {
                jaw,
                grip,
                peak,
                stall,
            })
        });
    Ok(cases.collect())
}
