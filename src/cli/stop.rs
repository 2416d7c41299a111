//! How a run ends, and why it stopped early.

use super::files::Text;
use super::problems::ProblemsReport;
use crate::input::{Diagnostic, render_all};

/// How a run ended. The numbers are the exit codes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Exit {
    /// Done, and all demands met.
    Done = 0,
    /// A demand is not met.
    NotMet = 1,
    /// The input or the call is wrong.
    BadInput = 2,
    /// The linkage cannot do what is asked.
    Cannot = 3,
}

/// Why a command stopped, and how the run ends. It is put into words for the terminal where the
/// run ends, not where it arises.
#[derive(Debug)]
pub(super) struct Stop {
    pub(super) outcome: Exit,
    reason: Reason,
}

#[derive(Debug)]
enum Reason {
    /// A message without a place in a file.
    Message(String),
    /// Problems at their places in a file.
    Problems(Box<(Vec<Diagnostic>, Text)>),
}

impl Stop {
    /// The input or the call is wrong.
    pub(super) fn input(text: impl Into<String>) -> Self {
        Self::message(Exit::BadInput, text)
    }

    /// The linkage cannot do what is asked.
    pub(super) fn cannot(text: impl Into<String>) -> Self {
        Self::message(Exit::Cannot, text)
    }

    /// A mistake of the program itself, which no input should be able to cause.
    pub(super) fn bug(error: impl std::fmt::Display) -> Self {
        Self::cannot(format!("error: {error}"))
    }

    /// What a message repeats of the call must not drive a terminal.
    pub(super) fn message(outcome: Exit, text: impl Into<String>) -> Self {
        let plain = |c: char| if c.is_control() && c != '\n' { ' ' } else { c };
        Self {
            outcome,
            reason: Reason::Message(text.into().chars().map(plain).collect()),
        }
    }

    /// Problems in a file, shown at their places.
    pub(super) fn problems(outcome: Exit, problems: Vec<Diagnostic>, file: &Text) -> Self {
        Self {
            outcome,
            reason: Reason::Problems(Box::new((problems, file.clone()))),
        }
    }

    /// The reason as data.
    pub(super) fn data(&self) -> ProblemsReport {
        let exit = self.outcome as u8;
        match &self.reason {
            Reason::Message(text) => ProblemsReport::of_message(exit, text),
            Reason::Problems(found) => ProblemsReport::of_file(exit, &found.0, &found.1),
        }
    }

    /// The reason as text; `styled` adds terminal colours.
    pub(super) fn text(&self, styled: bool) -> String {
        match &self.reason {
            Reason::Message(text) => text.clone(),
            Reason::Problems(found) => {
                let (problems, file) = &**found;
                render_all(problems, &file.name, &file.text, styled)
            }
        }
    }
}
