//! `compare` as comma-separated values.

use super::text::{cell, csv_text, word};
use crate::output::{error::OutputError, finite::check_finite, text::trimmed};
use crate::report::{CompareReport, RowReport};

/// One line for each row, the measures as columns with their units.
///
/// # Errors
/// When a number of the report is not finite.
pub fn compare_csv(report: &CompareReport) -> Result<String, OutputError> {
    check_finite(report)?;
    let unit = |name: &str, unit: &str| {
        let name = name.replace(' ', "_");
        if unit.is_empty() {
            name
        } else {
            format!("{name}_{}", unit.replace(' ', ""))
        }
    };
    let mut head = vec!["file".to_owned(), "tool".to_owned()];
    let sets = report.rows.first().map_or(&[][..], |r| &r.set);
    head.extend(
        sets.iter()
            .zip(&report.set_units)
            .map(|(s, u)| unit(&s.0, u)),
    );
    head.push(unit("grip", report.units.length));
    head.extend(report.columns.iter().map(|c| unit(&c.name, &c.unit)));
    head.extend(["demands_met", "demands", "hand_can", "as_often", "problem"].map(str::to_owned));
    let row = |row: &RowReport| {
        let count = |v: Option<usize>| v.map_or_else(String::new, |v| v.to_string());
        let mut line = vec![word(&row.file), word(&row.tool)];
        line.extend(row.set.iter().map(|(_, v)| trimmed(*v)));
        line.push(trimmed(row.grip));
        line.extend(row.values.iter().map(|v| cell(*v)));
        line.extend([
            count(row.met),
            count(row.demands),
            match row.can {
                Some(true) => "yes".to_owned(),
                Some(false) if row.stalls => "stalls".to_owned(),
                Some(false) => "no".to_owned(),
                None => String::new(),
            },
            row.again.unwrap_or_default().to_owned(),
            row.problem.as_deref().map(word).unwrap_or_default(),
        ]);
        line
    };
    csv_text(std::iter::once(head).chain(report.rows.iter().map(row)))
}
