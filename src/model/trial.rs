//! A reading of a trial on the bench.

use super::Direction;

/// One reading; mm, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TrialPoint {
    /// Gap of the first jaw, as it was measured under load.
    pub gap: f64,
    /// Force of the jaw on the load cell.
    pub jaw_force: f64,
    /// Force of the hand.
    pub hand_force: f64,
    /// Which way the handle went.
    pub direction: Direction,
    /// Distance along the hand line; `None`: the tool's first grip.
    pub grip: Option<f64>,
}
