//! The free-body sheets of `loads` as comma-separated values: one row for each force on each part.

use super::text::{cell, csv_text};
use crate::output::{error::OutputError, finite::check_finite, text::trimmed};
use crate::report::LoadsReport;

/// All sheets of all cases, with a header row, lines ending in a line feed. Couples are in the
/// moment already; a force that statics alone cannot tell is an empty cell.
///
/// # Errors
/// When a number of the report is not finite.
pub fn loads_csv(report: &LoadsReport) -> Result<String, OutputError> {
    check_finite(report)?;
    let (l, f) = (report.units.length, report.units.force);
    let m = report.moment_unit.replace(' ', "_");
    let mut rows = vec![[
        "handle_deg".to_owned(),
        format!("gap_{l}"),
        format!("grip_{l}"),
        format!("hand_force_{f}"),
        format!("jaw_force_{f}"),
        "part".to_owned(),
        "force".to_owned(),
        "point".to_owned(),
        format!("x_{l}"),
        format!("y_{l}"),
        format!("Fx_{f}"),
        format!("Fy_{f}"),
        format!("couple_{m}"),
        format!("moment_{m}"),
        "about".to_owned(),
    ]];
    for case in &report.cases {
        for sheet in &case.sheets {
            for force in &sheet.forces {
                rows.push([
                    trimmed(case.handle),
                    trimmed(case.gap),
                    trimmed(case.grip),
                    trimmed(case.hand_force),
                    trimmed(case.jaw_force),
                    sheet.part.clone(),
                    force.what.clone(),
                    force.point.clone().unwrap_or_default(),
                    trimmed(force.at[0]),
                    trimmed(force.at[1]),
                    cell(force.force.map(|f| f[0])),
                    cell(force.force.map(|f| f[1])),
                    cell(force.couple),
                    cell(force.moment),
                    sheet.about.0.clone(),
                ]);
            }
            // With it the rows of the fixed part add up too.
            if let Some([v, n, moment]) = sheet.bench {
                rows.push([
                    trimmed(case.handle),
                    trimmed(case.gap),
                    trimmed(case.grip),
                    trimmed(case.hand_force),
                    trimmed(case.jaw_force),
                    sheet.part.clone(),
                    "from the bench".to_owned(),
                    String::new(),
                    trimmed(sheet.about.1),
                    trimmed(sheet.about.2),
                    trimmed(v),
                    trimmed(n),
                    trimmed(moment),
                    trimmed(moment),
                    sheet.about.0.clone(),
                ]);
            }
        }
    }
    csv_text(rows)
}
