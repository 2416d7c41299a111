//! Repeated use, for the terminal.

use crate::output::sentences::job::{JobWords, job_words};
use crate::output::text::{aligned, wrap};
use crate::report::{JobReport, UnitNames};

/// The block of `stroke`; nothing without a job.
pub(super) fn job(job: Option<&JobReport>, units: &UnitNames, width: usize) -> Vec<String> {
    let Some(job) = job else {
        return Vec::new();
    };
    let words = job_words(job, units);
    let mut lines = head(&words, width);
    lines.extend(table(&words.tables[1].lines(), &[0]));
    lines.extend(wrap("  ", &words.signs, width, 4));
    lines.extend(wrap(
        "  ",
        "The methods, their limits and sources: jawforce people FILE.",
        width,
        4,
    ));
    lines
}

/// All of it: methods with their limits, grips, sources.
pub(super) fn job_in_full(job: &JobReport, units: &UnitNames, width: usize) -> Vec<String> {
    let words = job_words(job, units);
    let [methods, grips] = &words.tables;
    let mut lines = head(&words, width);
    lines.extend(table(&methods.lines(), &[0, 1, 2]));
    lines.push(String::new());
    lines.extend(table(&grips.lines(), &[0]));
    for text in std::iter::once(&words.signs).chain(&words.notes) {
        lines.extend(wrap("  ", text, width, 4));
    }
    lines
}

fn head(words: &JobWords, width: usize) -> Vec<String> {
    let mut lines = vec!["Repeated use".to_owned()];
    for text in &words.intro {
        lines.extend(wrap("  ", text, width, 4));
    }
    lines
}

/// Rows with a head, set in.
pub(super) fn table(rows: &[&[String]], to_left: &[usize]) -> Vec<String> {
    let rows = aligned(rows, to_left).into_iter();
    rows.map(|row| format!("  {row}")).collect()
}
