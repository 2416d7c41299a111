//! Strength factors and give in the words of `loads`.

use super::text::{clean, decimals_for, figures, fixed, grip, length, wrap};
use crate::report::{CaseReport, FactorReport, LoadsReport};

/// A small length to three figures.
fn small(value: f64) -> String {
    fixed(value, decimals_for(value, 6))
}

/// How far the tool gives, and a rigid piece pressed, one sentence each.
pub(super) fn give_words(report: &LoadsReport, case: &CaseReport) -> Vec<String> {
    let (l, f) = (report.units.length, report.units.force);
    let mut out = Vec::new();
    match &case.give {
        None => out.push("Give: statics cannot tell it here.".to_owned()),
        Some(give) => {
            let shares: Vec<String> = give
                .shares
                .iter()
                .map(|(name, share)| format!("{name} {} %", fixed(100.0 * share, 0)))
                .collect();
            let whole = if give.shares.is_empty() {
                "no part has a section with a modulus: the tool is taken as rigid".to_owned()
            } else {
                format!(
                    "the jaws spread {} {l} per 1000 {f}, with the hand held: {} {l} at this force, gap {} {l}; \
                     from {}",
                    small(give.per_thousand),
                    small(give.spread),
                    length(give.gap, &report.units),
                    shares.join(", ")
                )
            };
            out.push(clean(&format!("Give: {whole}")));
            if !give.rigid.is_empty() && !give.shares.is_empty() {
                out.push(clean(&format!("Taken as rigid: {}", give.rigid.join("; "))));
            }
        }
    }
    out.extend((case.press.as_ref()).map(|press| clean(&format!("Press: {}", press.text))));
    out
}

pub(super) fn give(report: &LoadsReport, case: &CaseReport, width: usize, lines: &mut Vec<String>) {
    lines.push(String::new());
    for text in give_words(report, case) {
        lines.extend(wrap("", &text, width, 6));
    }
}

/// A strength factor in words.
pub(super) struct FactorWords {
    /// Subject, check and place on it.
    pub(super) what: String,
    /// What set the load, and where on the stroke.
    pub(super) case: String,
    /// The numbers put into the formula.
    pub(super) inputs: String,
}

pub(super) fn factor_words(report: &LoadsReport, factor: &FactorReport) -> FactorWords {
    let (l, f) = (report.units.length, report.units.force);
    let place = factor
        .place
        .as_deref()
        .map_or_else(String::new, |p| format!(" {p}"));
    let inputs = factor.inputs.iter().map(|(symbol, value, unit)| {
        let text = format!("{symbol} = {} {unit}", figures(*value));
        text.trim_end().to_owned()
    });
    let mut case = format!("{}, {} {f}", factor.case, figures(factor.hand_force));
    if let Some(at) = factor.grip {
        case.push_str(&format!(" at grip {}", grip(at, &report.units)));
    }
    if let Some(handle) = factor.handle {
        case.push_str(&format!(", handle {} deg", fixed(handle, 2)));
    }
    if let Some(gap) = factor.gap {
        case.push_str(&format!(", gap {} {l}", length(gap, &report.units)));
    }
    FactorWords {
        what: clean(&format!("{}, {}{place}", factor.subject, factor.check)),
        case: clean(&case),
        inputs: inputs.collect::<Vec<_>>().join(", "),
    }
}

pub(super) fn factors(report: &LoadsReport, width: usize, lines: &mut Vec<String>) {
    lines.push(String::new());
    if report.factors.is_empty() {
        lines.push("No strength factors.".to_owned());
        return;
    }
    lines.push("Strength factors over the stroke, least first".to_owned());
    for factor in &report.factors {
        lines.extend(factor_lines(report, factor, width));
    }
    lines.push(String::new());
}

fn factor_lines(report: &LoadsReport, factor: &FactorReport, width: usize) -> Vec<String> {
    let FactorWords { what, case, inputs } = factor_words(report, factor);
    let mut lines = wrap(
        &format!("  {:>6.2}  ", factor.factor),
        &clean(&format!(
            "{what}: {} {} against {} {} ({}); {case}",
            figures(factor.value),
            factor.unit,
            figures(factor.allowable),
            factor.unit,
            factor.against,
        )),
        width,
        10,
    );
    lines.extend(wrap("          ", &factor.formula, width, 10));
    lines.extend(wrap("          with ", &inputs, width, 15));
    lines.extend(wrap(
        "          ",
        &format!("[{}]", factor.source),
        width,
        10,
    ));
    lines
}
