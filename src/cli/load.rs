//! From arguments and files to a tool.

use super::args::ToolArgs;
use super::files::{self, Text};
use super::{Outcome, Stop, Streams};
use crate::analysis::{Direction, Failure, Solved, solve};
use crate::input::{Diagnostic, apply_overrides, read_tool, render_all};
use crate::model::Tool;
use crate::report::Source;
use crate::units::{Quantity, UnitSystem, parse};
use std::path::Path;

/// A tool with its source and what is worth saying about the file.
pub(super) struct Loaded {
    pub tool: Tool,
    pub text: Text,
    pub advice: Vec<Diagnostic>,
    pub units: UnitSystem,
}

impl Loaded {
    /// Where it came from, for reports.
    pub(super) fn source(&self) -> Source {
        Source {
            file: self.text.name.clone(),
            sha256: self.text.sha256.clone(),
        }
    }
}

/// Reads a tool file and applies the command line to it.
pub(super) fn load(path: &Path, args: &ToolArgs, streams: &Streams) -> Result<Loaded, Stop> {
    let text = files::read(path).map_err(|e| Stop::input(format!("error: {e}")))?;
    let beside = |name: &str| files::read_beside(&text.folder, name);
    let read = read_tool(&text.text, &beside).map_err(|problems| {
        Stop::input(render_all(
            &problems,
            &text.name,
            &text.text,
            streams.styled,
        ))
    })?;
    let mut tool = read.tool;
    apply(&mut tool, args)?;
    let units = match &args.units {
        None => tool.units,
        Some(name) => UnitSystem::from_name(name).ok_or_else(|| {
            Stop::input(format!(
                "error: --units: there are no units `{name}`; say mm-N or in-lbf"
            ))
        })?,
    };
    Ok(Loaded {
        tool,
        text,
        advice: read.advice,
        units,
    })
}

fn apply(tool: &mut Tool, args: &ToolArgs) -> Result<(), Stop> {
    let mut pairs = Vec::new();
    for set in &args.set {
        let (address, value) = set.split_once('=').ok_or_else(|| {
            Stop::input(format!(
                "error: --set {set}: write dimension=value, e.g. --set strut.length=26.5"
            ))
        })?;
        pairs.push((address.trim().to_owned(), value.trim().to_owned()));
    }
    apply_overrides(tool, &pairs).map_err(|errors| {
        let lines: Vec<String> = errors.iter().map(|e| format!("error: --set {e}")).collect();
        Stop::input(lines.join("\n"))
    })?;
    let quantity = |option: &str, text: &str, kind: Quantity| {
        parse(text.trim(), kind, Some(tool.units))
            .map_err(|e| Stop::input(format!("error: {option} {text}: {e}")))
    };
    if let Some(text) = &args.hand_force {
        let force = quantity("--hand-force", text, Quantity::Force)?;
        if !(force > 0.0 && force <= 1e6) {
            return Err(Stop::input(format!(
                "error: --hand-force {text}: the hand force must be above zero and below 1 MN"
            )));
        }
        tool.hand.force = force;
    }
    if let Some(text) = &args.grip {
        let grips = text
            .split(',')
            .map(|one| quantity("--grip", one, Quantity::Length))
            .collect::<Result<Vec<f64>, _>>()?;
        if let Some(&bad) = grips.iter().find(|g| !(**g >= 0.0)) {
            return Err(Stop::input(format!(
                "error: --grip {bad}: a distance along the hand line cannot be negative"
            )));
        }
        tool.hand.grips = grips;
    }
    Ok(())
}

/// Solves a stroke, or says why not.
pub(super) fn solved(loaded: &Loaded, direction: Direction) -> Result<Solved, Stop> {
    solve(&loaded.tool, direction).map_err(|failure| {
        let outcome = match failure {
            Failure::Model(_) => Outcome::BadInput,
            _ => Outcome::Cannot,
        };
        Stop {
            outcome,
            text: format!(
                "error: {}: {}",
                loaded.text.name,
                failure.text(&loaded.tool)
            ),
        }
    })
}
