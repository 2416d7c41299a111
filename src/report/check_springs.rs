//! Springs in the report of `check`.

use crate::analysis::SpringsSeen;
use crate::model::{SpringEnds, Tool};
use crate::statics::SpringState;
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// A spring at both ends of the stroke.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpringLine {
    /// Which, as the sheets call it.
    pub name: String,
    /// Length (of a spring about a pin: angle) at open and at shut.
    pub at: [f64; 2],
    /// Unit of that.
    pub unit: &'static str,
    /// Force, or moment about a pin, at open and at shut; below zero where it pushes.
    pub pull: [f64; 2],
    /// Unit of that.
    pub pull_unit: &'static str,
}

/// The hand force below which a tool opens by itself from shut.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct OpensLine {
    /// Distance along the hand line.
    pub grip: f64,
    /// Against friction; 0 where it stays shut, null where it cannot be told.
    pub hand_force: Option<f64>,
}

/// What each spring is at both ends of the stroke.
pub(super) fn spring_lines(tool: &Tool, seen: &SpringsSeen, units: UnitSystem) -> Vec<SpringLine> {
    let line = |(k, ends): (usize, &[SpringState; 2])| {
        let about_pin = matches!(tool.springs.get(k)?.ends, SpringEnds::Pin { .. });
        let (at, pull) = match about_pin {
            true => (Quantity::Angle, Quantity::Torque),
            false => (Quantity::Length, Quantity::Force),
        };
        Some(SpringLine {
            name: format!("spring {}", k + 1),
            at: ends.map(|end| units.show(end.at, at)),
            unit: units.symbol(at),
            pull: ends.map(|end| units.show(end.pull, pull)),
            pull_unit: units.symbol(pull),
        })
    };
    seen.ends.iter().enumerate().filter_map(line).collect()
}

/// Whether the springs open the tool, grip by grip.
pub(super) fn opens_lines(tool: &Tool, seen: &SpringsSeen, units: UnitSystem) -> Vec<OpensLine> {
    let grips = tool.hand.grips.iter().zip(&seen.opens);
    let opens = grips.map(|(grip, force)| OpensLine {
        grip: units.show(*grip, Quantity::Length),
        hand_force: force.map(|force| units.show(force, Quantity::Force)),
    });
    opens.collect()
}
