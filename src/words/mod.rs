//! Every sentence that a user reads about a failure of the linkage, or about what a study leaves out:
//! the stages below say what is so in numbers and names of cases, this folder says it in words.

mod absent;
mod candidates;
mod change;
mod failure;
mod give;
mod locate;
mod measure;
mod model;
mod motion;
mod plain;
mod pushed_open;
mod strength;
mod tolerance;

pub use candidates::as_near;

use crate::units::{Quantity as Kind, UnitSystem, trimmed};

/// A value with its unit, with no more digits than a workshop reads.
#[must_use]
pub fn number(value: f64, kind: Kind, units: UnitSystem) -> String {
    let shown = units.show(value, kind);
    let digits = match (kind, units) {
        (Kind::Length, UnitSystem::InLbf) => 4,
        (Kind::Angle, _) => 2,
        _ => 3,
    };
    format!("{} {}", trimmed(shown, digits), units.symbol(kind))
}

/// A message taken apart: what is wrong, facts that explain it, what to do. Sentences without a
/// full stop.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Words {
    /// What is wrong.
    pub message: String,
    /// Facts that explain it.
    pub notes: Vec<String>,
    /// What to do.
    pub help: Vec<String>,
}

impl Words {
    pub(super) fn new(message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            ..Self::default()
        }
    }

    pub(super) fn note(mut self, text: impl Into<String>) -> Self {
        self.notes.push(text.into());
        self
    }

    pub(super) fn help(mut self, text: impl Into<String>) -> Self {
        self.help.push(text.into());
        self
    }
}

impl std::fmt::Display for Words {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)?;
        for text in &self.notes {
            write!(f, "\nnote: {text}")?;
        }
        for text in &self.help {
            write!(f, "\nhelp: {text}")?;
        }
        Ok(())
    }
}
