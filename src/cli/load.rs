//! From arguments and files to a tool.

use super::args::ToolArgs;
use super::files::{self, Text};
use super::locate::failure_text;
use super::{Outcome, Stop, Streams};
use crate::analysis::{Direction, Failure, Solved, solve_mounted};
use crate::input::{
    Diagnostic, apply_overrides, hint, off_line, read_tool, render_all, too_much, typed,
    typed_limit,
};
use crate::model::{Target, Tool};
use crate::report::Source;
use crate::statics::{Mounted, Rig};
use crate::strength::Strength;
use crate::units::{Quantity, UnitSystem};
use crate::verdict::{Found, Judge};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::Range;
use std::path::{Path, PathBuf};

/// A tool with its source and what is worth saying about the file.
#[derive(Clone)]
pub(super) struct Loaded {
    pub tool: Tool,
    pub text: Text,
    /// The files that it names.
    pub beside: Vec<Text>,
    pub advice: Vec<Diagnostic>,
    pub units: UnitSystem,
    /// Places in the file, see [`crate::input::ReadTool`].
    pub spans: BTreeMap<String, Range<usize>>,
    /// What the command line changed, as it was typed.
    pub overrides: Vec<String>,
    /// Every file that was read.
    pub inputs: Vec<PathBuf>,
    /// Its motion and its strength, once they have been asked for.
    found: Found,
}

impl Loaded {
    /// The same source for another tool made from it.
    pub(super) fn with_tool(&self, tool: Tool) -> Self {
        Self {
            tool,
            found: Found::default(),
            ..self.clone()
        }
    }

    /// The motion of the tool, found once; or why there is none.
    pub(super) fn mounted(&self, styled: bool) -> Result<&Mounted, Stop> {
        let mounted = self.found.mounted(&self.tool);
        mounted.map_err(|e| stop(e.into(), self, styled))
    }

    /// What has been found of it so far.
    pub(super) fn found(&self) -> &Found {
        &self.found
    }

    /// The tool set up at the open end of its stroke, or why it cannot be.
    pub(super) fn rig(&self, direction: Direction, styled: bool) -> Result<Rig<'_>, Stop> {
        let mounted = self.mounted(styled)?;
        Rig::new(&self.tool, mounted, direction).map_err(|e| stop(e.into(), self, styled))
    }

    /// The strength factors of the whole stroke, found once; or why there are none.
    pub(super) fn strength(&self, direction: Direction, styled: bool) -> Result<&Strength, Stop> {
        let strength = self.found.strength(&self.tool, direction);
        strength.map_err(|e| stop(e, self, styled))
    }

    /// Hands the tool, set up at every grip that it names, to `ask`.
    pub(super) fn judge<'f, T>(
        &'f self,
        direction: Direction,
        styled: bool,
        ask: impl for<'r> FnOnce(&mut Judge<'f, 'r>) -> T,
    ) -> Result<T, Stop> {
        let judged = self.found.judge(&self.tool, direction, ask);
        judged.map_err(|e| stop(e, self, styled))
    }

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
    let inputs = RefCell::new(vec![path.to_path_buf()]);
    let read_beside = RefCell::new(Vec::new());
    let beside = |name: &str| {
        inputs.borrow_mut().push(text.folder.join(name));
        let beside = files::read(&text.folder.join(name))?;
        read_beside.borrow_mut().push(beside.clone());
        Ok(beside.text)
    };
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
                "error: --units {name}: there are no such units; say mm-N or in-lbf"
            ))
        })?,
    };
    let inputs = inputs.into_inner();
    Ok(Loaded {
        inputs,
        beside: read_beside.into_inner(),
        tool,
        text,
        advice: read.advice,
        units,
        spans: read.spans,
        overrides: (args.set.iter().map(|set| format!("--set {set}")))
            .chain(args.limit.iter().map(|limit| format!("--limit {limit}")))
            .collect(),
        found: Found::default(),
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
        let address = address.trim().to_owned();
        let option = match address.as_str() {
            "hand.force" => Some("--hand-force"),
            "hand.grips" | "hand.grip" => Some("--grip"),
            _ => None,
        };
        if let Some(option) = option {
            return Err(Stop::input(format!(
                "error: --set {set}: --set changes dimensions; for this there is {option} {}",
                value.trim()
            )));
        }
        if pairs.iter().any(|(known, _)| *known == address) {
            return Err(Stop::input(format!(
                "error: --set {set}: `{address}` is set twice"
            )));
        }
        pairs.push((address, value.trim().to_owned()));
    }
    apply_overrides(tool, &pairs).map_err(|errors| {
        let lines: Vec<String> = errors.iter().map(|e| format!("error: --set {e}")).collect();
        Stop::input(lines.join("\n"))
    })?;
    if let Some(text) = &args.hand_force {
        let force = typed(text, Quantity::Force, tool.units).map_err(|(what, help)| {
            Stop::input(format!("error: --hand-force {text}: {what}; {help}"))
        })?;
        if !(force > 0.0 && force <= 1e6) {
            return Err(Stop::input(format!(
                "error: --hand-force {text}: the hand force must be above zero and below 1 MN"
            )));
        }
        tool.hand.force = force;
    }
    if let Some(text) = &args.limit {
        let limit = typed_limit(tool, text).map_err(|(what, help)| {
            Stop::input(format!("error: --limit {text}: {what}; {help}"))
        })?;
        tool.hand.limit = Some(limit);
    }
    if let Some(text) = &args.grip {
        let grips = grips(tool, text)?;
        // A span without a grip is that at the file's first grip: the stroke belongs to the tool and
        // does not move with the hand.
        let first = tool.hand.grips.first().copied();
        for target in [&mut tool.stroke.open, &mut tool.stroke.shut] {
            if let Target::Span(_, at @ None) = target {
                *at = first;
            }
        }
        tool.hand.grips = grips;
    }
    not_too_much(tool)
}

