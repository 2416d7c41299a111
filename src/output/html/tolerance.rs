//! The tolerance study on the page.

use crate::output::chart::tolerance_panel;
use crate::output::sentences::phrase::plain;
use crate::output::sentences::tolerance::{COLOURS, begun, share, taken_up, titled};
use crate::output::sentences::verdict::as_made;
use crate::output::text::figures;
use crate::report::{MeasureSpread, ToleranceReport};

pub(super) struct StudyView {
    pub(super) text: String,
    pub(super) rows: Vec<Vec<String>>,
    /// Pictures of the measures that fewest samples meet.
    pub(super) charts: Vec<String>,
    pub(super) notes: Vec<String>,
}

/// `id`: start of the ids in its chart.
pub(super) fn study(report: &ToleranceReport, id: &str) -> StudyView {
    let all: String = (report.verdict.made.iter())
        .map(|made| format!(" {}", as_made(made, &report.units)))
        .collect();
    StudyView {
        text: format!(
            "{} dimensions vary; {} samples, {}, seed {}.{all} The command `tolerance` draws more samples. {}.",
            report.varied.len(),
            report.samples,
            report.spread,
            report.seed,
            begun(COLOURS)
        ),
        rows: report.measures.iter().map(|m| row(report, m)).collect(),
        charts: worst(report)
            .into_iter()
            .filter_map(|k| tolerance_panel(report, k, &format!("{id}-{k}")))
            .collect(),
        notes: report
            .notes
            .iter()
            .map(|n| plain(n, &report.units))
            .collect(),
    }
}

/// Most pictures.
const PICTURES: usize = 6;

/// Pictures where every sample meets everything: how the tool comes out is then told by the table.
const AT_EASE: usize = 2;

/// The measures that fewest samples meet, of these the widest first.
fn worst(report: &ToleranceReport) -> Vec<usize> {
    let rank = |m: &MeasureSpread| {
        let relative = m.root_sum_square.unwrap_or(f64::MAX) / m.nominal.abs().max(1e-9);
        (m.met.unwrap_or(usize::MAX), relative)
    };
    let mut all: Vec<usize> = (0..report.measures.len()).collect();
    let key = |k: &usize| report.measures.get(*k).map_or((usize::MAX, 0.0), rank);
    all.sort_by(|a, b| {
        let (a, b) = (key(a), key(b));
        a.0.cmp(&b.0).then(b.1.total_cmp(&a.1))
    });
    let missed = |k: &usize| {
        let met = report.measures.get(*k).and_then(|m| m.met);
        met.is_some_and(|met| met < report.samples)
    };
    let missed = all.iter().filter(|k| missed(k)).count();
    all.truncate(match missed {
        0 => AT_EASE,
        _ => missed.min(PICTURES),
    });
    all
}

fn row(report: &ToleranceReport, m: &MeasureSpread) -> Vec<String> {
    let at = |percent: f64| {
        let place = report.percentiles.iter().position(|p| *p == percent)?;
        m.at_percentiles.get(place).copied()
    };
    let mut range = match (at(5.0), at(95.0)) {
        (Some(low), Some(high)) => format!("{} to {}", figures(low), figures(high)),
        _ => "-".to_owned(),
    };
    // Those that fail have no place between the percentiles of the others.
    let without: usize = m.failed.iter().map(|(_, count)| count).sum();
    if without > 0 {
        range.push_str(&format!(", {without} without a value"));
    }
    let none = || "-".to_owned();
    vec![
        titled(m, &report.units),
        figures(m.nominal),
        taken_up(m).map_or_else(none, figures),
        m.worst_case.map_or_else(none, figures),
        m.root_sum_square.map_or_else(none, figures),
        range,
        m.met
            .map_or_else(String::new, |met| share(met, report.samples)),
    ]
}
