//! Demands: what the tool must do, and whether it does.

use super::name::{Measure, MeasureError};
use super::read::{Reader, Reading};
use crate::model::{Demand, Tool};
use crate::statics::{LocateError, Rig};

/// A demand read at one grip.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Index of the demand in the tool.
    pub demand: usize,
    /// Grip, mm along the hand line; `None` for measures that no grip changes.
    pub grip: Option<f64>,
    /// What came out.
    pub reading: Reading,
    /// Within its limits.
    pub met: bool,
}

/// The tool with every grip that its demands and its aim name, so that all can be read off one
/// rig. Grips of its own keep their places.
#[must_use]
pub fn with_grips(tool: &Tool, more: &[f64]) -> Tool {
    let mut tool = tool.clone();
    let named = tool
        .demands
        .iter()
        .map(|d| d.grip)
        .chain(tool.aim.iter().map(|a| a.grip));
    let wanted: Vec<f64> = named.flatten().chain(more.iter().copied()).collect();
    for grip in wanted {
        if !tool.hand.grips.contains(&grip) {
            tool.hand.grips.push(grip);
        }
    }
    tool
}

/// A demand that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    /// Index of the demand in the tool.
    pub demand: usize,
    /// Why.
    pub error: MeasureError,
}

/// Reads every demand of the rig's tool, at `grips` (the tool's own; a demand that names a grip is
/// read there). `safety` is asked for the strength factors.
///
/// # Errors
/// The first one with a measure that cannot be read, or at a position that is not in the stroke.
pub fn demands(
    rig: &mut Rig,
    grips: &[f64],
    safety: &mut dyn FnMut(Option<&str>) -> Option<f64>,
) -> Result<Vec<Outcome>, Unreadable> {
    let mut found = Vec::new();
    for demand in 0..rig.tool().demands.len() {
        let read = read_demand(rig, demand, grips, safety);
        found.extend(read.map_err(|error| Unreadable { demand, error })?);
    }
    Ok(found)
}

/// Reads one demand (index), as [`demands`] does: one outcome for each grip that it is read at.
///
/// # Errors
/// When its measure cannot be read, or its position is not in the stroke.
pub fn read_demand(
    rig: &mut Rig,
    demand: usize,
    grips: &[f64],
    safety: &mut dyn FnMut(Option<&str>) -> Option<f64>,
) -> Result<Vec<Outcome>, MeasureError> {
    let tool = rig.tool();
    let Some(asked) = tool.demands.get(demand) else {
        return Ok(Vec::new());
    };
    let measure = Measure::parse(tool, &asked.measure)?;
    let grips: Vec<f64> = match asked.grip {
        Some(grip) => vec![grip],
        None if measure.per_grip() => grips.to_vec(),
        None => grips.iter().take(1).copied().collect(),
    };
    let mut found = Vec::with_capacity(grips.len());
    for grip in grips {
        let Some(index) = tool.hand.grips.iter().position(|&g| g == grip) else {
            return Err(MeasureError(format!(
                "demand on `{}`: the tool is not set up for its grip",
                asked.measure
            )));
        };
        let reading = one(rig, &measure, asked, index, safety)?;
        found.push(Outcome {
            demand,
            grip: (measure.per_grip()).then_some(grip),
            reading,
            met: reading.value().is_some_and(|v| asked.bound.holds(v)),
        });
    }
    Ok(found)
}

fn one(
    rig: &mut Rig,
    measure: &Measure,
    demand: &Demand,
    grip: usize,
    safety: &mut dyn FnMut(Option<&str>) -> Option<f64>,
) -> Result<Reading, MeasureError> {
    if let Measure::Safety(name) = measure {
        let factor = safety(name.as_deref());
        return Ok(factor.map_or(
            Reading::Missing("no strength factor: sections, materials or diameters are missing"),
            Reading::Value,
        ));
    }
    let mut reader = Reader::new(rig);
    let (tool, name) = (reader.tool(), &demand.measure);
    let units =
        |e: LocateError| MeasureError(format!("demand on `{name}`: {}", e.text(tool, tool.units)));
    match demand.at {
        Some(at) => reader.at(measure, at, grip).map_err(units),
        None => reader
            .over_stroke(measure, grip)
            .map_err(|e| units(e.into())),
    }
}
