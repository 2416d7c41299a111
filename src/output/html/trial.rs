//! The trial on the bench, on the page.

use crate::output::chart::trial_panels;
use crate::output::sentences::trial::{readings, trial_sentences, trial_verdict};
use crate::output::text::clean;
use crate::report::TrialReport;

/// The chapter on the trial.
pub(super) struct TrialView {
    pub(super) verdict: String,
    pub(super) caption: String,
    pub(super) head: Vec<String>,
    pub(super) rows: Vec<Vec<String>>,
    pub(super) sentences: Vec<String>,
    pub(super) charts: Vec<String>,
}

/// `id`: start of the ids in its charts.
pub(super) fn trial(report: &TrialReport, id: &str) -> TrialView {
    let mut rows = readings(report);
    let head = match rows.is_empty() {
        true => Vec::new(),
        false => rows.remove(0),
    };
    TrialView {
        verdict: trial_verdict(report),
        caption: format!("Readings of {}", clean(&report.data)),
        head,
        rows,
        sentences: trial_sentences(report),
        charts: trial_panels(report, id),
    }
}
