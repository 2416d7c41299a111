//! A problem in a tool file, as plain data: what is wrong, where, and what to do.

use std::ops::Range;

/// How much a problem weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Severity {
    /// The file cannot be used.
    Error,
    /// The file can be used; this is worth a look.
    Advice,
}

impl Severity {
    /// What it is called before a message.
    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Advice => "advice",
        }
    }
}

/// A further place that belongs to a problem.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Bytes of the tool file.
    pub span: Range<usize>,
    /// What is there.
    pub text: String,
}

/// One problem of a tool file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// Error or advice.
    pub severity: Severity,
    /// Stable name of the kind of problem: of those of the reader, one of [`super::code::ALL`].
    pub code: &'static str,
    /// What is wrong, one sentence without a full stop.
    pub message: String,
    /// Bytes of the tool file that are at fault.
    pub span: Range<usize>,
    /// What stands beside the caret; may be empty.
    pub label: String,
    /// Other places that belong to it.
    pub further: Vec<Label>,
    /// Facts that explain it.
    pub notes: Vec<String>,
    /// What to do.
    pub help: Vec<String>,
}

impl Diagnostic {
    /// An error at a place.
    #[must_use]
    pub fn error(code: &'static str, span: Range<usize>, message: impl Into<String>) -> Self {
        Self {
            severity: Severity::Error,
            code,
            message: message.into(),
            span,
            label: String::new(),
            further: Vec::new(),
            notes: Vec::new(),
            help: Vec::new(),
        }
    }

    /// Advice at a place.
    #[must_use]
    pub fn advice(code: &'static str, span: Range<usize>, message: impl Into<String>) -> Self {
        Self {
            severity: Severity::Advice,
            ..Self::error(code, span, message)
        }
    }

    /// With a text beside the caret.
    #[must_use]
    pub fn label(mut self, text: impl Into<String>) -> Self {
        self.label = text.into();
        self
    }

    /// With a fact that explains it.
    #[must_use]
    pub fn note(mut self, text: impl Into<String>) -> Self {
        self.notes.push(text.into());
        self
    }

    /// With what to do about it.
    #[must_use]
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help.push(text.into());
        self
    }

    /// With another place that belongs to it.
    #[must_use]
    pub fn also(mut self, span: Range<usize>, text: impl Into<String>) -> Self {
        self.further.push(Label {
            span,
            text: text.into(),
        });
        self
    }

    /// Line and column of the fault, both counted from 1, the column in characters.
    #[must_use]
    pub fn position(&self, source: &str) -> (usize, usize) {
        position(source, self.span.start)
    }
}

/// Line and column of a byte, both counted from 1, the column in characters.
pub(super) fn position(source: &str, byte: usize) -> (usize, usize) {
    let before = source.get(..floor(source, byte)).unwrap_or("");
    let line = before.bytes().filter(|&b| b == b'\n').count() + 1;
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    let column = before
        .get(start..)
        .unwrap_or("")
        .trim_start_matches('\u{feff}')
        .chars()
        .count()
        + 1;
    (line, column)
}

/// The nearest place at or before a byte where a character begins.
pub(super) fn floor(source: &str, byte: usize) -> usize {
    let mut at = byte.min(source.len());
    while !source.is_char_boundary(at) {
        at -= 1;
    }
    at
}
