//! `measure`: one bare number, made for `$(...)` and loops in shell scripts.

use super::args::{MeasureArgs, Whereabouts};
use super::load::load;
use super::loaded::Loaded;
use super::locate::{first_line, stop};
use super::position::parse_position;
use super::study::unstudied;
use super::{Exit, Stop, Streams};
use crate::analysis::{self, DemandError, Direction, ReadError};
use crate::input::Diagnostic;
use crate::measure::{Measure, MeasureError, Reader, Reading, named};
use crate::model::{At, GripId, JawId};
use crate::statics::LocateError;
use crate::units::{Quantity, trimmed};

pub(super) fn run(args: &MeasureArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let file = args.file.to_string_lossy();
    if Measure::of_name(&file).is_some() && !args.file.exists() {
        return Err(Stop::input(format!(
            "error: {file}: there is no such file; the tool file comes first: jawforce measure {} {file}",
            args.measure
        )));
    }
    let loaded = load(&args.file, &args.tool)?;
    let tool = loaded.tool();
    let wrong = |e: MeasureError| Stop::input(format!("error: {e}"));
    let (measure, jaw) = named(tool, &args.measure).map_err(wrong)?;
    let at = match (&args.at, measure.at_position()) {
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
    if tool.hand.grips.len() > 1 && measure.per_grip() && !args.tool.quiet {
        streams.tell("note: read at the first grip; --grip picks another");
    }
    let direction = Direction::of(args.opening);
    let (reading, quantity) = match (args.r#where, at) {
        (Some(what), Some(at)) => whereabouts(&loaded, (&measure, jaw), at, what, direction)?,
        _ => (
            read(&loaded, (&measure, jaw), at, direction)?,
            measure.kind().quantity,
        ),
    };
    match reading {
        Ok(value) => {
            let shown = quantity.map_or(value, |q| loaded.units.show(value, q));
            if streams.is_read_by_people() {
                let unit = quantity.map_or("", |q| loaded.units.symbol(q));
                streams.print(&format!("{}\n", six_figures(shown)))?;
                if !unit.is_empty() && !args.tool.quiet {
                    streams.tell(unit);
                }
            } else {
                streams.print(&format!("{}\n", plain(shown)))?;
            }
            Ok(Exit::Done)
        }
        Err(why) => Err(Stop::cannot(format!(
            "error: {}: there is no `{}` here: {}",
            loaded.text.name,
            args.measure,
            why.words()
        ))),
    }
}

/// Where the greatest or least value stands, and what the number measures.
fn whereabouts(
    loaded: &Loaded,
    (measure, jaw): (&Measure, JawId),
    at: At,
    what: Whereabouts,
    direction: Direction,
) -> Result<(Reading, Option<Quantity>), Stop> {
    let rig = loaded.analysis.facing(jaw).rig(direction);
    let mut rig = rig.map_err(|e| stop(e.into(), loaded))?;
    let sense = if at == At::Least { -1.0 } else { 1.0 };
    let (reading, place) = Reader::new(&mut rig)
        .extreme(measure, GripId::FIRST, sense)
        .map_err(|e| stop(e.into(), loaded))?;
    let (value, quantity) = match what {
        Whereabouts::Gap => (place.gap, Quantity::Length),
        Whereabouts::Handle => (place.handle, Quantity::Angle),
    };
    Ok((reading.map(|_| value), Some(quantity)))
}

/// A number that a person reads off the terminal.
fn six_figures(value: f64) -> String {
    let whole = value.abs().max(1e-9).log10().floor() as i32;
    trimmed(value, (5 - whole).clamp(0, 9) as usize)
}

/// A number that other programs read: enough digits, no more.
fn plain(value: f64) -> String {
    trimmed(value, 9)
}

fn read(
    loaded: &Loaded,
    (measure, jaw): (&Measure, JawId),
    at: Option<At>,
    direction: Direction,
) -> Result<Reading, Stop> {
    if *measure == Measure::Yield {
        sample_yield(loaded)?;
    }
    let read = loaded.judge(direction, |judge| judge.read(measure, jaw, at, None))?;
    read.map_err(|why| unread(why, loaded))
}

/// Why a measure cannot be read, as the end of a run.
fn unread(why: ReadError, loaded: &Loaded) -> Stop {
    let tool = loaded.tool();
    let text = match why {
        ReadError::Failure(failure) => return stop(failure, loaded),
        ReadError::Locate(LocateError::Motion(error)) => return stop(error.into(), loaded),
        ReadError::Locate(error) => error.text(tool, tool.units),
    };
    Stop::cannot(format!("error: {}: {text}", loaded.text.name))
}

/// Samples the made tools that a yield is read from.
fn sample_yield(loaded: &Loaded) -> Result<(), Stop> {
    let sampled = loaded.analysis.sample_yield();
    sampled.map_err(|error| unstudied(error, loaded))
}

/// Reads every demand of a tool.
pub(super) fn read_demands(
    loaded: &Loaded,
    direction: Direction,
) -> Result<Vec<analysis::Outcome>, Stop> {
    if loaded.tool().has_yield() {
        sample_yield(loaded)?;
    }
    let read = loaded.judge(direction, |judge| judge.demands())?;
    read.map_err(|error| at_its_demand(error, loaded))
}

/// The demand that cannot be read, at its line.
fn at_its_demand(unreadable: DemandError, loaded: &Loaded) -> Stop {
    let DemandError { demand, why } = unreadable;
    let span = loaded.spans.get(&format!("demand.{demand}"));
    let tool = loaded.tool();
    let (ReadError::Locate(error), Some(span)) = (&why, span) else {
        return unread(why, loaded);
    };
    let name = tool
        .demands
        .get(demand)
        .map(|d| d.measure.name_of(tool, d.jaw))
        .unwrap_or_default();
    let message = format!("demand on `{name}`: {}", error.text(tool, tool.units));
    let span = first_line(span.clone(), &loaded.text.text);
    let problem = Diagnostic::error("out-of-reach", span, message)
        .help("read it at a position of the stroke, or move the ends in [stroke]");
    Stop::problems(Exit::Cannot, vec![problem], &loaded.text)
}
