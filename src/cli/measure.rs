//! `measure`: one bare number, made for `$(...)` and loops in shell scripts.

use super::args::{MeasureArgs, Whereabouts};
use super::load::{Loaded, load, stop};
use super::locate::first_line;
use super::position::parse_position;
use super::{Outcome, Stop, Streams};
use crate::analysis::{Direction, Failure};
use crate::input::{Diagnostic, render};
use crate::measure::{
    Measure, MeasureError, Outcome as Read, Reader, Reading, Unreadable, demands, with_grips,
};
use crate::model::{At, Tool, measure_kind};
use crate::statics::{LocateError, Rig};
use crate::strength::Strength;
use crate::units::{Quantity, trimmed};

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
    let tool = &loaded.tool;
    let fail = |failure: Failure| stop(failure, loaded, streams.styled);
    if let Measure::Safety(name) = measure {
        let found = loaded.strength(direction, streams.styled)?;
        let factor = found.safety(name.as_deref());
        return Ok(factor.map_or(Reading::Missing(NO_FACTOR), Reading::Value));
    }
    let mut rig = loaded.rig(direction, streams.styled)?;
    let mut reader = Reader::new(&mut rig);
    match at {
        Some(at) => reader.at(measure, at, 0).map_err(|e| match e {
            LocateError::Motion(error) => fail(error.into()),
            other => Stop {
                outcome: Outcome::Cannot,
                text: format!(
                    "error: {}: {}",
                    loaded.text.name,
                    other.text(tool, tool.units)
                ),
            },
        }),
        None => reader.over_stroke(measure, 0).map_err(|e| fail(e.into())),
    }
}

const NO_FACTOR: &str = "no part or pin has the section, material and diameter that a factor needs";

/// The strength factors of a tool, if a demand asks for them.
pub(super) fn demanded_strength(
    loaded: &Loaded,
    direction: Direction,
    styled: bool,
) -> Result<Option<&Strength>, Stop> {
    let demands = &loaded.tool.demands;
    let asked = demands.iter().any(|d| d.measure.starts_with("safety"));
    asked
        .then(|| loaded.strength(direction, styled))
        .transpose()
}

/// Reads every demand of a tool. `found` gives what [`demanded_strength`] found; it is asked when
/// the first safety factor is wanted, so that it may still be at work until then.
pub(super) fn read_demands<'l>(
    loaded: &Loaded,
    direction: Direction,
    found: impl FnOnce() -> Result<Option<&'l Strength>, Stop>,
    styled: bool,
) -> Result<Vec<Read>, Stop> {
    let tool = &loaded.tool;
    let fail = |failure: Failure| stop(failure, loaded, styled);
    let mut ask = Some(found);
    let mut strength = Ok(None);
    let mut safety = |name: Option<&str>| {
        if let Some(found) = ask.take() {
            strength = found();
        }
        strength.as_ref().ok()?.as_ref()?.safety(name)
    };
    let extended: Tool = with_grips(tool, &[]);
    let mounted = loaded.mounted(styled)?;
    let mounted = (mounted.regripped(&extended)).map_err(|e| fail(e.into()))?;
    let mut rig = Rig::new(&extended, &mounted, direction).map_err(|e| fail(e.into()))?;
    let read = demands(&mut rig, &tool.hand.grips, &mut safety);
    strength?;
    read.map_err(|error| Stop {
        outcome: Outcome::Cannot,
        text: at_its_demand(loaded, &error, styled),
    })
}

/// The demand that cannot be read, at its line.
fn at_its_demand(loaded: &Loaded, unreadable: &Unreadable, styled: bool) -> String {
    let error = &unreadable.error;
    match loaded.spans.get(&format!("demand.{}", unreadable.demand)) {
        None => format!("error: {}: {error}", loaded.text.name),
        Some(span) => {
            let span = first_line(span.clone(), &loaded.text.text);
            let problem = Diagnostic::error("out-of-reach", span, error.to_string())
                .help("read it at a position of the stroke, or move the ends in [stroke]");
            render(&problem, &loaded.text.name, &loaded.text.text, styled)
        }
    }
}
