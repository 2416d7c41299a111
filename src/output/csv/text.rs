//! Comma-separated values as every command writes them: rows to text, cells from numbers.
//!
//! A value that does not exist is an empty cell, never a zero. Numbers have at most six decimals,
//! which is finer than any drawing and keeps rounding noise out of spreadsheets.

use crate::output::error::OutputError;
use crate::output::text::{clean, trimmed};

/// The rows, the header first, as text; lines end in a line feed.
pub(super) fn csv_text<R>(rows: impl IntoIterator<Item = R>) -> Result<String, OutputError>
where
    R: IntoIterator<Item = String>,
{
    let failed = |e: csv::Error| OutputError::Writer(e.to_string());
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer
            .write_record(row.into_iter().map(String::into_bytes))
            .map_err(failed)?;
    }
    let bytes = writer
        .into_inner()
        .map_err(|e| OutputError::Writer(e.to_string()))?;
    String::from_utf8(bytes).map_err(|e| OutputError::Writer(e.to_string()))
}

/// A text from outside. A spreadsheet takes what begins with one of `= + - @` for a formula: such a text gets an
/// apostrophe before it.
pub(super) fn word(text: &str) -> String {
    let text = clean(text);
    match text.chars().next() {
        Some('=' | '+' | '-' | '@') => format!("'{text}"),
        _ => text,
    }
}

/// A number that may not exist.
pub(super) fn cell(value: Option<f64>) -> String {
    value.map(trimmed).unwrap_or_default()
}
