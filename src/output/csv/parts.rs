//! The parts list as comma-separated values: one row for each part with an outline.

use super::text::{cell, csv_text, word};
use crate::output::{error::OutputError, finite::check_finite, text::trimmed};
use crate::report::PartsReport;

/// All rows, with a header row, lines ending in a line feed.
///
/// # Errors
/// When a number of the report is not finite.
pub fn parts_csv(report: &PartsReport) -> Result<String, OutputError> {
    check_finite(report)?;
    let l = report.units.length;
    let mut rows = vec![vec![
        "part".to_owned(),
        "plates".to_owned(),
        "material".to_owned(),
        format!("thickness_{l}"),
        format!("area_{}", report.area_unit),
        format!("width_{l}"),
        format!("height_{l}"),
        format!("mass_{}", report.mass_unit),
        "holes".to_owned(),
        "slots".to_owned(),
        "price".to_owned(),
    ]];
    for part in &report.parts {
        let holes = part.holes.iter();
        let holes: Vec<String> = holes
            .map(|(diameter, count)| format!("{count} x {}", trimmed(*diameter)))
            .collect();
        let [width, height] = part.rectangle.map(trimmed);
        rows.push(vec![
            word(&part.part),
            part.plates.to_string(),
            part.material.as_deref().map(word).unwrap_or_default(),
            cell(part.thickness),
            trimmed(part.area),
            width,
            height,
            cell(part.mass),
            holes.join("; "),
            part.slots.to_string(),
            cell(part.price),
        ]);
    }
    csv_text(rows)
}
