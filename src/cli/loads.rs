//! `loads`: pin and link forces, free-body sheets, strength factors.

use super::args::LoadsArgs;
use super::load::{Loaded, load, solved, stop};
use super::position::parse_position;
use super::{Outcome, Stop, Streams};
use crate::analysis::Direction;
use crate::loads::{CaseLoads, LoadsError, Where, case_loads, strength};
use crate::output::loads_text;
use crate::report::loads_report;

pub(super) fn run(args: &LoadsArgs, streams: &mut Streams) -> Result<Outcome, Stop> {
    let loaded = load(&args.file, &args.tool, streams)?;
    let (tool, styled) = (&loaded.tool, streams.styled);
    if let Some(part) = &args.part
        && tool.part_index(part).is_none()
    {
        let names: Vec<&str> = tool.parts.iter().map(|p| p.name.as_str()).collect();
        return Err(Stop::input(format!(
            "error: --part {part}: there is no such part; parts: {}",
            names.join(", ")
        )));
    }
    let direction = if args.opening {
        Direction::Opening
    } else {
        Direction::Closing
    };
    let factors = strength(tool, direction).map_err(|e| stop(e, &loaded, styled))?;
    let stroke = solved(&loaded, direction, styled)?;
    let gaps: Vec<f64> = stroke
        .positions
        .iter()
        .filter_map(|p| p.gap.first().copied())
        .collect();
    let mut cases = Vec::new();
    match (&args.at, factors.least()) {
        (Some(text), _) => {
            for one in text.split(',') {
                let at = parse_position(tool, "--at", one.trim())?;
                for grip in 0..tool.hand.grips.len() {
                    let case = case_loads(tool, direction, Where::At(at), grip, tool.hand.force);
                    cases.push(case.map_err(|e| say(e, &loaded, one, styled))?);
                }
            }
        }
        // Without a place: where the least factor is, and with the hand force that it is for.
        (None, Some(least)) => {
            let place = Where::Step(least.position);
            let case = case_loads(tool, direction, place, least.grip, least.hand_force);
            cases.push(case.map_err(|e| say(e, &loaded, "the worst position", styled))?);
        }
        (None, None) => cases.push(last(&loaded, direction, styled)?),
    }
    let report = loads_report(
        tool,
        &cases,
        &factors,
        &gaps,
        &loaded.source(),
        loaded.units,
    );
    let text = if args.json {
        let json = serde_json::to_string_pretty(&report).map_err(|e| Stop {
            outcome: Outcome::Cannot,
            text: format!("error: {e}"),
        })?;
        format!("{json}\n")
    } else if args.tool.quiet {
        String::new()
    } else {
        loads_text(&report, args.part.as_deref())
    };
    streams.print(&text)?;
    Ok(Outcome::Done)
}

/// The shut end of the stroke, or the last position before it that has forces.
fn last(loaded: &Loaded, direction: Direction, styled: bool) -> Result<CaseLoads, Stop> {
    let tool = &loaded.tool;
    for step in (0..=tool.stroke.steps).rev() {
        match case_loads(tool, direction, Where::Step(step), 0, tool.hand.force) {
            Err(LoadsError::NoForces) if step > 0 => {}
            other => return other.map_err(|e| say(e, loaded, "the shut position", styled)),
        }
    }
    Err(say(LoadsError::NoForces, loaded, "the stroke", styled))
}

fn say(error: LoadsError, loaded: &Loaded, place: &str, styled: bool) -> Stop {
    let tool = &loaded.tool;
    let text = match error {
        LoadsError::Failure(failure) => return stop(failure, loaded, styled),
        LoadsError::Locate(error) => error.text(tool, tool.units),
        LoadsError::NoForces => format!(
            "there are no forces at {place}: the jaw stands still there (toggle), friction locks the tool, or \
             the hand does not overcome the springs; ask for another position or hand force"
        ),
    };
    Stop {
        outcome: Outcome::Cannot,
        text: format!("error: {}: {text}", loaded.text.name),
    }
}
