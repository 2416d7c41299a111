//! Load cases: with which hand force a position is checked.

use crate::limits::limit_at;
use crate::model::{GripId, JawId, Tool};
use crate::statics::{Answer, Sheet, Stand};

/// What sets the hand force of a load case.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadCase {
    /// The hand limit there.
    HandLimit,
    /// The hand force of the tool file, where it gives no limit.
    HandForce,
    /// What the work needs there.
    Work,
}

/// One position, grip and hand force, and the forces that follow.
#[derive(Debug, Clone, Copy)]
pub struct Case<'a> {
    /// Index of the position among those that are looked at.
    pub position: usize,
    /// The jaw that carries the load.
    pub jaw: JawId,
    /// Index of the grip.
    pub grip: GripId,
    /// Hand force, N.
    pub hand_force: f64,
    /// What sets it.
    pub load: LoadCase,
    /// Every force on every part.
    pub sheet: &'a Sheet,
}

/// The hand forces (N) with which a position is to be checked at a grip: the hand limit at that
/// `span` (mm), or the tool file's hand force where there is no limit that can be read; and the
/// hand force `needed` for the work, where there is work.
pub fn hand_forces(
    tool: &Tool,
    span: Option<f64>,
    needed: Option<f64>,
) -> impl Iterator<Item = (LoadCase, f64)> {
    let limit = tool.hand.limit.as_ref().and_then(|l| limit_at(l, span));
    let hand = match limit {
        Some(force) => (LoadCase::HandLimit, force),
        None => (LoadCase::HandForce, tool.hand.force),
    };
    std::iter::once(hand).chain(needed.map(|force| (LoadCase::Work, force)))
}

/// The larger of the [`hand_forces`] at a grip (index) where a tool stands.
pub fn heaviest(stand: &mut Stand, grip: GripId) -> Option<(LoadCase, f64)> {
    let work = stand.work();
    let needed = match work.map(|work| stand.hand_answer(grip, work)) {
        Some(Ok(Answer::Moves { force, .. })) => Some(force),
        _ => None,
    };
    let forces = hand_forces(stand.tool(), stand.span(grip).ok(), needed);
    forces.max_by(|a, b| a.1.total_cmp(&b.1))
}
