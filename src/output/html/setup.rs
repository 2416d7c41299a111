//! What the adjusters do, on the page.

use crate::output::chart::setup_panels;
use crate::output::sentences::setup::{BY_GAP, of_adjuster};
use crate::output::sentences::tolerance::begun;
use crate::output::text::clean;
use crate::report::SetupReport;

/// The chapter on setting up.
pub(super) struct SetupView {
    pub(super) sentences: Vec<String>,
    /// Of each adjuster what it is called, and its chart.
    pub(super) charts: Vec<String>,
}

/// `id`: start of the ids in its charts.
pub(super) fn setup(report: &SetupReport, id: &str) -> SetupView {
    let mut sentences = Vec::new();
    for adjuster in &report.adjusters {
        let name = clean(&adjuster.name);
        sentences.extend(
            of_adjuster(report, adjuster)
                .into_iter()
                .map(|text| format!("{name}: {text}")),
        );
    }
    if report.shut_by_gap {
        sentences.push(begun(BY_GAP));
    }
    SetupView {
        sentences,
        charts: (0..report.adjusters.len())
            .flat_map(|k| setup_panels(report, k, &format!("{id}-{k}")))
            .collect(),
    }
}
