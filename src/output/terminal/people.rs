//! `people` for the terminal: repeated use by every method, with its sources.

use super::job::job_in_full;
use crate::output::sentences::verdict::first_lines;
use crate::output::text::{clean, joined, wrap};
use crate::report::PeopleReport;

/// Who can use the tool, as terminal text at most `width` columns wide where words allow it.
#[must_use]
pub fn people_text(report: &PeopleReport, width: usize) -> String {
    let mut lines = wrap("", &clean(&report.tool), width, 2);
    lines.extend(wrap("", &clean(&report.file), width, 2));
    for sentence in first_lines(&report.verdict, &report.units) {
        lines.extend(wrap("", &sentence.painted(), width, 2));
    }
    if let Some(job) = &report.job {
        lines.push(String::new());
        lines.extend(job_in_full(job, &report.units, width));
    }
    lines.push(String::new());
    lines.extend(wrap("Note: ", &clean(report.caution), width, 6));
    joined(&lines)
}
