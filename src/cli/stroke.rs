//! `stroke`: the main job.

use super::args::StrokeArgs;
use super::files::Target;
use super::load::{load, not_too_much, solved};
use super::measure::{demanded_strength, read_demands};
use super::{Outcome, Stop, Streams};
use crate::analysis::Direction;
use crate::output::{ChartOptions, Rows, TableOptions, force_curves, to_csv, to_json, to_table};
use crate::report::stroke_report;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &StrokeArgs, streams: &mut Streams) -> Result<Outcome, Stop> {
    let to_terminal = |path: &Option<PathBuf>| path.as_deref() == Some(Path::new("-"));
    let (svg_out, csv_out) = (to_terminal(&args.svg), to_terminal(&args.csv));
    let printed = [
        ("--json", args.json),
        ("--csv -", csv_out),
        ("--svg -", svg_out),
    ];
    let printed: Vec<&str> = printed.iter().filter(|p| p.1).map(|p| p.0).collect();
    if let [first, second, ..] = printed.as_slice() {
        return Err(Stop::input(format!(
            "error: {first} and {second} both write to standard output; give one of them a file"
        )));
    }
    let mut loaded = load(&args.file, &args.tool, streams)?;
    if let Some(steps) = args.steps {
        loaded.tool.stroke.steps = usize::try_from(steps).unwrap_or(usize::MAX);
        not_too_much(&loaded.tool)?;
    }
    // Output files are made sure of before any work is done.
    let prepare = |path: &Option<PathBuf>, out: bool| match path {
        Some(path) if !out => Target::prepare(path, &loaded.inputs)
            .map(Some)
            .map_err(|e| Stop::input(format!("error: {e}"))),
        _ => Ok(None),
    };
    let (svg, csv) = (prepare(&args.svg, svg_out)?, prepare(&args.csv, csv_out)?);
    if let (Some(svg), Some(csv)) = (&svg, &csv)
        && svg.same_place(csv)
    {
        return Err(Stop::input("error: --svg and --csv name the same file"));
    }
    let direction = if args.opening {
        Direction::Opening
    } else {
        Direction::Closing
    };
    // The strength of the whole stroke, where a demand asks for it, takes as long as the stroke:
    // it is found beside it.
    let styled = streams.styled;
    let (solved, demands) = std::thread::scope(|scope| {
        let strength = scope.spawn(|| demanded_strength(&loaded, direction, styled));
        let solved = solved(&loaded, direction, styled)?;
        let join = || {
            strength
                .join()
                .unwrap_or_else(|panic| std::panic::resume_unwind(panic))
        };
        let demands = if loaded.tool.demands.is_empty() {
            Vec::new()
        } else {
            read_demands(&loaded, direction, join, styled)?
        };
        Ok((solved, demands))
    })?;
    let report = stroke_report(
        &loaded.tool,
        &solved,
        &demands,
        &loaded.source(),
        loaded.units,
    );
    let bug = |e: &dyn std::fmt::Display| Stop {
        outcome: Outcome::Cannot,
        text: format!("error: {e}"),
    };
    // Everything is put into words before the first byte is written.
    let svg_text = match &args.svg {
        Some(_) => force_curves(&report, &ChartOptions::default()).map_err(|e| bug(&e))?,
        None => String::new(),
    };
    let csv_text = match &args.csv {
        Some(_) => to_csv(&report).map_err(|e| bug(&e))?,
        None => String::new(),
    };
    let text = if args.json {
        to_json(&report).map_err(|e| bug(&e))?
    } else if csv_out {
        csv_text.clone()
    } else if svg_out {
        svg_text.clone()
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
    // All bytes are on the disk before the first file appears under its name: a full disk leaves
    // either every output or none.
    let failed = |e: String| Stop::input(format!("error: {e}"));
    let mut staged = Vec::new();
    for (target, text) in [(svg, svg_text), (csv, csv_text)] {
        if let Some(target) = target {
            staged.push(target.stage(text).map_err(failed)?);
        }
    }
    streams.print(&text)?;
    for output in staged {
        output.commit().map_err(failed)?;
    }
    let grips = || report.positions.iter().flat_map(|p| &p.grips);
    Ok(if grips().any(|g| g.jaws.values().any(|f| f.locked)) {
        Outcome::Cannot
    } else if report.demands.iter().all(|d| d.met) {
        Outcome::Done
    } else {
        Outcome::NotMet
    })
}
