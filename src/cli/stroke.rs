//! `stroke`: the main job.

use super::args::StrokeArgs;
use super::files::Target;
use super::load::{load, solved};
use super::{Outcome, Stop, Streams};
use crate::analysis::Direction;
use crate::output::{ChartOptions, Rows, TableOptions, force_curves, to_csv, to_json, to_table};
use crate::report::stroke_report;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &StrokeArgs, streams: &mut Streams) -> Result<Outcome, Stop> {
    let dash = Path::new("-");
    let csv_to_terminal = args.csv.as_deref() == Some(dash);
    if args.json && csv_to_terminal {
        return Err(Stop::input(
            "error: --json and --csv - both write to standard output; give --csv a file",
        ));
    }
    // Output files are made sure of before any work is done.
    let inputs = [args.file.clone()];
    let prepare = |path: &Option<PathBuf>| -> Result<Option<Target>, Stop> {
        match path {
            Some(path) if path != dash => Target::prepare(path, &inputs)
                .map(Some)
                .map_err(|e| Stop::input(format!("error: {e}"))),
            _ => Ok(None),
        }
    };
    let mut loaded = load(&args.file, &args.tool, streams)?;
    if let Some(steps) = args.steps {
        loaded.tool.stroke.steps = usize::try_from(steps).unwrap_or(usize::MAX);
    }
    if args.svg.is_some() && args.svg == args.csv {
        return Err(Stop::input("error: --svg and --csv name the same file"));
    }
    let (svg, csv) = (prepare(&args.svg)?, prepare(&args.csv)?);
    let direction = if args.opening {
        Direction::Opening
    } else {
        Direction::Closing
    };
    let solved = solved(&loaded, direction)?;
    let report = stroke_report(&loaded.tool, &solved, &loaded.source(), loaded.units);
    let bug = |e: &dyn std::fmt::Display| Stop {
        outcome: Outcome::Cannot,
        text: format!("error: {e}"),
    };
    // Everything is put into words before the first file is written.
    let svg = match svg {
        Some(target) => Some((
            target,
            force_curves(&report, &ChartOptions::default()).map_err(|e| bug(&e))?,
        )),
        None => None,
    };
    let csv_text = if args.csv.is_some() {
        to_csv(&report).map_err(|e| bug(&e))?
    } else {
        String::new()
    };
    let text = if args.json {
        to_json(&report).map_err(|e| bug(&e))?
    } else if csv_to_terminal {
        csv_text.clone()
    } else if args.tool.quiet {
        String::new()
    } else {
        let rows = if args.all {
            Rows::All
        } else {
            TableOptions::default().rows
        };
        to_table(
            &report,
            &TableOptions {
                rows,
                ..TableOptions::default()
            },
        )
    };
    if let Some((target, text)) = svg {
        target
            .write(&text)
            .map_err(|e| Stop::input(format!("error: {e}")))?;
    }
    if let Some(target) = csv {
        target
            .write(&csv_text)
            .map_err(|e| Stop::input(format!("error: {e}")))?;
    }
    streams.print(&text)?;
    Ok(if report.demands.iter().all(|d| d.met) {
        Outcome::Done
    } else {
        Outcome::NotMet
    })
}
