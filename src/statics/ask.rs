//! What is asked of a tool at a position, and how the hand holds it there.

use super::loaded::Burden;
use crate::mechanism::Linkage;
use crate::model::GripId;

/// What is asked at every position.
#[derive(Debug, Clone)]
pub struct Ask {
    /// Hand force that the jaw forces and pin loads are for, N.
    pub hand_force: f64,
    /// Side of a square push at each grip.
    pub sides: Vec<f64>,
    /// Friction and springs.
    pub burden: Burden,
    /// The one grip that is asked for; `None`: every grip.
    pub only: Option<GripId>,
    /// Which answers are asked for.
    pub answers: Answers,
}

impl Ask {
    /// The grips that are asked for.
    #[inline]
    pub(super) fn grips(&self, linkage: &Linkage) -> impl Iterator<Item = GripId> + use<> {
        let held = linkage.hand.held;
        let (from, to) = self.only.map_or((0, held), |g| (g.index(), g.index() + 1));
        (from..to).map(GripId::new)
    }
}

/// Which answers are asked for. With friction or springs each costs a solution of its own; without
/// them all come at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Answers {
    /// All, of every jaw.
    #[default]
    All,
    /// The ratio of the first jaw.
    Ratio,
    /// The first jaw's answer to the hand force, and the pin forces under it.
    JawForce,
    /// The hand force for the work.
    HandForce,
}

/// How the hand holds the tool still while the jaw is loaded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holding {
    /// At a grip, along its push: the grip cannot give way there.
    Grip(GripId),
    /// By the handle angle, with a pure moment on the handle and its opposite on the other one.
    Angle,
}
