//! Failures of the motion, shown at the lines of the tool file that they come from.

use super::loaded::Loaded;
use super::stop::{Exit, Stop};
use crate::analysis::Failure;
use crate::input::Diagnostic;
use crate::model::PartId;
use crate::motion::{Happening, MotionError, Refusal};
use crate::statics::reaching;
use std::ops::Range;

/// A failure of the analysis as the end of a run: with its place in the file where it has one.
pub(super) fn stop(failure: Failure, loaded: &Loaded) -> Stop {
    let outcome = match failure {
        Failure::Model(_) | Failure::Overlap { .. } => Exit::BadInput,
        _ => Exit::Cannot,
    };
    stopped(outcome, &failure, loaded)
}

fn stopped(outcome: Exit, failure: &Failure, loaded: &Loaded) -> Stop {
    let mut words = failure.words(loaded.tool(), loaded.units);
    let places = match failure {
        Failure::Motion(error) => {
            words
                .help
                .extend(reached(error, loaded, words.help.is_empty()));
            places(error, loaded)
        }
        Failure::Overlap { parts, .. } => layers(*parts, loaded),
        _ => Vec::new(),
    };
    let mut places = places.into_iter();
    let Some((code, span, label)) = places.next() else {
        return Stop::message(outcome, format!("error: {}: {words}", loaded.text.name));
    };
    let mut problem = Diagnostic::error(code, span, words.message).label(label);
    for (_, span, label) in places {
        problem = problem.also(span, label);
    }
    problem.notes = words.notes;
    problem.help = words.help;
    if !loaded.overrides.is_empty() {
        problem = problem.note(format!("with {}", loaded.overrides.join(" ")));
    }
    Stop::problems(outcome, vec![problem], &loaded.text)
}

/// Where the layers of two parts stand in the file.
fn layers(parts: [PartId; 2], loaded: &Loaded) -> Vec<(&'static str, Range<usize>, String)> {
    let each = parts.into_iter().filter_map(|part| {
        let name = &loaded.tool().part(part)?.name;
        let span = loaded.spans.get(&format!("sections.{name}.layers"))?;
        Some(("overlap", span.clone(), format!("of {name}")))
    });
    each.collect()
}

/// What would let the linkage do what it cannot; `alone`: nothing else is said to help.
fn reached(error: &MotionError, loaded: &Loaded, alone: bool) -> Vec<String> {
    let changes: Vec<String> = reaching(loaded.tool(), error)
        .iter()
        .map(|change| change.text(loaded.units))
        .collect();
    match changes.split_last() {
        None if alone && matches!(error, MotionError::Unreachable { .. }) => {
            vec!["ask for a position within that range, or change the dimensions".to_owned()]
        }
        None => Vec::new(),
        Some((one, [])) => vec![format!("{one} would reach it")],
        Some((last, rest)) => {
            let rest = rest.join(", or ");
            vec![format!("{rest}, or {last}: each alone would reach it")]
        }
    }
}

/// Name of the kind of failure, and the places of the file that it speaks of, the first being the
/// one to show it at.
fn places(error: &MotionError, loaded: &Loaded) -> Vec<(&'static str, Range<usize>, String)> {
    let part = |id: PartId, label: String| {
        let name = loaded.tool().part(id).map(|p| p.name.as_str());
        (format!("parts.{}", name.unwrap_or_default()), label)
    };
    let end = |end: &str, label: &str| (format!("stroke.{end}"), label.to_owned());
    let (code, wanted): (&'static str, Vec<(String, String)>) = match error {
        MotionError::Open { joint, .. } => {
            let both = loaded.tool().joint(*joint).map(|joint| joint.parts());
            let labelled = both.map(|[a, b]| {
                [
                    part(a, "one side of the gap".to_owned()),
                    part(b, "the other side".to_owned()),
                ]
            });
            ("open-loop", labelled.into_iter().flatten().collect())
        }
        MotionError::Rigid => ("rigid", vec![("parts".to_owned(), String::new())]),
        MotionError::Loose { parts, .. } => (
            "loose",
            parts
                .iter()
                .take(6)
                .map(|&p| part(p, "can still move".to_owned()))
                .collect(),
        ),
        MotionError::ChangeAtSketch => ("change-point", vec![("sketch".to_owned(), String::new())]),
        MotionError::StillJaw(jaw) => {
            let name = loaded.tool().jaw(*jaw).map(|j| j.name.as_str());
            let key = format!("jaw.{}", name.unwrap_or_default());
            ("still-jaw", vec![(key, String::new())])
        }
        MotionError::StopBeforeOpen(stop, _) => {
            let name = loaded.tool().stop(*stop).map(|stop| stop.name.as_str());
            let key = format!("stops.{}", name.unwrap_or_default());
            (
                "stop-before-open",
                vec![(key, String::new()), end("open", "the stroke begins here")],
            )
        }
        MotionError::OffFace(cam, _) => {
            let name = loaded.tool().cams.get(*cam).map(|own| own.label(*cam));
            let key = format!("cams.{}", name.unwrap_or_default());
            (
                "cam-face",
                vec![(key, String::new()), end("open", "the stroke begins here")],
            )
        }
        MotionError::StillHand => ("still-hand", vec![("hand".to_owned(), String::new())]),
        MotionError::PushedOpen(_) => {
            let name = loaded.tool().jaws.first().map(|j| j.name.as_str());
            let jaw = format!("jaw.{}", name.unwrap_or_default());
            let wanted = vec![
                (jaw, "this jaw opens".to_owned()),
                ("hand.push".to_owned(), "under this push".to_owned()),
                end("open", "from here"),
                end("shut", "to here"),
            ];
            ("pushed-open", wanted)
        }
        MotionError::Unreachable { end: name, .. } => ("out-of-reach", vec![end(name, "")]),
        MotionError::Opens { .. } => (
            "opens",
            vec![end("shut", "to here"), end("open", "from here")],
        ),
        MotionError::NoneCloses { candidates, .. } => (
            refusal_code(candidates.first().map(|c| c.refusal)),
            vec![end("shut", "to here"), end("open", "from here")],
        ),
        MotionError::Unsettled { end: name } => ("unsolved", vec![end(name, "")]),
        MotionError::NoStroke => ("no-stroke", vec![end("shut", ""), end("open", "")]),
        MotionError::Unsolved { .. } => ("unsolved", Vec::new()),
    };
    wanted
        .into_iter()
        .filter_map(|(key, label)| {
            let span = first_line(loaded.spans.get(&key)?.clone(), &loaded.text.text);
            Some((code, span, label))
        })
        .collect()
}

fn refusal_code(refusal: Option<Refusal>) -> &'static str {
    match refusal {
        Some(Refusal::Past(Happening::ChangePoint, _)) => "change-point",
        Some(Refusal::Past(Happening::Dead, _)) => "past-dead-position",
        Some(Refusal::Past(..)) => "past-toggle",
        Some(Refusal::Again(..)) => "met-again",
        Some(Refusal::Opens) | None => "opens",
    }
}

/// The part of a span that is on its first line: a caret says more than a bracket over a table.
pub(super) fn first_line(span: Range<usize>, text: &str) -> Range<usize> {
    let line = text
        .get(span.clone())
        .and_then(|within| within.lines().next())
        .map_or(0, str::len);
    span.start..span.start + line.max(1)
}
