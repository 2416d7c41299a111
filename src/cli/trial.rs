//! `trial`: readings of the bench on the prediction, or the sheet to take them with.

use super::args::TrialArgs;
use super::files::read_curve;
use super::load::load;
use super::loaded::Loaded;
use super::locate::stop;
use super::outputs::{Outputs, failed};
use super::study::unstudied;
use super::{Exit, Stop, Streams};
use crate::input::{USUAL_ERROR, off_line, read_trial};
use crate::model::{At, GripId, TrialPoint};
use crate::output::{trial_chart, trial_sheet_text, trial_text};
use crate::report::{Laid, LaidCurve, TrialReport, trial_report, trial_sheet};
use crate::tolerance::StudyError;
use crate::trial::{Bench, Fit, TrialError, band, fit, lines, pins};

/// Steps of a curve in the chart.
const STEPS: usize = 80;
/// Most curves of the chart.
const CURVES: usize = 6;

pub(super) fn run(args: &TrialArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    if args.sheet {
        return sheet(args, &loaded, streams);
    }
    if args
        .error
        .is_some_and(|percent| !(percent > 0.0 && percent <= 100.0))
    {
        return Err(Stop::input(
            "error: --error: the error of a reading in per cent of itself, above 0, at most 100, e.g. --error 5",
        ));
    }
    let mut inputs = loaded.inputs.clone();
    inputs.extend(args.data.clone());
    let outputs = Outputs::prepare(&[("--svg", &args.svg)], args.json, &inputs)?;
    let known = loaded.tool().trial.as_ref();
    let typed = args.error.map(|percent| percent / 100.0);
    let error = typed.or(known.map(|trial| trial.error));
    let error = error.unwrap_or(USUAL_ERROR / 100.0);
    let report = match (&args.data, known) {
        (Some(path), _) => {
            let data = read_curve(path).map_err(failed)?;
            let points = read_trial(&data.text, loaded.tool().units).map_err(|bad| {
                let lines: Vec<String> = bad
                    .iter()
                    .map(|what| format!("error: {}: {what}", data.name))
                    .collect();
                Stop::input(lines.join("\n"))
            })?;
            lay(&loaded, &points, (&data.name, error))?
        }
        (None, Some(trial)) => lay(&loaded, &trial.points, (&trial.data, error))?,
        (None, None) => {
            return Err(Stop::input(
                "error: name the CSV file of the readings, or state it in the tool file: [trial] data; `--sheet` \
                 prints one to fill in",
            ));
        }
    };
    let svg = outputs.text("--svg", || trial_chart(&report))?;
    outputs.finish(streams, [svg], |streams| {
        streams.answer(args.json, args.tool.quiet, &report, |width| {
            trial_text(&report, width)
        })
    })?;
    let all = report.readings.len();
    Ok(match report.inside {
        Some(inside) if inside < all => Exit::NotMet,
        _ => Exit::Done,
    })
}

/// The trial of the tool file's `[trial]`.
pub(super) fn of_file(loaded: &Loaded) -> Result<Option<TrialReport>, Stop> {
    let trial = loaded.tool().trial.as_ref();
    trial
        .map(|trial| lay(loaded, &trial.points, (&trial.data, trial.error)))
        .transpose()
}

fn sheet(args: &TrialArgs, loaded: &Loaded, streams: &mut Streams) -> Result<Exit, Stop> {
    if args.data.is_some() || args.svg.is_some() {
        return Err(Stop::input(
            "error: --sheet prints what to measure: without readings, and without a chart",
        ));
    }
    let lines = lines(loaded.tool()).map_err(|error| wrong(error, loaded, ""))?;
    let sheet = trial_sheet(loaded.tool(), &lines, &loaded.source());
    let text = streams.answer(args.json, args.tool.quiet, &sheet, |width| {
        trial_sheet_text(&sheet, width)
    })?;
    streams.print(&text)?;
    Ok(Exit::Done)
}

