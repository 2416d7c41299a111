//! Demands in words: what is wanted, what came out, how many are met.

use super::emphasis::{Sentence, Tone};
use crate::output::text::{self, clean, figures, fixed, length, range};
use crate::report::{DemandResult, Digits, StrokeReport};

/// A demand in words.
pub(in crate::output) struct DemandWords {
    /// Measure, position and grip.
    pub(in crate::output) what: String,
    /// What came out, with its unit.
    pub(in crate::output) value: String,
    /// What is wanted, with its unit.
    pub(in crate::output) wanted: Option<String>,
}

pub(in crate::output) fn demand_words(report: &StrokeReport, demand: &DemandResult) -> DemandWords {
    let unit = demand.unit;
    let show = |value: f64| {
        let number = match demand.digits {
            Digits::Length => length(value, &report.units),
            Digits::Decimals(decimals) => fixed(value, decimals),
            Digits::Figures => figures(value),
        };
        if unit.is_empty() {
            number
        } else {
            format!("{number} {unit}")
        }
    };
    let mut what = clean(&demand.measure);
    if let Some(at) = &demand.at {
        what.push_str(&format!(" at {}", clean(at)));
    }
    if let Some(grip) = demand.grip {
        what.push_str(&format!(", grip {}", text::grip(grip, &report.units)));
    }
    DemandWords {
        what,
        value: match (demand.value, demand.why) {
            (Some(value), _) => show(value),
            (None, Some(why)) => format!("no value: {}", clean(why)),
            (None, None) => "no value".to_owned(),
        },
        wanted: range(demand.min, demand.max, show),
    }
}

/// The count of the demands that are met; `None` without demands.
pub(in crate::output) fn demand_verdict(report: &StrokeReport) -> Option<Sentence> {
    let count = report.demands.len();
    match report.demands.iter().filter(|d| !d.met).count() {
        _ if count == 0 => None,
        0 => Some(format!("Demands: all {count} met.").into()),
        missed => Some(
            Sentence::from(format!("Demands: {missed} of {count} "))
                .and_toned(Tone::Bad, "NOT met")
                .and("."),
        ),
    }
}
