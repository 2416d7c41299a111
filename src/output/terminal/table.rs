//! The terminal table of the stroke: what a tool designer reads first.
//!
//! One block for as many grips as the width allows, the others below; two header lines with name
//! and unit; fixed decimals. The sentences beneath the table are in `summary`.

use super::{blocks::JawTable, jaws::JawsTable, summary};
use crate::output::sentences::stroke::whose_gaps;
use crate::output::sentences::verdict::first_lines;
use crate::output::sentences::way::opens;
use crate::output::text::{clean, figures, joined, wrap};
use crate::report::StrokeReport;

/// How many positions the table shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rows {
    /// About so many, evenly spread; first, last, toggles and the hardest position always.
    About(usize),
    /// Every position.
    All,
}

/// How the table is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TableOptions {
    /// Columns of the terminal.
    pub width: usize,
    /// Positions shown.
    pub rows: Rows,
}

impl Default for TableOptions {
    fn default() -> Self {
        Self {
            width: 80,
            rows: Rows::About(15),
        }
    }
}

/// The table and the summary beneath it, as terminal text ending in a line feed.
#[must_use]
pub fn to_table(report: &StrokeReport, options: &TableOptions) -> String {
    let mut lines = wrap("", &clean(&report.tool), options.width, 2);
    lines.extend(wrap("", &subtitle(report), options.width, 2));
    for sentence in first_lines(&report.verdict, &report.units) {
        lines.extend(wrap("", &sentence.painted(), options.width, 2));
    }
    lines.push(String::new());
    let shown = pick_rows(report, options.rows);
    lines.extend(wrap(
        "",
        &legend(report, marks_over(report, &shown)),
        options.width,
        0,
    ));
    lines.push(String::new());
    if let Some(jaws) = JawsTable::new(report) {
        lines.push("All jaws".to_owned());
        jaws.blocks(options.width, &mut lines);
    }
    for (index, jaw) in report.jaws.iter().enumerate() {
        if report.jaws.len() > 1 {
            lines.push(format!("Jaw {}", clean(jaw)));
        }
        let table = JawTable::new(report, jaw, index == 0, &shown);
        table.blocks(options.width, &mut lines);
    }
    lines.extend(summary::lines(report, options.width));
    joined(&lines)
}

fn subtitle(report: &StrokeReport) -> String {
    let mut text = format!(
        "{}: {}, hand force {} {}",
        clean(&report.file),
        report.direction,
        figures(report.hand_force),
        report.units.force
    );
    match report.jaws.as_slice() {
        [] => {}
        [jaw] => text.push_str(&format!(", jaw {}", clean(jaw))),
        jaws => {
            let names: Vec<String> = jaws.iter().map(|jaw| clean(jaw)).collect();
            text.push_str(&format!(", jaws {}", names.join(", ")));
        }
    }
    if let Some(whose) = whose_gaps(report) {
        text.push_str(&format!("; {whose}"));
    }
    text
}

/// Whether a hand force of a table is marked as over the limit.
fn marks_over(report: &StrokeReport, shown: &[usize]) -> bool {
    let tables = report.jaws.iter().enumerate();
    let mut tables = tables.map(|(k, jaw)| JawTable::new(report, jaw, k == 0, shown));
    tables.any(|table| table.marks_over())
}

/// What the columns mean.
pub(in crate::output) fn legend(report: &StrokeReport, marks_over: bool) -> String {
    let (hand, force) = (figures(report.hand_force), report.units.force);
    let (jaw, work) = if opens(report) {
        (
            format!("jaw force held back, with {hand} {force} on the handles"),
            "work pushes: jaw force that the work pushes back with. hand holds: hand force at which the tool starts to \
             open.",
        )
    } else {
        (
            format!("jaw force at {hand} {force} hand force"),
            "work need: jaw force that the work needs. hand needed: hand force for that.",
        )
    };
    let mut text = format!(
        "ratio: jaw force per unit hand force, without friction and springs. jaw @{hand}: {jaw}."
    );
    if report.work.is_some() {
        text.push_str(&format!(" {work}"));
    }
    if report.dies_meet.is_some() {
        text.push_str(" met: dies have met before it.");
    }
    if report.stop_met.is_some() {
        text.push_str(" met: a stop is met before it.");
    }
    if report.face_ends.is_some() {
        text.push_str(" met: the face of a cam ends before it.");
    }
    if marks_over {
        text.push_str(" !: more than the hand's limit.");
    }
    text
}

