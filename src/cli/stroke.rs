//! `stroke`: the main job.

use super::args::StrokeArgs;
use super::load::{load, not_too_much};
use super::loaded::Loaded;
use super::measure::read_demands;
use super::outputs::Outputs;
use super::verdict::{complete, ending, look_at_made};
use super::watch::watch;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::output::{ChartOptions, Rows, TableOptions, force_curves, plot, to_csv, to_table};
use crate::report::{StrokeReport, stroke_report};
use crate::units::UnitSystem;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &StrokeArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    if !args.watch {
        return once(args, streams, &mut Vec::new());
    }
    if args.file == Path::new("-") {
        return Err(Stop::input(
            "error: --watch: standard input cannot change; name a file",
        ));
    }
    let again = |streams: &mut Streams, files: &mut Vec<PathBuf>| once(args, streams, files);
    Ok(watch(streams, again))
}

/// Runs once; `files` are those that were read.
fn once(args: &StrokeArgs, streams: &mut Streams, files: &mut Vec<PathBuf>) -> Result<Exit, Stop> {
    *files = vec![args.file.clone()];
    let mut loaded = load(&args.file, &args.tool)?;
    files.clone_from(&loaded.inputs);
    if let Some(steps) = args.steps {
        let mut tool = loaded.tool().clone();
        tool.stroke.steps = usize::try_from(steps).unwrap_or(usize::MAX);
        not_too_much(&tool)?;
        loaded = loaded.with_tool(tool);
    }
    let outputs = Outputs::prepare(
        &[("--svg", &args.svg), ("--csv", &args.csv)],
        args.json,
        &loaded.inputs,
    )?;
    let direction = Direction::of(args.opening);
    let report = judged_stroke(&loaded, direction)?;
    let svg = || force_curves(&report, &ChartOptions::default());
    let svg = outputs.text("--svg", svg)?;
    let csv = outputs.text("--csv", || to_csv(&report))?;
    outputs.finish(streams, [svg, csv], |streams| {
        streams.answer(args.json, args.tool.quiet, &report, |width| {
            let rows = match args.all {
                true => Rows::All,
                false => TableOptions::default().rows,
            };
            let mut text = to_table(&report, &TableOptions { width, rows });
            if args.plot {
                text.push('\n');
                text.push_str(&plot(&report, width));
            }
            text
        })
    })?;
    Ok(ending(&report))
}

/// The stroke of a tool, its demands read, and the first lines complete.
pub(super) fn judged_stroke(loaded: &Loaded, direction: Direction) -> Result<StrokeReport, Stop> {
    // First, since a yield among the demands is read from it.
    let made = look_at_made(loaded, direction)?;
    let mut report = stroke_with_demands(loaded, direction)?;
    let made = made.as_ref();
    let made = made.map(|made| made.as_ref().map_err(String::as_str));
    complete(&mut report.verdict, loaded, direction, made)?;
    Ok(report)
}

/// The stroke of a tool, with its demands read.
pub(super) fn stroke_with_demands(
    loaded: &Loaded,
    direction: Direction,
) -> Result<StrokeReport, Stop> {
    stroke_in(loaded.units, loaded, direction)
}

/// The same in these units.
pub(super) fn stroke_in(
    units: UnitSystem,
    loaded: &Loaded,
    direction: Direction,
) -> Result<StrokeReport, Stop> {
    // Demands take as long as the stroke, with strength among them: they are read beside it.
    loaded.motion()?;
    let (solved, demands) = std::thread::scope(|scope| {
        let demands = scope.spawn(|| match loaded.tool().demands.is_empty() {
            true => Ok(Vec::new()),
            false => read_demands(loaded, direction),
        });
        let solved = loaded.stroke(direction);
        let demands = demands
            .join()
            .unwrap_or_else(|panic| std::panic::resume_unwind(panic));
        // What is wrong with the stroke is said first.
        Ok((solved?, demands?))
    })?;
    Ok(stroke_report(
        loaded.tool(),
        solved,
        &demands,
        &loaded.source(),
        units,
    ))
}
