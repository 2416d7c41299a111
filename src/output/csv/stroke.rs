//! The stroke as comma-separated values: one row for each position, grip and jaw.

use super::text::{cell, csv_text, word};
use crate::output::{error::OutputError, finite::check_finite, text::trimmed};
use crate::report::{GripReport, JawForces, PositionReport, StrokeReport};

/// The report as CSV text with a header row, lines ending in a line feed; headers carry the unit.
///
/// Pin loads and axial forces belong to the first jaw and stand in its rows only.
///
/// # Errors
/// When a number of the report is not finite.
pub fn to_csv(report: &StrokeReport) -> Result<String, OutputError> {
    check_finite(report)?;
    let columns = Columns::of(report);
    let mut rows = vec![columns.headers(report)];
    for (index, position) in report.positions.iter().enumerate() {
        for (grip_index, grip) in position.grips.iter().enumerate() {
            for (jaw_index, (jaw, forces)) in grip.jaws.iter().enumerate() {
                let place = Place {
                    index,
                    position,
                    grip_index,
                    grip,
                    jaw,
                    forces,
                    first_jaw: jaw_index == 0,
                };
                rows.push(columns.row(report, &place));
            }
        }
    }
    csv_text(rows)
}

/// What one row is about.
struct Place<'a> {
    index: usize,
    position: &'a PositionReport,
    grip_index: usize,
    grip: &'a GripReport,
    jaw: &'a str,
    forces: &'a JawForces,
    first_jaw: bool,
}

/// The columns that depend on the tool.
struct Columns {
    pins: Vec<String>,
    links: Vec<String>,
    contacts: Vec<String>,
}

impl Columns {
    fn of(report: &StrokeReport) -> Self {
        let mut columns = Self {
            pins: Vec::new(),
            links: Vec::new(),
            contacts: Vec::new(),
        };
        // Every grip of every position has the same names; the first one tells them in file order.
        if let Some(grip) = report.positions.first().and_then(|p| p.grips.first()) {
            columns.pins = grip.pin_loads.keys().cloned().collect();
            columns.links = grip.axial.keys().cloned().collect();
            columns.contacts = grip.contacts.keys().cloned().collect();
        }
        columns
    }

    fn headers(&self, report: &StrokeReport) -> Vec<String> {
        let (length, force) = (report.units.length, report.units.force);
        let mut row = vec![
            "handle_deg".to_owned(),
            "travel_deg".to_owned(),
            "toggle".to_owned(),
            "jaw".to_owned(),
            format!("gap_{length}"),
            format!("grip_{length}"),
            format!("span_{length}"),
            "ratio".to_owned(),
            format!("jaw_force_{force}"),
            "efficiency".to_owned(),
            "locked".to_owned(),
        ];
        if report.work.is_some() {
            row.push(format!("work_needs_{force}"));
            row.push(format!("hand_force_{force}"));
        }
        if report.limit.is_some() {
            row.push(format!("hand_limit_{force}"));
        }
        row.extend(self.pins.iter().map(|pin| format!("pin_{pin}_{force}")));
        row.extend(
            self.links
                .iter()
                .map(|part| format!("axial_{part}_{force}")),
        );
        row.push("beyond".to_owned());
        // Behind the columns that there were before them.
        let contacts = self.contacts.iter();
        row.extend(contacts.map(|name| format!("contact_{name}_{force}")));
        row
    }

    fn row(&self, report: &StrokeReport, at: &Place<'_>) -> Vec<String> {
        let mut row = vec![
            trimmed(at.position.handle),
            trimmed(at.position.travel),
            at.position.toggle.to_string(),
            word(at.jaw),
            cell(at.position.gap(at.jaw)),
            trimmed(at.grip.at),
            cell(at.grip.span),
            cell(at.forces.ratio),
            cell(at.forces.jaw_force),
            cell(at.forces.efficiency),
            at.forces.locked.to_string(),
        ];
        if let Some(work) = &report.work {
            let needed = work.needed.get(at.index).copied();
            row.push(cell(needed.filter(|_| at.first_jaw && !at.position.beyond)));
            row.push(cell(at.forces.hand_force));
        }
        if report.limit.is_some() {
            row.push(cell(report.limit_at(at.index, at.grip_index)));
        }
        let load =
            |value: Option<&Option<f64>>| cell(value.copied().flatten().filter(|_| at.first_jaw));
        row.extend(self.pins.iter().map(|pin| load(at.grip.pin_loads.get(pin))));
        row.extend(self.links.iter().map(|part| load(at.grip.axial.get(part))));
        row.push(at.position.beyond.to_string());
        let contacts = self.contacts.iter();
        row.extend(contacts.map(|name| load(at.grip.contacts.get(name))));
        row
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::samples::Sample;

    fn read(text: &str) -> (Vec<String>, Vec<Vec<String>>) {
        let mut reader = ::csv::Reader::from_reader(text.as_bytes());
        let own = |record: &::csv::StringRecord| record.iter().map(str::to_owned).collect();
        let headers = own(reader.headers().unwrap());
        let rows = reader.records().map(|r| own(&r.unwrap())).collect();
        (headers, rows)
    }

    #[test]
    fn one_row_for_each_position_grip_and_jaw() {
        let report = Sample::knee().grips(&[70.0, 100.0]).steps(12).build();
        let (headers, rows) = read(&to_csv(&report).unwrap());
        assert_eq!(rows.len(), 13 * 2);
        for wanted in [
            "handle_deg",
            "gap_mm",
            "jaw_force_N",
            "pin_knee_N",
            "axial_strut_N",
        ] {
            assert!(
                headers.iter().any(|h| h == wanted),
                "{wanted} in {headers:?}"
            );
        }
    }

    #[test]
    fn inches_change_the_headers() {
        let report = Sample::knee().inches().build();
        let (headers, _) = read(&to_csv(&report).unwrap());
        assert!(headers.contains(&"gap_in".to_owned()));
        assert!(headers.contains(&"hand_force_lbf".to_owned()));
        assert!(!headers.iter().any(|h| h.contains("mm") || h.contains("_N")));
    }

    #[test]
    fn what_does_not_exist_is_an_empty_cell() {
        let report = Sample::knee().through_toggle().build();
        let (headers, rows) = read(&to_csv(&report).unwrap());
        let column = |name: &str| headers.iter().position(|h| h == name).unwrap();
        let (toggle, ratio) = (column("toggle"), column("ratio"));
        let at_toggle: Vec<_> = rows.iter().filter(|r| r[toggle] == "true").collect();
        assert!(!at_toggle.is_empty());
        assert!(at_toggle.iter().all(|r| r[ratio].is_empty()));
        assert!(rows.iter().all(|r| r.len() == headers.len()));
    }

    #[test]
    fn names_with_commas_and_quotes_are_quoted() {
        let mut report = Sample::knee().build();
        for position in &mut report.positions {
            for grip in &mut position.grips {
                let forces = grip.jaws.shift_remove("nose").unwrap();
                grip.jaws.insert("a,\"b".to_owned(), forces);
            }
        }
        let (headers, rows) = read(&to_csv(&report).unwrap());
        assert!(
            rows.iter()
                .all(|r| r.len() == headers.len() && r[3] == "a,\"b")
        );
    }
}
