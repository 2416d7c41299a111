//! What the springs do at both ends of the stroke, and whether they open the tool.

use super::Analysis;
use super::failure::Failure;
use crate::model::{Direction, GripId};
use crate::statics::{Answer, SpringState};

/// The springs of a tool at the ends of its stroke.
#[derive(Debug, Clone, PartialEq)]
pub struct SpringsSeen {
    /// For each spring, what it is at open and at shut.
    pub ends: Vec<[SpringState; 2]>,
    /// For each grip: the hand force below which the tool opens from shut against friction, N; zero where
    /// it stays shut by itself; `None` where it cannot be told (at a toggle).
    pub opens: Vec<Option<f64>>,
}

impl Analysis {
    /// What the springs do.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn springs(&self) -> Result<SpringsSeen, Failure> {
        let mut rig = self.rig(Direction::Opening)?;
        rig.go_to(0.0)?;
        let open = rig.springs();
        let shut = rig.pace();
        rig.go_to(shut)?;
        let ends = open.into_iter().zip(rig.springs());
        let ends = ends.map(|(open, shut)| [open, shut]).collect();
        let mut opens = Vec::new();
        for grip in GripId::ids(self.tool().hand.grips.len()) {
            // Nothing in the jaw: what the springs push the hand with, less friction.
            opens.push(match rig.here().hand_answer(grip, 0.0) {
                Ok(Answer::Moves { force, .. }) => Some(force.max(0.0)),
                Ok(Answer::Slack | Answer::Locked) => Some(0.0),
                Ok(Answer::LiftsOff | Answer::Ended) | Err(_) => None,
            });
        }
        Ok(SpringsSeen { ends, opens })
    }
}
