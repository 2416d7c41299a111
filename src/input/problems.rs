//! All problems of a tool file, as the error of reading it.

use super::diagnostic::Diagnostic;
use super::render::render_all;
use std::fmt;
use std::ops::Deref;

/// Why a tool file cannot be used: its problems, in the order of their places, advice among them.
///
/// Shown with `Display`, each stands at its line of the file, under the name `tool.toml`;
/// [`render_all`] shows them under the file's own name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problems {
    all: Vec<Diagnostic>,
    source: String,
}

impl Problems {
    pub(super) fn new(all: Vec<Diagnostic>, source: &str) -> Self {
        Self {
            all,
            source: source.to_owned(),
        }
    }
}

impl Deref for Problems {
    type Target = [Diagnostic];

    fn deref(&self) -> &[Diagnostic] {
        &self.all
    }
}

impl IntoIterator for Problems {
    type Item = Diagnostic;
    type IntoIter = std::vec::IntoIter<Diagnostic>;

    fn into_iter(self) -> Self::IntoIter {
        self.all.into_iter()
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&render_all(&self.all, "tool.toml", &self.source, false))
    }
}

impl std::error::Error for Problems {}
