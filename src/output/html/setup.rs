//! What the adjusters do, on the page.

use crate::output::chart::{adjuster_held, setup_panels};
use crate::output::sentences::setup::{BY_GAP, of_adjuster};
use crate::output::sentences::tolerance::begun;
use crate::output::text::clean;
use crate::report::SetupReport;

/// The chapter on setting up.
pub(super) struct SetupView {
    pub(super) sentences: Vec<String>,
    /// Of each adjuster what its curves are, and these.
    pub(super) charts: Vec<(String, Vec<String>)>,
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
    let adjusters = report.adjusters.iter().enumerate();
    let charts = adjusters.map(|(k, adjuster)| {
        let [now, held] = adjuster_held(report, adjuster);
        let caption = format!("{}: {now}; {held}", clean(&adjuster.name));
        (caption, setup_panels(report, k, &format!("{id}-{k}")))
    });
    SetupView {
        sentences,
        charts: charts.filter(|(_, charts)| !charts.is_empty()).collect(),
    }
}