/// Indices of the positions to show, in order.
pub(in crate::output) fn pick_rows(report: &StrokeReport, rows: Rows) -> Vec<usize> {
    let count = report.positions.len();
    let wanted = match rows {
        Rows::All => return (0..count).collect(),
        Rows::About(wanted) => wanted.max(2),
    };
    let last = count.saturating_sub(1);
    let mut picked: Vec<usize> = if count <= wanted {
        (0..count).collect()
    } else {
        (0..wanted)
            .map(|i| (i * last + (wanted - 1) / 2) / (wanted - 1))
            .collect()
    };
    picked.extend((0..count).filter(|&i| report.positions[i].toggle));
    picked.extend(hardest(report));
    picked.sort_unstable();
    picked.dedup();
    picked
}

/// Of the positions those where the work asks for the greatest hand force, for each grip.
fn hardest(report: &StrokeReport) -> Vec<usize> {
    let Some(jaw) = report.jaws.first() else {
        return Vec::new();
    };
    let hardest = |grip: usize| {
        let mut most: Option<(usize, f64)> = None;
        for (index, position) in report.positions.iter().enumerate() {
            let force = position.forces(grip, jaw).and_then(|f| f.hand_force);
            if let Some(force) = force.filter(|f| *f > most.map_or(0.0, |m| m.1)) {
                most = Some((index, force));
            }
        }
        most.map(|(index, _)| index)
    };
    (0..report.grips.len()).filter_map(hardest).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::samples::Sample;
    use crate::output::text::columns;
    use crate::output::unstyled;

    fn table(sample: &Sample) -> String {
        unstyled(&to_table(&sample.build(), &TableOptions::default()))
    }

    /// Lines of the blocks, without headings and sentences.
    fn data_rows(text: &str) -> Vec<&str> {
        text.lines()
            .filter(|l| {
                l.contains('|')
                    && l.trim_start()
                        .starts_with(|c: char| c.is_ascii_digit() || c == '-')
            })
            .collect()
    }

    #[test]
    fn no_line_is_wider_than_the_terminal() {
        let many: Vec<f64> = (6..18).map(|g| f64::from(g) * 10.0).collect();
        for sample in [
            Sample::knee(),
            Sample::knee().through_toggle(),
            Sample::pliers().inches(),
            Sample::knee().grips(&many),
        ] {
            for line in table(&sample).lines() {
                assert!(columns(line) <= 80, "{line}");
            }
        }
    }

    #[test]
    fn a_few_rows_by_default_first_and_last_among_them() {
        let text = table(&Sample::pliers().steps(360));
        let rows = data_rows(&text);
        assert!((13..=20).contains(&rows.len()), "{}", rows.len());
        assert!(rows[0].starts_with("   12.00"));
        assert!(rows[rows.len() - 1].starts_with("    0.00"));
    }

    #[test]
    fn all_rows_when_asked() {
        let options = TableOptions {
            rows: Rows::All,
            ..TableOptions::default()
        };
        let text = to_table(&Sample::pliers().steps(90).build(), &options);
        assert_eq!(data_rows(&text).len(), 91);
    }

    #[test]
    fn a_toggle_is_always_shown_and_has_no_forces() {
        let text = table(&Sample::knee().through_toggle());
        assert!(text.contains("toggle       -"), "{text}");
        assert!(text.contains("Toggle of nose at handle 0.00 deg"), "{text}");
    }

    #[test]
    fn verdicts_are_words() {
        let text = table(&Sample::knee().grips(&[30.0, 120.0]));
        assert!(
            text.contains("NOT MET  jaw_force at shut, grip 30 mm"),
            "{text}"
        );
        assert!(
            text.contains("  met      jaw_force at shut, grip 120 mm"),
            "{text}"
        );
        assert!(text.contains("STALLS"), "{text}");
    }

    #[test]
    fn the_hardest_position_stands_in_the_table() {
        let report = Sample::knee().grips(&[100.0]).build();
        let text = to_table(&report, &TableOptions::default());
        let forces = report.positions.iter().map(|p| p.forces(0, "nose"));
        let most = forces.flatten().filter_map(|f| f.hand_force);
        let shown = figures(most.reduce(f64::max).unwrap());
        assert!(
            data_rows(&text)
                .iter()
                .any(|row| row.contains(&format!(" {shown}!"))),
            "{text}"
        );
    }

    #[test]
    fn a_report_without_positions_or_grips_is_still_a_text() {
        let mut report = Sample::knee().build();
        report.positions.clear();
        assert!(
            to_table(
                &report,
                &TableOptions {
                    width: 1,
                    rows: Rows::About(0)
                }
            )
            .contains("Numerical checks:")
        );
        let mut report = Sample::knee().build();
        report.grips.clear();
        report.jaws.clear();
        assert!(to_table(&report, &TableOptions::default()).contains("Numerical checks:"));
    }
}
