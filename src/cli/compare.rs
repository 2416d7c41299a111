//! `compare`: tools, variants of their dimensions, grips, side by side.

use super::args::CompareArgs;
use super::files::Target;
use super::load::{Loaded, load, solved};
use super::position::parse_position;
use super::{Outcome, Stop, Streams};
use crate::analysis::Direction;
use crate::compare::{Column, Variant, compare, needs_position, usual_columns};
use crate::input::apply_overrides;
use crate::measure::Measure;
use crate::model::Tool;
use crate::output::{MOST_PANELS, compare_csv, compare_panels, compare_table};
use crate::report::{compare_report, stroke_report};
use crate::units::{Quantity, parse};
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Most variants of one run.
const MOST_VARIANTS: usize = 10_000;

pub(super) fn run(args: &CompareArgs, streams: &mut Streams) -> Result<Outcome, Stop> {
    let mut loaded = Vec::new();
    for path in &args.files {
        loaded.push(load(path, &args.tool, streams)?);
    }
    let Some(first) = loaded.first() else {
        return Err(Stop::input("error: name a tool file"));
    };
    let units = if args.tool.units.is_some() {
        first.units
    } else {
        first.tool.units
    };
    let inputs: Vec<_> = loaded.iter().flat_map(|l| l.inputs.clone()).collect();
    let dash = Path::new("-");
    let csv_out = args.csv.as_deref() == Some(dash);
    if csv_out && args.json {
        return Err(Stop::input(
            "error: --json and --csv - both write to standard output; give --csv a file",
        ));
    }
    let failed = |e: String| Stop::input(format!("error: {e}"));
    let prepare = |path: &Option<std::path::PathBuf>| match path {
        Some(path) if path != dash => Target::prepare(path, &inputs).map(Some).map_err(failed),
        _ => Ok(None),
    };
    let (svg, csv) = (prepare(&args.svg)?, prepare(&args.csv)?);
    let variants = variants(&loaded, args)?;
    let tools: Vec<&Tool> = loaded.iter().map(|l| &l.tool).collect();
    let mut columns = if args.measure.is_empty() {
        usual_columns(&tools)
    } else {
        Vec::new()
    };
    for text in &args.measure {
        columns.push(column(&first.tool, text)?);
    }
    let (count, total) = (AtomicUsize::new(0), variants.len());
    let terminal = streams.styled && total > 20;
    let done = || {
        let now = count.fetch_add(1, Ordering::Relaxed) + 1;
        if terminal && (now % 10 == 0 || now == total) {
            // The one line that is written while work goes on, on a terminal only.
            eprint_progress(now, total);
        }
    };
    let rows = compare(&variants, &columns, &done);
    let files: Vec<String> = loaded.iter().map(|l| l.text.name.clone()).collect();
    let report = compare_report(&files, &variants, &columns, &rows, units);
    let bug = |e: &dyn std::fmt::Display| Stop {
        outcome: Outcome::Cannot,
        text: format!("error: {e}"),
    };
    let csv_text = if args.csv.is_some() {
        compare_csv(&report).map_err(|e| bug(&e))?
    } else {
        String::new()
    };
    let text = if args.json {
        let json = serde_json::to_string_pretty(&report).map_err(|e| bug(&e))?;
        format!("{json}\n")
    } else if csv_out {
        csv_text.clone()
    } else if args.tool.quiet {
        String::new()
    } else {
        compare_table(&report)
    };
    let mut staged = Vec::new();
    if let Some(target) = svg {
        staged.push(
            target
                .stage(panels(&loaded, &variants, streams)?)
                .map_err(failed)?,
        );
    }
    if let Some(target) = csv {
        staged.push(target.stage(csv_text).map_err(failed)?);
    }
    streams.print(&text)?;
    for output in staged {
        output.commit().map_err(failed)?;
    }
    Ok(if rows.iter().all(|r| r.problem.is_some()) {
        Outcome::Cannot
    } else if rows
        .iter()
        .all(|r| r.met.is_none_or(|(met, all)| met == all) && r.problem.is_none())
    {
        Outcome::Done
    } else {
        Outcome::NotMet
    })
}

#[allow(clippy::print_stderr)]
fn eprint_progress(now: usize, total: usize) {
    eprint!(
        "\r{now} of {total} variants{}",
        if now == total { "\n" } else { "" }
    );
}

