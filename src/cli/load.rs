//! From arguments and files to a tool.

use super::args::ToolArgs;
use super::files;
use super::loaded::Loaded;
use super::{Exit, Stop};
use crate::analysis::Analysis;
use crate::input::{
    apply_overrides, apply_values, hint, off_line, read_tool, setting_problem, too_much, typed,
    typed_limit,
};
use crate::model::{PartId, Target, Tool};
use crate::units::{Quantity, UnitSystem};
use std::cell::RefCell;
use std::path::Path;

/// Reads a tool file and applies the command line to it.
pub(super) fn load(path: &Path, args: &ToolArgs) -> Result<Loaded, Stop> {
    let text = files::read(path).map_err(|e| Stop::input(format!("error: {e}")))?;
    let inputs = RefCell::new(vec![path.to_path_buf()]);
    let read_beside = RefCell::new(Vec::new());
    let beside = |name: &str| {
        inputs.borrow_mut().push(text.folder.join(name));
        let beside = files::read_curve(&text.folder.join(name))?;
        read_beside.borrow_mut().push(beside.clone());
        Ok(beside.text)
    };
    let read = read_tool(&text.text, &beside)
        .map_err(|problems| Stop::problems(Exit::BadInput, problems.to_vec(), &text))?;
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
        analysis: Analysis::of(tool),
        text,
        advice: read.advice,
        pixels: read.pixels,
        units,
        spans: read.spans,
        overrides: (args.adjust.iter().map(|set| format!("--adjust {set}")))
            .chain(args.set.iter().map(|set| format!("--set {set}")))
            .chain(args.limit.iter().map(|limit| format!("--limit {limit}")))
            .chain(args.jaw.iter().map(|jaw| format!("--jaw {jaw}")))
            .collect(),
    })
}

fn apply(tool: &mut Tool, args: &ToolArgs) -> Result<(), Stop> {
    let mut pairs = Vec::new();
    for set in &args.set {
        let (address, value) = set.split_once('=').ok_or_else(|| {
            Stop::input(format!(
                "error: --set {set}: write address=value, e.g. --set strut.length=26.5"
            ))
        })?;
        let address = address.trim().to_owned();
        let option = match address.as_str() {
            "hand.grips" | "hand.grip" => Some("--grip"),
            _ => None,
        };
        if let Some(option) = option {
            return Err(Stop::input(format!(
                "error: --set {set}: a list cannot be set; for this there is {option} {}",
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
    for text in &args.adjust {
        adjust(tool, text)?;
    }
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
    if let Some(name) = &args.jaw {
        let jaw = tool.jaw_named(name).ok_or_else(|| {
            let names: Vec<&str> = tool.jaws.iter().map(|jaw| jaw.name.as_str()).collect();
            Stop::input(format!(
                "error: --jaw {name}: there is no such jaw; {}",
                hint(name, "jaws", &names)
            ))
        })?;
        tool.face(jaw);
    }
    not_too_much(tool)
}

/// Turns an adjuster as `--adjust` says.
fn adjust(tool: &mut Tool, text: &str) -> Result<(), Stop> {
    let wrong = |what: String| Stop::input(wrong_line(text, &what));
    let example = "write name=setting, e.g. --adjust set-up=20 or --adjust set-up=notch3";
    let (name, setting) = text
        .split_once('=')
        .ok_or_else(|| wrong(example.to_owned()))?;
    let (name, setting) = (name.trim(), setting.trim());
    let known = tool.adjusters.iter().find(|known| known.name == name);
    let adjuster = known.ok_or_else(|| {
        let names: Vec<&str> = tool.adjusters.iter().map(|a| a.name.as_str()).collect();
        wrong(match names.as_slice() {
            [] => "the file has no [[adjusters]]".to_owned(),
            names => format!(
                "there is no such adjuster; {}",
                hint(name, "adjusters", names)
            ),
        })
    })?;
    let address = format!("adjusters.{name}.now");
    let to = match (setting.strip_prefix("notch"), adjuster.notches) {
        (Some(_), None) => {
            return Err(wrong("it has no notches: give its setting".to_owned()));
        }
        (Some(number), Some(notches)) => {
            let number = number.trim().parse::<usize>().ok();
            let all = adjuster.settings();
            let at = number.and_then(|number| all.get(number.checked_sub(1)?).copied());
            at.ok_or_else(|| wrong(format!("its notches are notch1 to notch{notches}")))?
        }
        (None, _) => {
            let to = typed(setting, adjuster.quantity(), tool.units)
                .map_err(|(what, help)| wrong(format!("{what}; {help}")))?;
            if let Some((what, help)) = setting_problem(adjuster, to, tool.units) {
                return Err(wrong(format!("{what}; {help}")));
            }
            to
        }
    };
    apply_values(tool, &[(address, to)]).map_err(|errors| {
        let lines: Vec<String> = errors
            .iter()
            .map(|e| wrong_line(text, &e.to_string()))
            .collect();
        Stop::input(lines.join("\n"))
    })
}

fn wrong_line(text: &str, what: &str) -> String {
    format!("error: --adjust {text}: {what}")
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
pub(super) fn part_named(tool: &Tool, name: &str) -> Result<PartId, Stop> {
    tool.part_index(name).ok_or_else(|| {
        let names: Vec<&str> = tool.parts.iter().map(|p| p.name.as_str()).collect();
        Stop::input(format!(
            "error: --part {name}: there is no such part; {}",
            hint(name, "parts", &names)
        ))
    })
}
