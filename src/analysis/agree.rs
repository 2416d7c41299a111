//! An answer against itself: closure, both routes to the jaw force, the balance of every part.

use super::failure::Failure;
use crate::geometry::Vec2;
use crate::model::{PartId, Tool};
use crate::statics::Sheet;

/// Residuals above this are errors: closure, agreement of the two routes, balance of each part.
const ALLOWED: f64 = 1e-9;
pub(super) const CLOSURE: &str = "loop closure";
pub(super) const BOTH_ROUTES: &str = "jaw force by free bodies against virtual work";
pub(super) const BALANCE: &str = "the balance of a part";

/// The greater of two residuals, or NaN if one is: what is no number must not pass a check.
pub(super) fn worse(a: f64, b: f64) -> f64 {
    if a.is_nan() || a > b { a } else { b }
}

/// Whether an answer agrees with itself: checks by name, each with its relative residual.
pub(super) fn agree(checks: &[(&'static str, f64)]) -> Result<(), Failure> {
    match checks.iter().find(|(_, found)| !(*found <= ALLOWED)) {
        None => Ok(()),
        Some(&(what, found)) => Err(Failure::Check {
            what,
            found,
            allowed: ALLOWED,
        }),
    }
}

/// Greatest sum of forces or moments left on a part, over the greatest force (and the tool's size, mm).
pub(super) fn residual(tool: &Tool, sheet: &Sheet, size: f64) -> f64 {
    let forces = || sheet.part_forces.iter().flatten();
    let greatest = forces().fold(0.0_f64, |m, f| worse(m, f.force[0].hypot(f.force[1])));
    let left = PartId::ids(tool.parts.len())
        // A bench holds the fixed part with what is not on its sheet.
        .filter(|&p| p != tool.fixed || tool.palm().is_some())
        .fold(0.0_f64, |worst, part| {
            let about = sheet.on(part).first().map_or(Vec2::ZERO, |f| f.at);
            let (sum, moment) = sheet.sum(part, about);
            let left = [sum.x().abs(), sum.y().abs(), moment.abs() / size];
            left.into_iter().fold(worst, worse)
        });
    // Without any force there is nothing to balance; what is no number stays none.
    if greatest == 0.0 {
        0.0
    } else {
        left / greatest
    }
}

#[cfg(test)]
#[test]
fn a_sheet_that_holds_no_numbers_is_not_balanced() {
    let tool = Tool::lever();
    let kind = crate::statics::ForceKind::Hand;
    let sheet = Sheet::new(2).with(
        crate::model::PartId::new(1),
        kind,
        [0.0; 2],
        [f64::NAN, 1.0],
    );
    assert!(agree(&[(BALANCE, residual(&tool, &sheet, 1.0))]).is_err());
}
