//! Reports as JSON, `"format": 1`.
//!
//! The keys are the field names of the report's types, in their order; numbers are given to the
//! last digit that matters to read them back unchanged.

use crate::output::{error::OutputError, finite::check_finite};
use serde::Serialize;

/// Longest innermost object or list that is kept on one line, in bytes.
const LINE: usize = 100;

/// A report as JSON text, indented, ending in a line feed.
///
/// # Errors
/// When a number of the report is not finite: null means "does not exist" in this format, so such
/// a number must not be shown as null.
pub fn json_text<T: Serialize + ?Sized>(report: &T) -> Result<String, OutputError> {
    check_finite(report)?;
    let pretty =
        serde_json::to_string_pretty(report).map_err(|e| OutputError::Writer(e.to_string()))?;
    let mut text = join_innermost(&pretty);
    text.push('\n');
    Ok(text)
}

/// Puts every object and list that holds only plain values on one line, if it is short, and takes
/// the sign off a zero.
///
/// Without this a stroke of ninety positions is twenty thousand lines of one number each.
fn join_innermost(pretty: &str) -> String {
    let mut out = String::with_capacity(pretty.len());
    let mut open: Option<usize> = None; // where in `out` the last bracket stands, if still innermost
    let mut in_text = false;
    let mut escaped = false;
    for c in pretty.chars() {
        if !in_text && matches!(c, ',' | '\n' | ']' | '}') && out.ends_with("-0.0") {
            out.truncate(out.len() - "-0.0".len());
            out.push_str("0.0"); // rounding leaves a sign on a zero
        }
        out.push(c);
        if in_text {
            match c {
                _ if escaped => escaped = false,
                '\\' => escaped = true,
                '"' => in_text = false,
                _ => {}
            }
            continue;
        }
        match c {
            '"' => in_text = true,
            '{' | '[' => open = Some(out.len() - 1),
            '}' | ']' => {
                if let Some(start) = open.take() {
                    let joined = one_line(&out[start..]);
                    if joined.len() <= LINE {
                        out.truncate(start);
                        out.push_str(&joined);
                    }
                }
            }
            _ => {}
        }
    }
    out
}

/// A bracket's content without its line breaks and indents. Line breaks never stand inside a JSON
/// string (they are escaped there), so lines may be taken apart blindly.
fn one_line(block: &str) -> String {
    let mut line = String::new();
    for part in block.lines().map(str::trim) {
        if line.ends_with(',') {
            line.push(' ');
        }
        line.push_str(part);
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::samples::Sample;

    #[test]
    fn the_text_reads_back_as_the_same_data() {
        let report = Sample::knee().build();
        let text = json_text(&report).unwrap();
        let back: serde_json::Value = serde_json::from_str(&text).unwrap();
        let plain = serde_json::to_string(&report).unwrap();
        let wanted: serde_json::Value = serde_json::from_str(&plain).unwrap();
        assert!(back == wanted, "joining lines changed the data");
        assert_eq!(back["format"], 1);
        assert_eq!(back["units"]["length"], "mm");
    }

    #[test]
    fn places_stand_on_one_line_and_braces_in_names_do_no_harm() {
        let mut report = Sample::knee().build();
        report.tool = "odd } name { \" [ \\".to_owned();
        report.notes = vec!["a, b\nc".to_owned()];
        let text = json_text(&report).unwrap();
        assert!(text.contains("\"knee\": {\"x\": "), "{text}");
        let back: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(back["tool"], report.tool.as_str());
        assert_eq!(back["notes"][0], "a, b\nc");
    }

    #[test]
    fn a_zero_has_no_sign() {
        let mut report = Sample::knee().build();
        report.positions[0].handle = -0.0;
        report.grips = vec![-0.0, -0.5, 10.0];
        report.tool = "-0.0".to_owned();
        let text = json_text(&report).unwrap();
        assert!(text.contains("\"grips\": [0.0, -0.5, 10.0]"), "{text}");
        assert!(text.contains("\"handle\": 0.0,") && text.contains("\"tool\": \"-0.0\""));
    }

    #[test]
    fn a_number_that_is_not_finite_is_an_error() {
        let mut report = Sample::knee().build();
        report.checks.closure = f64::NAN;
        let error = json_text(&report).unwrap_err();
        assert!(error.to_string().contains("`checks.closure`"), "{error}");
    }

    #[test]
    fn at_a_toggle_the_ratio_is_null() {
        let report = Sample::knee().through_toggle().build();
        let back: serde_json::Value = serde_json::from_str(&json_text(&report).unwrap()).unwrap();
        let positions = back["positions"].as_array().unwrap();
        let at_toggle: Vec<_> = positions.iter().filter(|p| p["toggle"] == true).collect();
        assert!(!at_toggle.is_empty());
        for position in at_toggle {
            assert!(position["grips"][0]["jaws"]["nose"]["ratio"].is_null());
        }
    }
}
