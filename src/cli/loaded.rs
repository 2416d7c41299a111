//! A tool with its source, and what is worth saying about the file.

use super::files::Text;
use crate::analysis::Analysis;
use crate::geometry::Pixels;
use crate::input::Diagnostic;
use crate::model::Tool;
use crate::report::Source;
use crate::units::UnitSystem;
use std::collections::BTreeMap;
use std::ops::Range;
use std::path::PathBuf;

/// A tool file that was read, and the command line applied to it.
pub(super) struct Loaded {
    /// The tool, and what has been found of it.
    pub analysis: Analysis,
    pub text: Text,
    /// The files that it names.
    pub beside: Vec<Text>,
    pub advice: Vec<Diagnostic>,
    /// Where the picture of its sketch lies.
    pub pixels: Option<Pixels>,
    pub units: UnitSystem,
    /// Places in the file, see [`crate::input::ReadTool`].
    pub spans: BTreeMap<String, Range<usize>>,
    /// What the command line changed, as it was typed.
    pub overrides: Vec<String>,
    /// Every file that was read.
    pub inputs: Vec<PathBuf>,
}

impl Loaded {
    /// The tool.
    pub(super) fn tool(&self) -> &Tool {
        self.analysis.tool()
    }

    /// The same source for another tool made from it.
    pub(super) fn with_tool(&self, tool: Tool) -> Self {
        Self {
            analysis: Analysis::of(tool),
            text: self.text.clone(),
            beside: self.beside.clone(),
            advice: self.advice.clone(),
            pixels: self.pixels,
            units: self.units,
            spans: self.spans.clone(),
            overrides: self.overrides.clone(),
            inputs: self.inputs.clone(),
        }
    }

    /// Where it came from, for reports.
    pub(super) fn source(&self) -> Source {
        Source {
            file: self.text.name.clone(),
            sha256: self.text.sha256.clone(),
        }
    }
}