/// The curves of each variant that can be solved, as panels.
fn panels(loaded: &[Loaded], variants: &[Variant], streams: &Streams) -> Result<String, Stop> {
    let mut reports = Vec::new();
    for variant in variants {
        let Some(source) = loaded.get(variant.file) else {
            continue;
        };
        let mut one = source.clone();
        one.tool = variant.tool.clone();
        if let Ok(stroke) = solved(&one, Direction::Closing, streams.styled) {
            let mut report = stroke_report(&one.tool, &stroke, &[], &one.source(), one.units);
            for (address, mm) in &variant.set {
                let unit = one.units.symbol(Quantity::Length);
                report.tool = format!(
                    "{}, {address} {} {unit}",
                    report.tool,
                    one.units.show(*mm, Quantity::Length)
                );
            }
            reports.push(report);
        }
        if reports.len() == MOST_PANELS {
            break;
        }
    }
    compare_panels(&reports).map_err(|e| Stop {
        outcome: Outcome::Cannot,
        text: format!("error: {e}"),
    })
}

fn column(tool: &Tool, text: &str) -> Result<Column, Stop> {
    let (name, at) = match text.split_once('@') {
        Some((name, at)) => (name.trim(), Some(at.trim())),
        None => (text.trim(), None),
    };
    Measure::parse(tool, name).map_err(|e| Stop::input(format!("error: --measure {text}: {e}")))?;
    let at = match (at, needs_position(name)) {
        (Some(at), true) => Some(parse_position(tool, "--measure", at)?),
        (None, false) => None,
        (None, true) => {
            return Err(Stop::input(format!(
                "error: --measure {text}: say where, e.g. {name}@shut or {name}@gap=0.4"
            )));
        }
        (Some(_), false) => {
            return Err(Stop::input(format!(
                "error: --measure {text}: `{name}` is read over the whole stroke"
            )));
        }
    };
    Ok(Column {
        measure: name.to_owned(),
        at,
    })
}

/// All combinations of the ranges, for every tool.
fn variants(loaded: &[Loaded], args: &CompareArgs) -> Result<Vec<Variant>, Stop> {
    let mut found = Vec::new();
    if args.vary.len() > 2 {
        return Err(Stop::input("error: --vary: two dimensions at most"));
    }
    for (file, one) in loaded.iter().enumerate() {
        let mut sets: Vec<Vec<(String, f64)>> = vec![Vec::new()];
        for text in &args.vary {
            let (address, values) = range(&one.tool, text)?;
            if sets.len() * values.len() * loaded.len() > MOST_VARIANTS {
                return Err(Stop::input(format!(
                    "error: --vary {text}: more than {MOST_VARIANTS} variants; take a larger step"
                )));
            }
            sets = sets
                .iter()
                .flat_map(|set| {
                    values
                        .iter()
                        .map(|v| [set.clone(), vec![(address.clone(), *v)]].concat())
                })
                .collect();
        }
        for set in sets {
            let mut tool = one.tool.clone();
            let pairs: Vec<(String, String)> = set
                .iter()
                .map(|(a, mm)| (a.clone(), format!("{mm} mm")))
                .collect();
            apply_overrides(&mut tool, &pairs).map_err(|errors| {
                let lines: Vec<String> = errors
                    .iter()
                    .map(|e| format!("error: --vary {e}"))
                    .collect();
                Stop::input(lines.join("\n"))
            })?;
            found.push(Variant { file, set, tool });
        }
    }
    Ok(found)
}

/// `strut.length=25:29:0.5`: the address and its values in mm.
fn range(tool: &Tool, text: &str) -> Result<(String, Vec<f64>), Stop> {
    let wrong = |what: &str| {
        Stop::input(format!(
            "error: --vary {text}: {what}; write dimension=from:to:step, e.g. strut.length=25:29:0.5"
        ))
    };
    let (address, values) = text.split_once('=').ok_or_else(|| wrong("no range"))?;
    let parts: Vec<&str> = values.split(':').map(str::trim).collect();
    let [from, to, step] = parts[..] else {
        return Err(wrong("three values are needed"));
    };
    let read = |one: &str| {
        parse(one, Quantity::Length, Some(tool.units)).map_err(|e| wrong(&format!("`{one}`: {e}")))
    };
    let (from, to, step) = (read(from)?, read(to)?, read(step)?);
    if !(step > 0.0 && to >= from) {
        return Err(wrong("the range must rise, by a step above zero"));
    }
    let count = ((to - from) / step + 1e-9).floor();
    if count >= MOST_VARIANTS as f64 {
        return Err(wrong("more than 10000 variants"));
    }
    Ok((
        address.trim().to_owned(),
        (0..=count as usize)
            .map(|k| from + step * k as f64)
            .collect(),
    ))
}
