//! What text, chart and page have in common when they tell of tolerances.

use crate::output::text::clean;
use crate::report::MeasureSpread;

/// Shares that are printed and drawn for each measure.
pub(in crate::output) const SHARES: usize = 8;

/// The measure with its unit: in brackets, since its name may end in a grip.
pub(in crate::output) fn titled(m: &MeasureSpread) -> String {
    let name = clean(&m.name);
    if m.unit.is_empty() {
        name
    } else {
        format!("{name} ({})", m.unit)
    }
}