/// Refuses readings whose grip no hand can hold.
fn on_the_line(loaded: &Loaded, points: &[TrialPoint], name: &str) -> Result<(), Stop> {
    for (k, point) in points.iter().enumerate() {
        let Some(grip) = point.grip else { continue };
        let off = if grip < 0.0 {
            Some("a grip is a distance along the hand line, and not negative".to_owned())
        } else {
            off_line(loaded.tool(), grip)
        };
        if let Some(why) = off {
            return Err(Stop::input(format!(
                "error: {name}: reading {}: {why}",
                k + 1
            )));
        }
    }
    Ok(())
}

fn lay(
    loaded: &Loaded,
    points: &[TrialPoint],
    (data, error): (&str, f64),
) -> Result<TrialReport, Stop> {
    on_the_line(loaded, points, data)?;
    let tool = loaded.tool();
    let failed = |why: TrialError| wrong(why, loaded, data);
    let bench = Bench::new(tool, points).map_err(failed)?;
    let give = loaded.analysis.compliance(At::Shut, GripId::FIRST).ok();
    let compliance = give.map(|give| give.linkage()).filter(|give| *give > 0.0);
    let stated = bench.stated(compliance.unwrap_or(0.0));
    let start = stated.friction.iter().copied().fold(0.0, f64::max);
    let found = fit(&bench, (start, compliance.unwrap_or(0.0))).map_err(failed)?;
    let predicted = bench.forces(&stated).map_err(|e| failed(e.into()))?;
    let band = match band(&bench) {
        Ok(band) => Some(band),
        Err(StudyError::NoTolerances | StudyError::NothingVaries) => None,
        Err(error) => return Err(unstudied(error, loaded)),
    };
    let laid = Laid {
        predicted,
        pins: pins(&bench, &found).map_err(failed)?,
        band,
        compliance,
        error,
        curves: curves(&bench, &stated, &found).map_err(failed)?,
        beyond: bench
            .beyond(&found.unknown)
            .iter()
            .filter(|beyond| **beyond)
            .count(),
    };
    let source = loaded.source();
    Ok(trial_report(
        tool,
        (&bench, &found, &laid),
        (&source, data),
        loaded.units,
    ))
}

/// Predicted and fitted curves of each grip, direction and hand force, with the places of their readings.
fn curves(
    bench: &Bench,
    stated: &crate::trial::Unknown,
    found: &Fit,
) -> Result<Vec<LaidCurve>, TrialError> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (k, point) in bench.points().iter().enumerate() {
        let alike = |of: &Vec<usize>| {
            let first = of.first().and_then(|k| bench.points().get(*k));
            first.is_some_and(|other| {
                other.direction == point.direction
                    && other.grip == point.grip
                    && point.pulls_with(other.hand_force)
            })
        };
        match groups.iter_mut().find(|of| alike(of)) {
            Some(of) => of.push(k),
            None => groups.push(vec![k]),
        }
    }
    groups.sort_by_key(|of| std::cmp::Reverse(of.len()));
    groups.truncate(CURVES);
    let mut curves = Vec::new();
    for of in groups {
        let first = of.first().copied().unwrap_or(0);
        curves.push(LaidCurve {
            predicted: bench.curve(stated, first, STEPS)?,
            fitted: bench.curve(&found.unknown, first, STEPS)?,
            readings: of,
        });
    }
    Ok(curves)
}

/// Why a trial cannot be laid on the tool, as the end of a run.
fn wrong(why: TrialError, loaded: &Loaded, data: &str) -> Stop {
    let name = &loaded.text.name;
    match why {
        TrialError::Mount(error) => stop(error.into(), loaded),
        TrialError::Motion(error) => stop(error.into(), loaded),
        TrialError::NoFriction => failed(format!(
            "{name}: no pin has a diameter, so none can rub; state `diameter` in [joints]"
        )),
        TrialError::TooFew { readings, least } => failed(format!(
            "{data}: {readings} readings are too few for what they are to tell: at least {least}"
        )),
        TrialError::NoForce(k) => Stop::cannot(format!(
            "error: {data}: reading {}: the tool has no force there, whatever its friction: it stands at a toggle, \
             or its springs hold the hand",
            k + 1
        )),
        TrialError::Unsettled => Stop::cannot(format!(
            "error: {data}: the readings do not settle friction, give and zero: take some at other gaps, closing and \
             opening"
        )),
    }
}
