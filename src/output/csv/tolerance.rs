//! `tolerance` as comma-separated values.

use super::text::csv_text;
use crate::output::text::fixed;
use crate::output::{error::OutputError, finite::check_finite};
use crate::report::ToleranceReport;

/// One line for each measure and dimension, then the measure's stack-ups; nine decimals, since
/// shares are small beside what they are shares of.
///
/// # Errors
/// When a number of the report is not finite.
pub fn tolerance_csv(report: &ToleranceReport) -> Result<String, OutputError> {
    check_finite(report)?;
    let number = |value: f64| fixed(value, 9);
    let mut rows = vec![["measure", "unit", "dimension", "share"].map(str::to_owned)];
    for m in &report.measures {
        let shares = m
            .shares
            .iter()
            .map(|(name, share)| (name.as_str(), number(*share)));
        let stacked = [
            ("worst case", m.worst_case),
            ("root-sum-square", m.root_sum_square),
        ];
        let stacked = stacked.map(|(name, value)| (name, value.map(number).unwrap_or_default()));
        for (name, value) in shares.chain(stacked) {
            rows.push([m.name.clone(), m.unit.clone(), name.to_owned(), value]);
        }
    }
    csv_text(rows)
}
