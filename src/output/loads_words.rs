//! Strength factors and give in the words of `loads`.

use super::text::{clean, decimals_for, figures, fixed, grip, length, wrap};
use crate::report::{CaseReport, FactorReport, LoadsReport};

/// A small length to three figures.
fn small(value: f64) -> String {
    fixed(value, decimals_for(value, 6))
}

/// How far the tool gives, and a rigid piece pressed.
pub(super) fn give(report: &LoadsReport, case: &CaseReport, lines: &mut Vec<String>) {
    let (l, f) = (report.units.length, report.units.force);
    lines.push(String::new());
    match &case.give {
        None => lines.push("Give: statics cannot tell it here.".to_owned()),
        Some(give) => {
            let shares: Vec<String> = give
                .shares
                .iter()
                .map(|(name, share)| format!("{name} {:.0} %", 100.0 * share))
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
            lines.extend(wrap("Give: ", &clean(&whole), 80, 6));
            if !give.rigid.is_empty() && !give.shares.is_empty() {
                lines.extend(wrap(
                    "  taken as rigid: ",
                    &clean(&give.rigid.join("; ")),
                    80,
                    4,
                ));
            }
        }
    }
    if let Some(press) = &case.press {
        lines.extend(wrap("Press: ", &clean(&press.text), 80, 7));
    }
}

pub(super) fn factors(report: &LoadsReport, lines: &mut Vec<String>) {
    lines.push(String::new());
    if report.factors.is_empty() {
        lines.push("No strength factors.".to_owned());
        return;
    }
    lines.push("Strength factors over the stroke, least first".to_owned());
    for factor in &report.factors {
        lines.extend(factor_lines(report, factor));
    }
    lines.push(String::new());
}

fn factor_lines(report: &LoadsReport, factor: &FactorReport) -> Vec<String> {
    let (l, f) = (report.units.length, report.units.force);
    let place = factor
        .place
        .as_deref()
        .map_or_else(String::new, |p| format!(" {p}"));
    let mut lines = wrap(
        &format!("  {:>6.2}  ", factor.factor),
        &clean(&format!(
            "{}, {}{place}: {} {} against {} {} ({}); {}, {} {f} at grip {}, handle {:.2} deg, gap {} {l}",
            factor.subject,
            factor.check,
            figures(factor.value),
            factor.unit,
            figures(factor.allowable),
            factor.unit,
            factor.against,
            factor.case,
            figures(factor.hand_force),
            grip(factor.grip, &report.units),
            factor.handle,
            length(factor.gap, &report.units)
        )),
        80,
        10,
    );
    let inputs: Vec<String> = factor
        .inputs
        .iter()
        .map(|(symbol, value, unit)| {
            format!("{symbol} = {} {unit}", figures(*value))
                .trim_end()
                .to_owned()
        })
        .collect();
    lines.extend(wrap("          ", &factor.formula, 80, 10));
    lines.extend(wrap("          with ", &inputs.join(", "), 80, 15));
    lines.extend(wrap("          ", &format!("[{}]", factor.source), 80, 10));
    lines
}
