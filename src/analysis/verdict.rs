//! Whether a hand can do the job at all: the first thing that a reader wants to know.

use super::stroke::Solved;
use crate::limits::Rating;
use crate::measure::{EffortPeak, HandPeak, Stall, effort_peak, first_stall, hand_peak};
use crate::model::{Direction, GripId, JawId, Job, Tool};
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
    /// The greatest share of the strength of the hands that the job is for; `None` without a job.
    pub effort: Option<EffortPeak>,
}

impl HandCase {
    /// Whether the hand can do it once: within its limit, or where that is not said within the strength of the
    /// hands that the job is for, all the way to where the work ends or the tool is shut. `None` where there is no
    /// hand force to be told from, or the jaw never comes to the work.
    #[must_use]
    pub fn can(&self) -> Option<bool> {
        if !self.peak.meets_work {
            return None;
        }
        if self.peak.short.is_some() {
            return Some(false);
        }
        match (self.stall, self.peak.force) {
            (Some(_), _) => Some(false),
            (None, Ok(force)) => Some(force.is_finite() && !self.is_above_strength()),
            (None, Err(_)) => None,
        }
    }

    /// The worst that the methods for repeated use say; `None` where there is no effort to be told from.
    #[must_use]
    pub fn rating(&self, job: &Job) -> Option<Rating> {
        let at = self.effort?;
        let strength = at.strength.filter(|newtons| *newtons > 0.0)?;
        Some(Rating::worst(job, at.force? / strength))
    }

    /// Whether it is more than the strength of the hands that the job is for, where the hand has no limit.
    fn is_above_strength(&self) -> bool {
        let effort = self.effort.and_then(|at| at.effort.ok());
        self.peak.limit.is_none() && effort.is_some_and(|share| share > 1.0)
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
        effort: match rig.tool().job {
            Some(_) => Some(effort_peak(rig, grip)?),
            None => None,
        },
    }))
}

/// Whether a file says enough to tell whether a hand can do the job: what the work needs, and what a hand may give.
///
/// # Errors
/// [`NotJudged`].
pub fn hand_is_judged(tool: &Tool) -> Result<(), NotJudged> {
    let strong = (tool.job.as_ref()).is_some_and(|job| job.population.is_some());
    if tool.jaws.iter().all(|jaw| jaw.work.is_none()) {
        Err(NotJudged::NoWork)
    } else if tool.hand.limit.is_none() && !strong {
        Err(NotJudged::NoLimit)
    } else {
        Ok(())
    }
}

/// Whether the hand can do the job of each jaw that has one, at each grip of a tool.
///
/// # Errors
/// [`NotJudged`].
pub fn hand_cases(tool: &Tool, solved: &Solved) -> Result<Vec<HandCase>, NotJudged> {
    if solved.direction == Direction::Opening {
        return Err(NotJudged::Opening);
    }
    hand_is_judged(tool)?;
    let first = (JawId::FIRST, &solved.peaks, &solved.stalls, &solved.efforts);
    let others = (solved.elsewhere.iter())
        .map(|other| (other.jaw, &other.peaks, &other.stalls, &other.efforts));
    let cases = std::iter::once(first)
        .chain(others)
        .flat_map(|(jaw, peaks, stalls, efforts)| {
            let grips = tool.hand.grips.iter().zip(peaks).enumerate();
            grips.map(move |(k, (&grip, &peak))| HandCase {
                jaw,
                grip,
                peak,
                stall: stalls.get(k).copied().flatten(),
                effort: efforts.get(k).copied(),
            })
        });
    Ok(cases.collect())
}
