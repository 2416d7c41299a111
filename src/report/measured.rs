//! Readings of the bench beside the curves of a stroke.

use crate::analysis::Direction;
use crate::model::{JawId, Tool};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// The readings of the trial that a tool file names.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MeasuredReport {
    /// The file of the readings, as the tool file names it.
    pub data: String,
    /// Those that belong to a curve of the stroke: taken its way, at one of its grips, with its hand force.
    pub readings: Vec<MeasuredPoint>,
    /// How many do not.
    pub others: usize,
}

/// A reading that belongs to a curve of the stroke.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MeasuredPoint {
    /// Index of the curve's grip.
    pub grip: usize,
    /// Gap of the jaw, as it was measured under load.
    pub gap: f64,
    /// Force of the jaw.
    pub jaw_force: f64,
}

/// The readings beside a stroke this way; `None` where the file names none. They are of the file's first jaw, and a
/// stroke of another has none that belong to it.
pub(super) fn measured(
    tool: &Tool,
    direction: Direction,
    units: UnitSystem,
) -> Option<MeasuredReport> {
    let trial = tool.trial.as_ref()?;
    let grips = &tool.hand.grips;
    let of_this_jaw = tool.stroke.lead == JawId::FIRST;
    let belongs = |point: &&crate::model::TrialPoint| {
        of_this_jaw && point.direction == direction && point.pulls_with(tool.hand.force)
    };
    let points = trial.points.iter().filter(belongs);
    let readings: Vec<MeasuredPoint> = points
        .filter_map(|point| {
            Some(MeasuredPoint {
                grip: point.grip_among(grips)?,
                gap: units.show(point.gap, Quantity::Length),
                jaw_force: units.show(point.jaw_force, Quantity::Force),
            })
        })
        .collect();
    Some(MeasuredReport {
        data: trial.data.clone(),
        others: trial.points.len() - readings.len(),
        readings,
    })
}
