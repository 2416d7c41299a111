//! Readings of a trial on the bench.

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

/// The trial that a tool file names.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// The file of the readings, as the tool file names it.
    pub data: String,
    /// Its readings.
    pub points: Vec<TrialPoint>,
    /// Error of a reading, over itself.
    pub error: f64,
}
