//! What text, chart and page have in common when they tell of tolerances.

use super::phrase::phrase_of;
use crate::report::{MeasureSpread, UnitNames};

/// Shares that are printed and drawn for each measure.
pub(in crate::output) const SHARES: usize = 8;

/// The measure with its unit: in brackets, since its name may end in a grip.
pub(in crate::output) fn titled(m: &MeasureSpread, units: &UnitNames) -> String {
    let name = phrase_of(&m.name, units);
    if m.unit.is_empty() {
        name
    } else {
        format!("{name} ({})", m.unit)
    }
}
