//! Give and strength factors of `loads`, with the numbers put into the formulas.

use crate::output::sentences::loads::{FactorWords, factor_words, give_words, source, unconfirmed};
use crate::output::text::{clean, figures, wrap};
use crate::report::{CaseReport, FactorReport, LoadsReport};

pub(super) fn give(report: &LoadsReport, case: &CaseReport, width: usize, lines: &mut Vec<String>) {
    lines.push(String::new());
    for text in give_words(report, case) {
        lines.extend(wrap("", &text, width, 6));
    }
}

pub(super) fn factors(report: &LoadsReport, width: usize, lines: &mut Vec<String>) {
    lines.push(String::new());
    if report.factors.is_empty() {
        lines.push("No strength factors.".to_owned());
        return;
    }
    lines.push("Strength factors over the stroke, lowest first".to_owned());
    for factor in &report.factors {
        lines.extend(factor_lines(report, factor, width));
    }
    if let Some(text) = unconfirmed(report) {
        lines.extend(wrap("  ", text, width, 2));
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
    lines.extend(wrap("          ", &source(factor), width, 10));
    lines
}
