//! `measure`: one bare number, made for `$(...)` and loops in shell scripts.

use super::args::{MeasureArgs, Whereabouts};
use super::load::{Loaded, load, stop};
use super::locate::first_line;
use super::position::parse_position;
use super::{Outcome, Stop, Streams};
use crate::analysis::Direction;
use crate::input::{Diagnostic, render};
use crate::measure::{Measure, MeasureError, Reader, Reading};
use crate::model::{At, measure_kind};
use crate::statics::LocateError;
use crate::units::{Quantity, trimmed};
use crate::verdict::{Outcome as Read, Unread, Unreadable};

pub(super) fn run(args: &MeasureArgs, streams: &mut Streams) -> Result<Outcome, Stop> {
    let file = args.file.to_string_lossy();
    if measure_kind(&file).is_some() && !args.file.exists() {
        return Err(Stop::input(format!(
            "error: {file}: there is no such file; the tool file comes first: jawforce measure {} {file}",
            args.measure
        )));
    }
    let loaded = load(&args.file, &args.tool, streams)?;
    let tool = &loaded.tool;
    let wrong = |e: MeasureError| Stop::input(format!("error: {e}"));
    let measure = Measure::parse(tool, &args.measure).map_err(wrong)?;
    let at = match (&args.at, Measure::at_position(&args.measure)) {
        (Some(text), true) => Some(parse_position(tool, "--at", text)?),
        (None, false) => None,
        (None, true) => {
            return Err(Stop::input(format!(
                "error: `{}` is read at a position: say --at open, shut, peak, least, gap=…, handle=… or span=…",
                args.measure
            )));
        }
        (Some(_), false) => {
            return Err(Stop::input(format!(
                "error: `{}` is read over the whole stroke: leave --at out",
                args.measure
            )));
        }
    };
    if args.r#where.is_some() && !matches!(at, Some(At::Peak | At::Least)) {
        return Err(Stop::input(
            "error: --where says where a peak or a least value stands: it goes with --at peak or --at least",
        ));
    }
    if args.tool.grip.is_none()
        && tool.hand.grips.len() > 1
        && measure.per_grip()
        && !args.tool.quiet
    {
        streams.tell("note: read at the first grip; --grip picks another");
    }
    let direction = Direction::of(args.opening);
    let (reading, quantity) = match (args.r#where, at) {
        (Some(what), Some(at)) => whereabouts(&loaded, &measure, at, what, direction, streams)?,
        _ => (
            read(&loaded, &measure, at, direction, streams)?,
            measure_kind(&args.measure).and_then(|(kind, _)| kind.quantity),
        ),
    };
    match reading {
        Reading::Value(value) => {
            let shown = quantity.map_or(value, |q| loaded.units.show(value, q));
            streams.print(&format!("{}\n", plain(shown)))?;
            Ok(Outcome::Done)
        }
        Reading::Missing(why) => Err(Stop {
            outcome: Outcome::Cannot,
            text: format!(
                "error: {}: there is no `{}` here: {why}",
                loaded.text.name, args.measure
            ),
        }),
    }
}

/// Where the greatest or least value stands, and what the number measures.
fn whereabouts(
    loaded: &Loaded,
    measure: &Measure,
    at: At,
    what: Whereabouts,
    direction: Direction,
    streams: &Streams,
) -> Result<(Reading, Option<Quantity>), Stop> {
    let mut rig = loaded.rig(direction, streams.styled)?;
    let sense = if at == At::Least { -1.0 } else { 1.0 };
    let (reading, place) = Reader::new(&mut rig)
        .extreme(measure, 0, sense)
        .map_err(|e| stop(e.into(), loaded, streams.styled))?;
    let (value, quantity) = match what {
        Whereabouts::Gap => (place.gap, Quantity::Length),
        Whereabouts::Handle => (place.handle, Quantity::Angle),
    };
    let place = match reading {
        Reading::Value(_) => Reading::Value(value),
        missing => missing,
    };
    Ok((place, Some(quantity)))
}

/// A number that other programs read: enough digits, no more.
fn plain(value: f64) -> String {
    trimmed(value, 9)
}

fn read(
    loaded: &Loaded,
    measure: &Measure,
    at: Option<At>,
    direction: Direction,
    streams: &Streams,
) -> Result<Reading, Stop> {
    let read = loaded.judge(direction, streams.styled, |judge| {
        judge.read(measure, at, None)
    })?;
    read.map_err(|why| unread(why, loaded, streams.styled))
}

/// Why a measure cannot be read, as the end of a run.
fn unread(why: Unread, loaded: &Loaded, styled: bool) -> Stop {
    let tool = &loaded.tool;
    let text = match why {
        Unread::Failure(failure) => return stop(failure, loaded, styled),
        Unread::Locate(LocateError::Motion(error)) => return stop(error.into(), loaded, styled),
        Unread::Locate(error) => error.text(tool, tool.units),
        Unread::Measure(error) => error.0,
    };
    Stop {
        outcome: Outcome::Cannot,
        text: format!("error: {}: {text}", loaded.text.name),
    }
}

/// Reads every demand of a tool.
pub(super) fn read_demands(
    loaded: &Loaded,
    direction: Direction,
    styled: bool,
) -> Result<Vec<Read>, Stop> {
    let read = loaded.judge(direction, styled, |judge| judge.demands())?;
    read.map_err(|error| at_its_demand(error, loaded, styled))
}

/// The demand that cannot be read, at its line.
fn at_its_demand(unreadable: Unreadable, loaded: &Loaded, styled: bool) -> Stop {
    let Unreadable { demand, why } = unreadable;
    let span = loaded.spans.get(&format!("demand.{demand}"));
    let tool = &loaded.tool;
    let (Unread::Locate(error), Some(span)) = (&why, span) else {
        return unread(why, loaded, styled);
    };
    let name = tool.demands.get(demand).map_or("", |d| d.measure.as_str());
    let message = format!("demand on `{name}`: {}", error.text(tool, tool.units));
    let span = first_line(span.clone(), &loaded.text.text);
    let problem = Diagnostic::error("out-of-reach", span, message)
        .help("read it at a position of the stroke, or move the ends in [stroke]");
    Stop {
        outcome: Outcome::Cannot,
        text: render(&problem, &loaded.text.name, &loaded.text.text, styled),
    }
}
