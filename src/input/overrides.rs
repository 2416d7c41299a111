//! Dimensions set from outside: `strut.length=26`, `lever.knee.x="0.6 in"`.

use std::fmt;

use super::tolerances::unknown_dimension;
use super::value::{Sign, size_problem};
use crate::model::Tool;
use crate::model::dimension::{self, DimensionSlot};
use crate::units::{self, Quantity};

/// A dimension that cannot be set so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OverrideError {
    /// The address as given.
    pub address: String,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub help: String,
}

impl fmt::Display for OverrideError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}; {}", self.address, self.message, self.help)
    }
}

impl std::error::Error for OverrideError {}

/// Sets dimensions by address. A bare number is in the tool's units.
///
/// # Errors
/// Everything that cannot be set; the tool is then unchanged.
pub fn apply_overrides(
    tool: &mut Tool,
    overrides: &[(String, String)],
) -> Result<(), Vec<OverrideError>> {
    let (mut good, mut bad) = (Vec::new(), Vec::new());
    for (address, text) in overrides {
        match one(tool, address, text) {
            Ok(set) => good.push(set),
            Err((message, help)) => {
                bad.push(OverrideError {
                    address: address.clone(),
                    message,
                    help,
                });
            }
        }
    }
    if !bad.is_empty() {
        return Err(bad);
    }
    for (slot, value) in good {
        slot.set(tool, value);
    }
    Ok(())
}

fn one(tool: &Tool, address: &str, text: &str) -> Result<(DimensionSlot, f64), (String, String)> {
    let Some(slot) = dimension::find(tool, address) else {
        let all: Vec<String> = dimension::dimensions(tool)
            .into_iter()
            .map(|d| d.address)
            .collect();
        let problem = unknown_dimension(address, 0..0, &all);
        return Err((problem.message, problem.help.join("; ")));
    };
    let value = units::parse(text, Quantity::Length, Some(tool.units))
        .map_err(|error| (format!("`{text}`: {error}"), error.help()))?;
    let sign = match slot {
        DimensionSlot::Length(_) => Sign::Positive,
        DimensionSlot::X(_) | DimensionSlot::Y(_) => Sign::Any,
    };
    match size_problem(value, Quantity::Length, sign, tool.units) {
        None => Ok((slot, value)),
        Some(problem) => Err(problem),
    }
}
