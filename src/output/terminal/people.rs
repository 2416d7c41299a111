//! `people` for the terminal: repeated use by every method, with its sources; operators by group; the handle.

use super::job::{job_in_full, table};
use crate::output::sentences::people::{handle, operator_notes, operators};
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
    let said = |lines: &mut Vec<String>, all: Vec<String>| {
        for text in all {
            lines.extend(wrap("  ", &text, width, 4));
        }
    };
    if let Some(of) = &report.operators {
        lines.extend([String::new(), "Operators".to_owned()]);
        lines.extend(table(&operators(of, &report.units).lines(), &[0]));
        said(&mut lines, operator_notes(of));
    }
    if let Some(size) = &report.handle {
        lines.extend([String::new(), "Handle".to_owned()]);
        said(&mut lines, handle(size, &report.units));
    }
    lines.push(String::new());
    lines.extend(wrap("Note: ", &clean(report.caution), width, 6));
    joined(&lines)
}
