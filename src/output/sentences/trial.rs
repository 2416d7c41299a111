//! A trial in words: in or out, the readings, what fits them.

use crate::output::text::{clean, figures, fixed, grip, length};
use crate::report::{FittedReport, TrialReport};

/// The first line: how many readings are where they were predicted.
pub(in crate::output) fn trial_verdict(report: &TrialReport) -> String {
    let all = report.readings.len();
    let allowed = format!(
        "a reading being good to {} %",
        figures(report.reading_error)
    );
    match report.inside {
        Some(inside) if inside == all => {
            format!("IN: all {all} readings lie within the predicted band, {allowed}.")
        }
        Some(inside) => format!(
            "OUT: {} of {all} readings lie outside of the predicted band, {allowed}.",
            all - inside
        ),
        None => "The file has no [tolerances], so there is no band: in or out is not checked."
            .to_owned(),
    }
}

/// The readings as a table, its heading first.
pub(in crate::output) fn readings(report: &TrialReport) -> Vec<Vec<String>> {
    let units = &report.units;
    let banded = report.readings.iter().any(|r| r.band.is_some());
    let mut rows = vec![vec![
        format!("gap {}", units.length),
        "grip".to_owned(),
        String::new(),
        format!("hand {}", units.force),
        format!("measured {}", units.force),
        format!("predicted {}", units.force),
        "band".to_owned(),
        String::new(),
        format!("fit {}", units.force),
        "off %".to_owned(),
    ]];
    for r in &report.readings {
        rows.push(vec![
            length(r.gap, units),
            grip(r.grip, units),
            r.direction.to_owned(),
            figures(r.hand_force),
            figures(r.measured),
            r.predicted.map_or_else(|| "-".to_owned(), figures),
            r.band.map_or_else(String::new, |[low, high]| {
                format!("{} to {}", figures(low), figures(high))
            }),
            match r.inside {
                Some(true) => "in".to_owned(),
                Some(false) => "OUT".to_owned(),
                None => String::new(),
            },
            figures(r.fitted),
            fixed(r.off, 1),
        ]);
    }
    if !banded {
        for row in &mut rows {
            row.drain(6..=7);
        }
    }
    rows
}

/// What fits the readings, one sentence each.
pub(in crate::output) fn trial_sentences(report: &TrialReport) -> Vec<String> {
    let (units, mut out) = (&report.units, Vec::new());
    let with = |of: FittedReport| match of.error {
        Some(error) => format!("{} \u{b1} {}", figures(of.value), figures(error)),
        None => format!("{} (held)", figures(of.value)),
    };
    let file = match report.file_friction {
        Some(value) => format!("; the file has {}", figures(value)),
        None => String::new(),
    };
    out.push(format!(
        "Friction of the pins that fits best: {}{file}.",
        with(report.friction)
    ));
    let calculated = match report.file_compliance {
        Some(value) => format!("; calculated {}", figures(value * 1000.0)),
        None => "; none is calculated without [sections] and materials".to_owned(),
    };
    let thousand = FittedReport {
        value: 1000.0 * report.compliance.value,
        error: report.compliance.error.map(|e| 1000.0 * e),
    };
    out.push(format!(
        "Compliance: {} {} per 1000 {}{calculated}.",
        with(thousand),
        units.length,
        units.force
    ));
    out.push(format!(
        "Zero of the gap: {} {}.",
        with(report.zero),
        units.length
    ));
    if report.held == Some("flat") {
        out.push(
            "The force hardly changes over the gap, so that the readings cannot tell compliance and zero: these two are \
             held at what is calculated."
                .to_owned(),
        );
    }
    if report.held == Some("one way") {
        out.push(
            "Readings of one direction cannot part friction from compliance and zero, so these two are held at what is \
             calculated: take readings closing and opening."
                .to_owned(),
        );
    }
    out.push(format!(
        "Readings scatter by {} % about the fit; chi-square {} for {} degrees of freedom, if a reading is good to {} %.",
        fixed(report.scatter, 1),
        figures(report.chi_square),
        report.free,
        figures(report.reading_error)
    ));
    if let (Some(pins), Some(apart)) = (&report.pins, report.pins_differ) {
        let all: Vec<String> = pins
            .iter()
            .map(|p| format!("{} {}", clean(&p.pin), with(p.friction)))
            .collect();
        out.push(match apart {
            true => format!(
                "The pins differ: friction of {}.",
                all.join(", ")
            ),
            false => {
                "One coefficient for all pins fits as well as one for each: the readings do not show whether they differ."
                    .to_owned()
            }
        });
    }
    if report.beyond > 0 {
        out.push(format!(
            "{} of the readings stand beyond an end of the stroke in the fit, and are taken at that end.",
            report.beyond
        ));
    }
    out.push("Errors are one standard deviation, from the scatter of the readings.".to_owned());
    out
}
