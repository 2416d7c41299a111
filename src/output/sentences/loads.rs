//! Strength factors and give in the words of `loads`.

use crate::output::text::{clean, decimals_for, figures, fixed, grip, length};
use crate::report::{CaseReport, FactorReport, LoadsReport};

/// A small length to three figures.
fn small(value: f64) -> String {
    fixed(value, decimals_for(value, 6))
}

/// How far the tool gives, and a rigid piece pressed, one sentence each.
pub(in crate::output) fn give_words(report: &LoadsReport, case: &CaseReport) -> Vec<String> {
    let (l, f) = (report.units.length, report.units.force);
    let mut out = Vec::new();
    match &case.give {
        None => out.push("Compliance: statics cannot tell it here.".to_owned()),
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
                    "the jaws spring open {} {l} per 1000 {f} with the handles held: {} {l} at this force, gap {} {l}; \
                     from {}",
                    small(give.per_thousand),
                    small(give.spread),
                    length(give.gap, &report.units),
                    shares.join(", ")
                )
            };
            out.push(clean(&format!("Compliance: {whole}")));
            if !give.rigid.is_empty() && !give.shares.is_empty() {
                out.push(clean(&format!("Taken as rigid: {}", give.rigid.join("; "))));
            }
        }
    }
    out.extend((case.press.as_ref()).map(|press| clean(&format!("Press: {}", press.text))));
    out
}

/// A strength factor in words.
pub(in crate::output) struct FactorWords {
    /// Subject, check and place on it.
    pub(in crate::output) what: String,
    /// What set the load, and where on the stroke.
    pub(in crate::output) case: String,
    /// The numbers put into the formula.
    pub(in crate::output) inputs: String,
}

pub(in crate::output) fn factor_words(report: &LoadsReport, factor: &FactorReport) -> FactorWords {
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
