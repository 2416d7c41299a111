//! The sheet that a drawing is fitted to, and the scales that a rule reads: A4 and ISO 5455, or for those who
//! work in inches Letter and halves of halves.

use super::ink::V;
use crate::report::UnitNames;
use crate::units::MM_PER_IN;

/// A sheet that is cut to a standard size, lying across.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Paper {
    /// Its name; empty for one that is no standard one.
    pub name: &'static str,
    /// Width and height, mm.
    pub size: V,
}

/// Sheets of ISO 216, the smallest first.
const ISO_PAPERS: [Paper; 5] = [
    paper("A4", 297.0, 210.0),
    paper("A3", 420.0, 297.0),
    paper("A2", 594.0, 420.0),
    paper("A1", 841.0, 594.0),
    paper("A0", 1189.0, 841.0),
];
/// The sheets of those who work in inches.
const INCH_PAPERS: [Paper; 5] = [
    paper("Letter", 11.0 * MM_PER_IN, 8.5 * MM_PER_IN),
    paper("Tabloid", 17.0 * MM_PER_IN, 11.0 * MM_PER_IN),
    paper("ANSI C", 22.0 * MM_PER_IN, 17.0 * MM_PER_IN),
    paper("ANSI D", 34.0 * MM_PER_IN, 22.0 * MM_PER_IN),
    paper("ANSI E", 44.0 * MM_PER_IN, 34.0 * MM_PER_IN),
];

const fn paper(name: &'static str, wide: f64, tall: f64) -> Paper {
    Paper {
        name,
        size: [wide, tall],
    }
}

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

/// The sheets that a drawing may be made on, the smallest first.
pub(super) fn papers(units: &UnitNames) -> &'static [Paper] {
    if in_inches(units) {
        &INCH_PAPERS
    } else {
        &ISO_PAPERS
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
