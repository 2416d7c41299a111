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

/// How far hand forces may lie apart that are meant to be one, over themselves: read off a balance they are never
/// quite alike (common practice, no source).
const ALIKE: f64 = 0.02;
/// How far grips may lie apart that are meant to be one, mm: what is read off a rule.
const SAME_GRIP: f64 = 0.5;

impl TrialPoint {
    /// The hand pulls with this force, N, as near as it is read.
    #[must_use]
    pub fn pulls_with(&self, force: f64) -> bool {
        (force / self.hand_force - 1.0).abs() < ALIKE
    }

    /// Which of a tool's grips, mm along the hand line, it was held at, as near as it is read.
    #[must_use]
    pub fn grip_among(&self, grips: &[f64]) -> Option<usize> {
        let Some(at) = self.grip else {
            return (!grips.is_empty()).then_some(0);
        };
        let off = |k: &usize| {
            grips
                .get(*k)
                .map_or(f64::INFINITY, |grip| (grip - at).abs())
        };
        let nearest = (0..grips.len()).min_by(|a, b| off(a).total_cmp(&off(b)))?;
        (off(&nearest) <= SAME_GRIP).then_some(nearest)
    }
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