/// Refuses what the command line has made too much to be solved, as the reader does for the file.
pub(super) fn not_too_much(tool: &Tool) -> Result<(), Stop> {
    too_much(tool).map_or(Ok(()), |[what, help]| {
        Err(Stop::input(format!("error: {what}; {help}")))
    })
}

/// The grips of `--grip`, each once and on the hand line.
fn grips(tool: &Tool, text: &str) -> Result<Vec<f64>, Stop> {
    let wrong = |what: String| Stop::input(format!("error: --grip {text}: {what}"));
    let mut grips: Vec<f64> = Vec::new();
    for one in text.split(',').map(str::trim) {
        if one.is_empty() {
            return Err(wrong(
                "an empty place; write distances with commas between, e.g. --grip 70,100"
                    .to_owned(),
            ));
        }
        let grip = typed(one, Quantity::Length, tool.units)
            .map_err(|(what, help)| wrong(format!("`{one}`: {what}; {help}")))?;
        if !(grip >= 0.0) {
            return Err(wrong(format!(
                "`{one}`: a distance along the hand line is counted from its first point and cannot be negative"
            )));
        }
        if let Some(why) = off_line(tool, grip) {
            return Err(wrong(why));
        }
        if grips.iter().any(|known| (known - grip).abs() < 1e-9) {
            return Err(wrong(format!("`{one}` is there twice")));
        }
        grips.push(grip);
    }
    Ok(grips)
}

/// The part that `--part` names.
pub(super) fn part_named(tool: &Tool, name: &str) -> Result<usize, Stop> {
    tool.part_index(name).ok_or_else(|| {
        let names: Vec<&str> = tool.parts.iter().map(|p| p.name.as_str()).collect();
        Stop::input(format!(
            "error: --part {name}: there is no such part; {}",
            hint(name, "parts", &names)
        ))
    })
}

/// Solves a stroke, or says why not.
pub(super) fn solved(loaded: &Loaded, direction: Direction, styled: bool) -> Result<Solved, Stop> {
    let mounted = loaded.mounted(styled)?;
    solve_mounted(&loaded.tool, mounted, direction).map_err(|e| stop(e, loaded, styled))
}

/// A failure of the analysis as the end of a run.
pub(super) fn stop(failure: Failure, loaded: &Loaded, styled: bool) -> Stop {
    Stop {
        outcome: match failure {
            Failure::Model(_) => Outcome::BadInput,
            _ => Outcome::Cannot,
        },
        text: failure_text(&failure, loaded, styled),
    }
}
