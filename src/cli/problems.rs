//! What stopped a command, as data: for those who asked for JSON.

use super::files::Text;
use crate::input::{Diagnostic, Severity};
use serde::Serialize;

/// Why there is no result.
#[derive(Debug, Serialize)]
pub(super) struct ProblemsReport {
    /// Version of the format: 1.
    format: u32,
    /// The exit code.
    exit: u8,
    /// The file that they are in; null for a problem of the call.
    file: Option<String>,
    problems: Vec<ProblemLine>,
}

/// One problem.
#[derive(Debug, Serialize)]
struct ProblemLine {
    /// `"error"` or `"advice"`.
    severity: &'static str,
    /// Stable name of the kind of problem; null for one without a place in a file.
    code: Option<&'static str>,
    message: String,
    /// Line and column from 1; null for a problem without a place.
    line: Option<usize>,
    column: Option<usize>,
    notes: Vec<String>,
    help: Vec<String>,
}

impl ProblemsReport {
    /// Problems at their places in a file.
    pub(super) fn of_file(exit: u8, problems: &[Diagnostic], file: &Text) -> Self {
        let line = |problem: &Diagnostic| {
            let (line, column) = problem.position(&file.text);
            ProblemLine {
                severity: match problem.severity {
                    Severity::Error => "error",
                    Severity::Advice => "advice",
                },
                code: Some(problem.code),
                message: problem.message.clone(),
                line: Some(line),
                column: Some(column),
                notes: problem.notes.clone(),
                help: problem.help.clone(),
            }
        };
        Self {
            format: 1,
            exit,
            file: Some(file.name.clone()),
            problems: problems.iter().map(line).collect(),
        }
    }

    /// A message without a place: its lines `note:` and `help:` apart.
    pub(super) fn of_message(exit: u8, text: &str) -> Self {
        let (mut message, mut notes, mut help) = (Vec::new(), Vec::new(), Vec::new());
        for line in text.lines() {
            let line = line.trim_start_matches([' ', '=', '|']);
            match (line.strip_prefix("note: "), line.strip_prefix("help: ")) {
                (Some(note), _) => notes.push(note.to_owned()),
                (_, Some(cure)) => help.push(cure.to_owned()),
                _ => message.push(line.strip_prefix("error: ").unwrap_or(line)),
            }
        }
        Self {
            format: 1,
            exit,
            file: None,
            problems: vec![ProblemLine {
                severity: "error",
                code: None,
                message: message.join(" "),
                line: None,
                column: None,
                notes,
                help,
            }],
        }
    }
}
