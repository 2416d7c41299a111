//! How a tool answers a hand force, or a work.

use crate::model::Direction;

/// How a tool answers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Answer {
    /// It moves, with this force (N) and this force without friction.
    Moves {
        /// With friction and springs.
        force: f64,
        /// With springs, without friction.
        without: f64,
    },
    /// The hand does not overcome the springs, nor does it hold them together with what rubs on the way back: there is no
    /// force at the jaw.
    Slack,
    /// Friction lets nothing through: it locks itself.
    Locked,
    /// A contact that only pushes would have to pull: it lifts off, and the force has no way to the jaw.
    LiftsOff,
    /// The dies of a jaw have met before: the tool does not come here.
    Ended,
}

impl Answer {
    /// Work out over work in, for a small step of the stroke in this direction, the springs counted
    /// with the hand: at most 1, the rest is what friction takes. Closing, the hand drives: force
    /// of the jaw with friction over without. Opening, the work drives and the hand is held back: force
    /// of the jaw without friction, which the hand then feels in full, over with. `None` where nothing
    /// moves, and where no force goes in.
    #[must_use]
    pub fn efficiency(self, direction: Direction) -> Option<f64> {
        let Self::Moves { force, without } = self else {
            return None;
        };
        let share = match direction {
            Direction::Closing => force / without,
            Direction::Opening => without / force,
        };
        share.is_finite().then_some(share)
    }
}
