//! `trial` for the terminal: the readings on the prediction, and what fits them.

use crate::output::sentences::trial::{readings, trial_sentences, trial_verdict};
use crate::output::text::{aligned, clean, joined, wrap};
use crate::report::TrialReport;

/// A trial as terminal text: a table of the readings, and sentences at most `width` columns wide.
#[must_use]
pub fn trial_text(report: &TrialReport, width: usize) -> String {
    let mut lines = vec![clean(&report.tool)];
    let head = format!(
        "{}: readings of {}",
        clean(&report.file),
        clean(&report.data)
    );
    lines.extend(wrap("", &head, width, 2));
    lines.extend(wrap("", &trial_verdict(report), width, 2));
    lines.push(String::new());
    let table = aligned(&readings(report), &[]).into_iter();
    lines.extend(table.map(|line| format!("  {line}")));
    for text in trial_sentences(report) {
        lines.extend(wrap("", &text, width, 2));
    }
    joined(&lines)
}
