//! The sentences beneath the table: what the numbers above amount to.

use crate::output::sentences::demands::{DemandWords, demand_verdict, demand_words};
use crate::output::sentences::stroke::{checks, sentences};
use crate::output::sentences::{Sentence, Tone};
use crate::output::text::{clean, joined, wrap};
use crate::report::{DemandResult, StrokeReport};

/// All lines of the summary, each at most `width` columns where words allow it.
pub(super) fn lines(report: &StrokeReport, width: usize) -> Vec<String> {
    let mut out = Vec::new();
    for sentence in sentences(report) {
        out.extend(wrap("", &sentence.painted(), width, 2));
    }
    out.extend(super::job::job(report.job.as_ref(), &report.units, width));
    out.extend(wrap("Numerical checks: ", &checks(report), width, 2));
    out.extend(demand_lines(report, width));
    for note in &report.notes {
        out.extend(wrap("Note: ", &clean(note), width, 6));
    }
    out
}

/// The demands and whether they are met; nothing without demands.
pub(super) fn demand_lines(report: &StrokeReport, width: usize) -> Vec<String> {
    let verdict = demand_verdict(report);
    let mut out: Vec<String> = verdict.iter().map(Sentence::painted).collect();
    for demand in &report.demands {
        let verdict = if demand.met {
            Tone::Good.paint("  met ") + "     "
        } else {
            format!("  {}  ", Tone::Bad.paint("NOT MET"))
        };
        out.extend(wrap(&verdict, &demand_line(report, demand), width, 13));
    }
    out
}

/// The demands as terminal text of their own, at most `width` columns wide where words allow it; empty
/// without demands.
#[must_use]
pub fn demands_text(report: &StrokeReport, width: usize) -> String {
    joined(&demand_lines(report, width))
}

fn demand_line(report: &StrokeReport, demand: &DemandResult) -> String {
    let DemandWords {
        what,
        value,
        wanted,
    } = demand_words(report, demand);
    match wanted {
        Some(wanted) => format!("{what}: {value}, {wanted}"),
        None => format!("{what}: {value}"),
    }
}
