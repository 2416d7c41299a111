//! General tolerances for lengths without their own: the table of ISO 2768-1.
//!
//! ISO 2768-1:1989, *General tolerances — Part 1: Tolerances for linear and angular dimensions
//! without individual tolerance indications*, table 1. The figures were compared on three
//! independent reprints; one older reprint shows 0.15 and 0.2 in the first two steps of class c,
//! which are those of an earlier standard.

use crate::model::ToleranceClass;

/// Sizes below this (mm) have no general tolerance: it must stand beside the dimension.
pub const SMALLEST: f64 = 0.5;

/// Greatest size of each step, mm, and ± values of f, m, c, v; `None` where the standard has none.
const STEPS: [(f64, [Option<f64>; 4]); 8] = [
    (3.0, [Some(0.05), Some(0.1), Some(0.2), None]),
    (6.0, [Some(0.05), Some(0.1), Some(0.3), Some(0.5)]),
    (30.0, [Some(0.1), Some(0.2), Some(0.5), Some(1.0)]),
    (120.0, [Some(0.15), Some(0.3), Some(0.8), Some(1.5)]),
    (400.0, [Some(0.2), Some(0.5), Some(1.2), Some(2.5)]),
    (1000.0, [Some(0.3), Some(0.8), Some(2.0), Some(4.0)]),
    (2000.0, [Some(0.5), Some(1.2), Some(3.0), Some(6.0)]),
    (4000.0, [None, Some(2.0), Some(4.0), Some(8.0)]),
];

fn column(class: ToleranceClass) -> Option<usize> {
    match class {
        ToleranceClass::Fine => Some(0),
        ToleranceClass::Medium => Some(1),
        ToleranceClass::Coarse => Some(2),
        ToleranceClass::VeryCoarse => Some(3),
        ToleranceClass::Plain(_) => None,
    }
}

/// ± tolerance (mm) of a length of this nominal size (mm) in a class; a plain class is the same
/// for every size. `None` where the standard gives none.
#[must_use]
pub fn general_tolerance(class: ToleranceClass, size: f64) -> Option<f64> {
    if let ToleranceClass::Plain(value) = class {
        return Some(value);
    }
    let size = size.abs();
    if !(size >= SMALLEST) {
        return None;
    }
    let (_, row) = STEPS.iter().find(|(most, _)| size <= *most)?;
    row.get(column(class)?).copied().flatten()
}

/// ± tolerance (mm) of the first step of a class that has one: what a coordinate at or near zero,
/// which has no size, is held to here.
#[must_use]
pub fn smallest_step(class: ToleranceClass) -> f64 {
    match (class, column(class)) {
        (ToleranceClass::Plain(value), _) => value,
        (_, column) => (STEPS.iter())
            .find_map(|(_, row)| row.get(column?).copied().flatten())
            .unwrap_or(0.0),
    }
}
