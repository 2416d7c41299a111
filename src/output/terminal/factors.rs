//! Give and strength factors of `loads`: a table, and below it every formula once with the numbers put in.

use crate::output::sentences::loads::{FactorWords, factor_words, give_words, source, unconfirmed};
use crate::output::text::{clean, columns, figures, fixed, right, wrap};
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
    let rows: Vec<Row<'_>> = report.factors.iter().map(|f| Row::of(report, f)).collect();
    let usual = usual_case(&rows);
    if let Some(case) = usual {
        lines.extend(wrap("Where nothing else is said: ", case, width, 2));
    }
    let formulas = formulas(&rows);
    table(&rows, usual, &formulas, width, lines);
    lines.push(String::new());
    lines.push("Formulas, with the numbers of each row".to_owned());
    for (number, formula) in formulas.iter().enumerate() {
        lines.extend(wrap(&format!("  [{}] ", number + 1), formula.0, width, 6));
        lines.extend(wrap("      ", &formula.1, width, 6));
        for row in rows.iter().filter(|row| row.formula() == *formula) {
            let text = format!("{}: {}", row.words.what, row.words.inputs);
            lines.extend(wrap("      ", &text, width, 8));
        }
    }
    if let Some(text) = unconfirmed(report) {
        lines.extend(wrap("  ", text, width, 2));
    }
    lines.push(String::new());
}

/// A factor and the words for it.
struct Row<'r> {
    factor: &'r FactorReport,
    words: FactorWords,
    source: String,
}

impl<'r> Row<'r> {
    fn of(report: &LoadsReport, factor: &'r FactorReport) -> Self {
        Self {
            words: factor_words(report, factor),
            source: source(factor),
            factor,
        }
    }

    /// Formula and source.
    fn formula(&self) -> (&'r str, String) {
        (&self.factor.formula, self.source.clone())
    }
}

/// The load of most of the factors: it stands once, and beside a factor only where it is another.
fn usual_case<'r>(rows: &'r [Row<'_>]) -> Option<&'r str> {
    let count = |case: &str| rows.iter().filter(|row| row.words.case == case).count();
    let cases = rows.iter().map(|row| row.words.case.as_str());
    let usual = cases.max_by_key(|case| count(case));
    usual.filter(|case| count(case) > 1)
}

/// Every formula once, in the order of the rows.
fn formulas<'r>(rows: &[Row<'r>]) -> Vec<(&'r str, String)> {
    let mut out = Vec::new();
    for row in rows {
        let formula = row.formula();
        if !out.contains(&formula) {
            out.push(formula);
        }
    }
    out
}

/// Factor, stress, what is allowed, formula and what it is of, which takes as many lines as it needs.
fn table(
    rows: &[Row<'_>],
    usual: Option<&str>,
    formulas: &[(&str, String)],
    width: usize,
    lines: &mut Vec<String>,
) {
    let cells = |row: &Row<'_>| {
        let factor = row.factor;
        let number = formulas.iter().position(|f| *f == row.formula());
        [
            fixed(factor.factor, 2),
            format!("{} {}", figures(factor.value), factor.unit),
            format!("{} {}", figures(factor.allowable), factor.unit),
            format!("[{}]", number.map_or(0, |k| k + 1)),
        ]
    };
    let head = ["factor", "stress", "allowable", "by"].map(str::to_owned);
    let all: Vec<[String; 4]> = std::iter::once(head)
        .chain(rows.iter().map(cells))
        .collect();
    let widths = [0, 1, 2, 3].map(|c| all.iter().map(|row| columns(&row[c])).max().unwrap_or(0));
    let start = |cells: &[String; 4]| -> String {
        let texts = cells.iter().zip(widths);
        texts
            .map(|(text, width)| format!("  {}", right(text, width)))
            .collect()
    };
    let names = rows.iter().map(|row| {
        let mut text = format!("{} ({})", row.words.what, row.factor.against);
        if usual != Some(row.words.case.as_str()) {
            text.push_str(&format!("; {}", row.words.case));
        }
        clean(&text)
    });
    let names = std::iter::once("of".to_owned()).chain(names);
    let indent = widths.iter().map(|width| width + 2).sum::<usize>() + 4;
    for (cells, name) in all.iter().zip(names) {
        lines.extend(wrap(&format!("{}  ", start(cells)), &name, width, indent));
    }
}
