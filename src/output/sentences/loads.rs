//! Strength factors and give in the words of `loads`.

use super::tolerance::percent;
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
                .map(|(name, share)| match *share {
                    whole if whole >= 1.0 => format!("{name} alone"),
                    part => format!("{name} {}", percent(part)),
                })
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

/// Where a formula comes from, with a mark where its figure is unconfirmed.
pub(in crate::output) fn source(factor: &FactorReport) -> String {
    let mark = if factor.unconfirmed { "*" } else { "" };
    format!("[{}{mark}]", factor.source)
}

/// What the mark means, if there is one.
pub(in crate::output) fn unconfirmed(report: &LoadsReport) -> Option<&'static str> {
    let marked = report.factors.iter().any(|factor| factor.unconfirmed);
    marked.then_some("*: unconfirmed figure; verify it against the source.")
}

/// How well the parts of a load case are in balance.
pub(in crate::output) fn balance(case: &CaseReport) -> String {
    let parts = match case.sheets.iter().any(|sheet| sheet.bench.is_some()) {
        true => "moving parts",
        false => "all parts",
    };
    format!(
        "{parts} balance to {:.0e} of the greatest force.",
        case.residual
    )
}

/// What exerts a force, as a drawing or a sheet names it: a file's `work at nose` is a load that comes
/// from the work, beside those of hand and pins.
pub(in crate::output) fn force_name(what: &str) -> String {
    match what.strip_prefix("work at ") {
        Some(jaw) => format!("from work, at {}", clean(jaw)),
        None => clean(what),
    }
}

/// The same with the size of the force behind it.
pub(in crate::output) fn force_label(what: &str, size: &str) -> String {
    // A number of the name must not run into that of the force.
    let numbered = what.ends_with(|c: char| c.is_ascii_digit());
    let colon = if numbered || what.starts_with("work at ") {
        ":"
    } else {
        ""
    };
    format!("{}{colon} {size}", force_name(what))
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
        .spot
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
