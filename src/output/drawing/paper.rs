//! The sheet that a drawing is fitted to, and the scales that a rule reads: A4 and ISO 5455, or for those who
//! work in inches Letter and halves of halves.

use super::ink::V;
use crate::report::UnitNames;
use crate::units::MM_PER_IN;

/// What printers cannot reach along each edge, mm.
const UNREACHED: f64 = 5.0;

/// Least and greatest scale that a drawing can have.
pub const SCALES: [f64; 2] = [0.01, 100.0];

/// Scales of ISO 5455, and between them some of second choice.
const ISO_SCALES: &[f64] = &[
    10.0,
    5.0,
    2.0,
    1.0,
    1.0 / 1.5,
    1.0 / 2.0,
    1.0 / 2.5,
    1.0 / 4.0,
    1.0 / 5.0,
    1.0 / 10.0,
    1.0 / 20.0,
    1.0 / 50.0,
];
/// Full, half and quarter size, and so on: what a rule in eighths and sixteenths reads.
const INCH_SCALES: &[f64] = &[
    8.0,
    4.0,
    2.0,
    1.0,
    1.0 / 2.0,
    1.0 / 4.0,
    1.0 / 8.0,
    1.0 / 16.0,
    1.0 / 32.0,
    1.0 / 64.0,
];

fn in_inches(units: &UnitNames) -> bool {
    units.length == "in"
}

/// Width and height of the sheet across, mm.
pub(super) fn sheet(units: &UnitNames) -> V {
    if in_inches(units) {
        [11.0 * MM_PER_IN, 8.5 * MM_PER_IN]
    } else {
        [297.0, 210.0]
    }
}

/// The standard scales, the largest first, to the least that a drawing can have.
pub(super) fn standard_scales(units: &UnitNames) -> impl Iterator<Item = f64> {
    let scales = if in_inches(units) {
        INCH_SCALES
    } else {
        ISO_SCALES
    };
    scales.iter().copied().chain([SCALES[0]])
}

/// What of the sheet across printers reach, mm.
pub(super) fn printed(units: &UnitNames) -> V {
    sheet(units).map(|side| side - 2.0 * UNREACHED)
}
