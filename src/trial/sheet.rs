//! What to measure on the bench.

use super::curve::{Bench, TrialError};
use crate::model::{Direction, Tool, TrialPoint};

/// A line of the sheet; mm, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Which run, from 1.
    pub run: usize,
    /// Gap, hand force, direction and grip; the jaw force is what is predicted, zero where there is none.
    pub point: TrialPoint,
}

/// Gaps, from where the work begins to the end of the stroke.
const GAPS: usize = 6;
/// How often each is measured.
const RUNS: usize = 3;

/// What to measure: the tool's hand force at its first grip, at gaps from where the work begins to the end of the
/// stroke, closing and opening, three times.
///
/// # Errors
/// [`TrialError`].
pub fn lines(tool: &Tool) -> Result<Vec<Line>, TrialError> {
    let point = |gap: f64, direction: Direction| TrialPoint {
        gap,
        jaw_force: 0.0,
        hand_force: tool.hand.force,
        direction,
        grip: tool.hand.grips.first().copied(),
    };
    let [wide, narrow] = Bench::new(tool, &[point(0.0, Direction::Closing)])?.ends();
    let begins = tool.work().and_then(|work| {
        let rows = work
            .need
            .iter()
            .filter(|row| row[1] <= 0.0)
            .map(|row| row[0]);
        rows.reduce(f64::min)
    });
    let from = begins.unwrap_or(wide).min(wide).max(narrow);
    // Not at the very end, where the measured gap may be past it.
    let to = narrow + 0.05 * (wide - narrow).min(from - narrow);
    let mut points = Vec::new();
    for direction in [Direction::Closing, Direction::Opening] {
        for k in 0..GAPS {
            points.push(point(
                from + (to - from) * k as f64 / (GAPS - 1) as f64,
                direction,
            ));
        }
    }
    let bench = Bench::new(tool, &points)?;
    let forces = bench.forces(&bench.stated(0.0))?;
    for (point, force) in points.iter_mut().zip(forces) {
        point.jaw_force = force.unwrap_or(0.0);
    }
    let run = |run| points.iter().map(move |point| Line { run, point: *point });
    Ok((1..=RUNS).flat_map(run).collect())
}
