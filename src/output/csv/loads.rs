//! The free-body sheets of `loads` as comma-separated values: one row for each force on each part.

use super::text::{cell, csv_text, word};
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
            let mut row = |force: [String; 2], at: [f64; 2], sizes: [Option<f64>; 4]| {
                let [force, point] = force;
                let [x, y, couple, moment] = sizes.map(cell);
                rows.push([
                    trimmed(case.handle),
                    trimmed(case.gap),
                    trimmed(case.grip),
                    trimmed(case.hand_force),
                    trimmed(case.jaw_force),
                    word(&sheet.part),
                    force,
                    point,
                    trimmed(at[0]),
                    trimmed(at[1]),
                    x,
                    y,
                    couple,
                    moment,
                    word(&sheet.about.0),
                ]);
            };
            for force in &sheet.forces {
                let point = force.point.as_deref().map(word).unwrap_or_default();
                let names = [word(&force.what), point];
                let [x, y] = [0, 1].map(|k| force.force.map(|f| f[k]));
                row(names, force.at, [x, y, force.couple, force.moment]);
            }
            // With it the rows of the fixed part add up too.
            if let Some([v, n, moment]) = sheet.bench {
                let names = ["from the bench".to_owned(), String::new()];
                let about = [sheet.about.1, sheet.about.2];
                row(names, about, [v, n, moment, moment].map(Some));
            }
        }
    }
    csv_text(rows)
}
