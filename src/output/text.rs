//! Pieces of text that several formats share: safe names, rounded numbers, widths, line breaks.

use unicode_width::UnicodeWidthStr;

use crate::report::UnitNames;
pub(super) use crate::units::{alike, decimals_for, figures, fixed};

/// A name or sentence from outside, fit to be shown: control characters (which could drive a
/// terminal, or make XML invalid) and the marks that turn the direction of writing become spaces.
pub(super) fn clean(text: &str) -> String {
    text.chars()
        .map(|c| {
            let turns_text = matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}'
                | '\u{2066}'..='\u{2069}' | '\u{2028}' | '\u{2029}');
            let no_character = (c as u32) & 0xfffe == 0xfffe;
            if c.is_control() || turns_text || no_character {
                ' '
            } else {
                c
            }
        })
        .collect::<String>()
        .trim()
        .to_owned()
}

/// The number with up to six decimals, trailing zeros left off.
pub(super) fn trimmed(value: f64) -> String {
    crate::units::trimmed(value, 6)
}

/// The number to three significant figures however small it is, for columns of numbers that differ in size.
pub(super) fn significant(value: f64) -> String {
    match value {
        0.0 => "0".to_owned(),
        _ => fixed(value, decimals_for(value, 9)),
    }
}

/// A number with a true minus sign, for print.
pub(super) fn true_minus(number: &str) -> String {
    match number.strip_prefix('-') {
        Some(size) => format!("\u{2212}{size}"),
        None => number.to_owned(),
    }
}

/// Decimals of a length: 0.01 mm or 0.001 in.
pub(super) fn length_decimals(units: &UnitNames) -> usize {
    if units.length == "in" { 3 } else { 2 }
}

/// A length with its decimals, without its unit.
pub(super) fn length(value: f64, units: &UnitNames) -> String {
    fixed(value, length_decimals(units))
}

/// A grip by its place along the hand line, as short as it can be said, without its unit.
pub(super) fn grip_number(at: f64, units: &UnitNames) -> String {
    crate::units::trimmed(at, length_decimals(units))
}

/// A grip by its place along the hand line, with unit.
pub(super) fn grip(at: f64, units: &UnitNames) -> String {
    format!("{} {}", grip_number(at, units), units.length)
}

/// Columns that the text takes on a terminal; its colours take none.
pub(super) fn columns(text: &str) -> usize {
    let spans = anstream::adapter::strip_str(text);
    spans.map(UnicodeWidthStr::width).sum()
}

/// The text filled up to the width of a column.
pub(super) fn left(text: &str, width: usize) -> String {
    let pad = width.saturating_sub(columns(text));
    format!("{text}{}", " ".repeat(pad))
}

/// The text pushed to the right edge of a column.
pub(super) fn right(text: &str, width: usize) -> String {
    let pad = width.saturating_sub(columns(text));
    format!("{}{text}", " ".repeat(pad))
}

/// Rows of one table as lines: columns two spaces apart, those of `to_left` filled up, the others pushed to the right.
pub(super) fn aligned<R: AsRef<[String]>>(rows: &[R], to_left: &[usize]) -> Vec<String> {
    let mut widths: Vec<usize> = Vec::new();
    for row in rows {
        let row = row.as_ref();
        widths.resize(widths.len().max(row.len()), 0);
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = columns(cell).max(*width);
        }
    }
    let line = |row: &R| {
        let cells = row.as_ref().iter().zip(&widths).enumerate();
        let cells = cells.map(|(k, (cell, width))| match to_left.contains(&k) {
            true => left(cell, *width),
            false => right(cell, *width),
        });
        let line: Vec<String> = cells.collect();
        line.join("  ").trim_end().to_owned()
    };
    rows.iter().map(line).collect()
}

/// What lies between limits, in words; `None` without a limit.
pub(super) fn range(
    min: Option<f64>,
    max: Option<f64>,
    show: impl Fn(f64) -> String,
) -> Option<String> {
    match (min, max) {
        (Some(min), Some(max)) => Some(format!("{} to {}", show(min), show(max))),
        (Some(min), None) => Some(format!("at least {}", show(min))),
        (None, Some(max)) => Some(format!("at most {}", show(max))),
        (None, None) => None,
    }
}

/// Lines as one text, each without blanks at its end and with a line feed.
pub(super) fn joined(lines: &[String]) -> String {
    let mut text = String::new();
    for line in lines {
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

/// The text broken into lines of at most `width` columns where words allow it, after `first`; the
/// second and later lines are indented by `indent`.
pub(super) fn wrap(first: &str, text: &str, width: usize, indent: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = first.to_owned();
    let mut empty = true;
    for word in text.split_whitespace() {
        if !empty && columns(&line) + 1 + columns(word) > width {
            lines.push(std::mem::take(&mut line));
            line = " ".repeat(indent);
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    if !empty || lines.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lose_what_could_drive_a_terminal() {
        assert_eq!(clean("a\u{1b}[31mb\u{202e}c\n"), "a [31mb c");
        assert_eq!(clean("Zange Größe 2 🔧"), "Zange Größe 2 🔧");
    }

    #[test]
    fn long_sentences_are_broken_at_words() {
        let lines = wrap("", "one two three four", 9, 2);
        assert_eq!(lines, ["one two", "  three", "  four"]);
    }
}
