//! What the work asks of people whose strength falls with the span in one way or another.

use super::Analysis;
use super::failure::Failure;
use crate::measure::{EffortPeak, effort_peak};
use crate::model::{Direction, GripId, JawId, Job, Speed, Tool};

/// The work at one jaw and grip where it takes the greatest share of a group's strength.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroupCase {
    /// The jaw.
    pub jaw: JawId,
    /// Grip, mm along the hand line.
    pub grip: f64,
    /// Where, and how much: of a strength that half of the group has.
    pub effort: EffortPeak,
}

/// The cases of a group, by its name: every jaw with work at every grip. Empty without work.
///
/// # Errors
/// [`Failure`].
pub fn group_cases(tool: &Tool, group: &str) -> Result<Vec<GroupCase>, Failure> {
    let mut asked = tool.clone();
    asked.job = Some(Job {
        strokes: 1.0,
        held: 1.0,
        hours: Job::HOURS,
        wrist: 0.0,
        speed: Speed::default(),
        population: Some(group.to_owned()),
        share: HALF,
    });
    let analysis = Analysis::of(asked);
    let mut cases = Vec::new();
    for (jaw, _) in JawId::each(&tool.jaws).filter(|(_, jaw)| jaw.work.is_some()) {
        let facing = analysis.facing(jaw);
        let mut rig = facing.rig(Direction::Closing)?;
        for (grip, &at) in GripId::each(&tool.hand.grips) {
            cases.push(GroupCase {
                jaw,
                grip: at,
                effort: effort_peak(&mut rig, grip)?,
            });
        }
    }
    Ok(cases)
}

/// The share of a group that has its mean strength or more.
const HALF: f64 = 0.5;
