//! `loads`: pin and link forces, free-body sheets, strength factors.

use super::args::LoadsArgs;
use super::load::{load, part_named};
use super::loaded::Loaded;
use super::locate::stop;
use super::outputs::Outputs;
use super::position::parse_position;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::analysis::{CaseLoads, LoadsError, case_loads, loads_at};
use crate::model::GripId;
use crate::output::{loads_csv, loads_text};
use crate::report::{LoadsReport, loads_report};
use crate::statics::{LocateError, Rig};
use crate::strength::Strength;

pub(super) fn run(args: &LoadsArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    if let Some(part) = &args.part {
        part_named(loaded.tool(), part)?;
    }
    let outputs = Outputs::prepare(&[("--csv", &args.csv)], args.json, &loaded.inputs)?;
    let report = report(args, &loaded)?;
    let csv = outputs.text("--csv", || loads_csv(&report))?;
    outputs.finish(streams, [csv], |streams| {
        streams.answer(args.json, args.tool.quiet, &report, |width| {
            loads_text(&report, args.part.as_deref(), width)
        })
    })?;
    Ok(Exit::Done)
}

fn report(args: &LoadsArgs, loaded: &Loaded) -> Result<LoadsReport, Stop> {
    let tool = loaded.tool();
    let asked = match &args.at {
        Some(text) => text
            .split(',')
            .map(|one| Ok((one, parse_position(tool, "--at", one.trim())?)))
            .collect::<Result<Vec<_>, Stop>>()?,
        None => Vec::new(),
    };
    let direction = Direction::of(args.opening);
    let cases = |rig: &mut Rig, factors: &Strength| {
        let mut cases = Vec::new();
        for (text, at) in &asked {
            for grip in GripId::ids(tool.hand.grips.len()) {
                let case = loads_at(rig, *at, grip, tool.hand.force);
                cases.push(case.map_err(|e| say(e, loaded, text))?);
            }
        }
        if asked.is_empty() {
            let typed = args.tool.hand_force.is_some();
            cases.push(worst(loaded, direction, factors, typed)?);
        }
        Ok(cases)
    };
    let mut report = with_cases(loaded, direction, cases)?;
    if let Some(part) = &args.part {
        report.keep_part(part);
    }
    Ok(report)
}

/// Loads where the least strength factor is, and all factors.
pub(super) fn worst_loads(loaded: &Loaded, direction: Direction) -> Result<LoadsReport, Stop> {
    let case =
        |_: &mut Rig, factors: &Strength| Ok(vec![worst(loaded, direction, factors, false)?]);
    with_cases(loaded, direction, case)
}

fn with_cases(
    loaded: &Loaded,
    direction: Direction,
    cases: impl FnOnce(&mut Rig, &Strength) -> Result<Vec<CaseLoads>, Stop>,
) -> Result<LoadsReport, Stop> {
    let tool = loaded.tool();
    let factors = loaded.strength(direction)?;
    let mut rig = loaded.rig(direction)?;
    let cases = cases(&mut rig, factors)?;
    let source = loaded.source();
    let springs = loaded.wound_springs()?;
    let life = loaded.life()?;
    let over_stroke = (factors, springs.as_slice(), life.as_ref());
    Ok(loads_report(
        tool,
        &cases,
        over_stroke,
        &source,
        loaded.units,
    ))
}

/// The case where the least factor is, the load in the jaw and the hand force that it is for, unless one
/// is `typed`.
fn worst(
    loaded: &Loaded,
    direction: Direction,
    factors: &Strength,
    typed: bool,
) -> Result<CaseLoads, Stop> {
    let least = factors.least();
    let Some((least, place)) = least.and_then(|least| Some((least, factors.position(least)?)))
    else {
        return last(&mut loaded.rig(direction)?, loaded);
    };
    let rig = loaded.analysis.facing(least.jaw).rig(direction);
    let mut rig = rig.map_err(|e| stop(e.into(), loaded))?;
    let (load, force) = if typed {
        (None, rig.tool().hand.force)
    } else {
        (Some(least.load), least.hand_force)
    };
    let case = case_loads(&mut rig, place.pace, least.grip, force);
    let case = case.map_err(|e| say(e, loaded, "the worst position"))?;
    Ok(CaseLoads {
        load,
        jaw: least.jaw,
        sheet: case.sheet.with_work_at(least.jaw),
        ..case
    })
}

/// The shut end of the stroke, or the last position before it that has forces.
fn last(rig: &mut Rig, loaded: &Loaded) -> Result<CaseLoads, Stop> {
    let tool = rig.tool();
    let (steps, whole) = (tool.stroke.steps, rig.pace());
    for step in (0..=steps).rev() {
        let pace = whole * step as f64 / steps as f64;
        match case_loads(rig, pace, GripId::FIRST, tool.hand.force) {
            Err(LoadsError::NoForces) if step > 0 => {}
            other => return other.map_err(|e| say(e, loaded, "the shut position")),
        }
    }
    Err(say(LoadsError::NoForces, loaded, "the stroke"))
}

/// Why there are no loads, as the end of a run.
pub(super) fn say(error: LoadsError, loaded: &Loaded, place: &str) -> Stop {
    let tool = loaded.tool();
    let mut outcome = Exit::Cannot;
    let text = match error {
        LoadsError::Failure(failure) => return stop(failure, loaded),
        LoadsError::Locate(error) => {
            // The linkage is not at fault where the call asks for what is no position.
            if let LocateError::NoSpan | LocateError::NotAPosition = error {
                outcome = Exit::BadInput;
            }
            error.text(tool, tool.units)
        }
        LoadsError::DiesMet => format!(
            "there are no forces at {place}: the dies of a jaw meet before it, or a stop is met, and the stroke \
             ends there; `jawforce check` says where"
        ),
        LoadsError::Stop(why) => format!("there is no load on the stop at {place}: {why}"),
        LoadsError::NoForces => format!(
            "there are no forces at {place}: the jaw stands still there (toggle), friction locks the tool, a cam lifts off, or \
             the hand does not overcome the springs; ask for another position or hand force"
        ),
    };
    Stop::message(outcome, format!("error: {}: {text}", loaded.text.name))
}
