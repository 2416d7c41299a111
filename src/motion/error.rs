//! Why a linkage cannot do what the stroke asks.

use super::candidate::Candidate;
use super::pushed_open::{PushedOpen, Spread};
use crate::model::{Fixed, JawId, JointId, PartId, StopId};

/// What the linkage can do of a quantity over its whole motion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// Least value.
    pub low: f64,
    /// Greatest value.
    pub high: f64,
}

/// Why there is no stroke.
#[derive(Debug, Clone, PartialEq)]
pub enum MotionError {
    /// A loop does not close.
    Open {
        /// The joint that is furthest apart, as an index into [`Tool::all_joints`](crate::model::Tool::all_joints).
        joint: JointId,
        /// Distance left, mm.
        distance: f64,
    },
    /// No freedom: a truss.
    Rigid,
    /// More freedoms than one.
    Loose {
        /// How many there are.
        degrees: usize,
        /// Parts that still move with the handle held.
        parts: Vec<PartId>,
    },
    /// The sketch stands at a change point.
    ChangeAtSketch,
    /// The motion does not move this jaw.
    StillJaw(JawId),
    /// The motion does not move the hand.
    StillHand,
    /// The hand closes the first jaw nowhere on the stroke.
    PushedOpen(Box<PushedOpen>),
    /// A target is out of reach.
    Unreachable {
        /// `"open"` or `"shut"`.
        end: &'static str,
        /// What was asked for.
        fixed: Fixed,
        /// What the linkage can do.
        reach: Reach,
        /// The jaw's points pass each other at this distance (default axis only), mm.
        passing: Option<f64>,
        /// The motion goes on beyond what was followed of it.
        cut_short: bool,
    },
    /// Places meet both targets, but on no way from open to shut the first jaw closes; on one at
    /// least it opens all the way.
    Opens {
        /// The nearest pairs, those on which the jaw opens all the way first.
        candidates: Vec<Candidate>,
        /// There are more.
        more: bool,
        /// How the jaw is turned round, if it is meant to spread.
        spread: Option<Spread>,
    },
    /// Places meet both targets, but there is no way from open to shut on which the first jaw
    /// closes or opens all the way.
    NoneCloses {
        /// The nearest pairs; the first was meant, as a rule.
        candidates: Vec<Candidate>,
        /// There are more.
        more: bool,
    },
    /// A target is met only where the position cannot be solved.
    Unsettled {
        /// `"open"` or `"shut"`.
        end: &'static str,
    },
    /// A stop is met before the open end of the stroke: its faces are this far past each other there, mm.
    StopBeforeOpen(StopId, f64),
    /// At the open end of the stroke the contact of this cam (index) is beyond the end of its curved face, by so
    /// much, mm.
    OffFace(usize, f64),
    /// Open and shut are the same position.
    NoStroke,
    /// A position of the stroke could not be solved.
    Unsolved {
        /// Handle angle travelled, rad.
        travel: f64,
    },
}
