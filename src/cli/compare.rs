//! `compare`: tools, variants of their dimensions, grips, side by side.

use super::args::CompareArgs;
use super::load::load;
use super::loaded::Loaded;
use super::outputs::Outputs;
use super::position::parse_position;
use super::progress::Progress;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::compare::{Column, Row, Variant, compare, usual_columns};
use crate::input::{apply_values, typed_as};
use crate::limits::Rating;
use crate::measure::named;
use crate::model::Tool;
use crate::model::dimension::{DimensionSlot, find};
use crate::output::{
    MOST_CURVES, OutputError, ToolStrokes, VariantStroke, compare_csv, compare_picture,
    compare_table,
};
use crate::report::{compare_report, stroke_report};
use crate::units::{Quantity, UnitSystem, alike};

/// Most variants of one run.
const MOST_VARIANTS: usize = 10_000;

pub(super) fn run(args: &CompareArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let mut loaded = Vec::new();
    for path in &args.files {
        loaded.push(load(path, &args.tool)?);
    }
    let Some(first) = loaded.first() else {
        return Err(Stop::input("error: name a tool file"));
    };
    let units = if args.tool.units.is_some() {
        first.units
    } else {
        first.tool().units
    };
    let inputs: Vec<_> = loaded.iter().flat_map(|l| l.inputs.clone()).collect();
    let outputs = Outputs::prepare(
        &[("--svg", &args.svg), ("--csv", &args.csv)],
        args.json,
        &inputs,
    )?;
    let variants = variants(&loaded, args)?;
    let tools: Vec<&Tool> = loaded.iter().map(|l| l.tool()).collect();
    let mut columns = if args.measure.is_empty() {
        usual_columns(&tools)
    } else {
        Vec::new()
    };
    for text in &args.measure {
        columns.push(column(first.tool(), text)?);
    }
    let progress = Progress::new(variants.len(), "variants", args.tool.quiet);
    let rows = compare(&variants, &columns, &|| progress.step());
    drop(progress);
    let files: Vec<String> = loaded.iter().map(|l| l.text.name.clone()).collect();
    let report = compare_report(&files, &variants, &columns, &rows, units);
    if let (Some(_), Some(why)) = (&args.svg, unsolved(&rows)) {
        return Err(Stop::cannot(why));
    }
    let svg = outputs.text("--svg", || picture(&loaded, &variants, units))?;
    let csv = outputs.text("--csv", || compare_csv(&report))?;
    outputs.finish(streams, [svg, csv], |streams| {
        streams.answer(args.json, args.tool.quiet, &report, |width| {
            compare_table(&report, width)
        })
    })?;
    Ok(if rows.iter().all(|r| r.problem.is_some()) {
        Exit::Cannot
    } else if rows.iter().all(|r| r.hand.can == Some(false))
        || rows.iter().all(|r| r.hand.again == Some(Rating::Beyond))
    {
        Exit::NotMet
    } else if rows
        .iter()
        .all(|r| r.met.is_none_or(|(met, all)| met == all) && r.problem.is_none())
    {
        Exit::Done
    } else {
        Exit::NotMet
    })
}

/// Why there is no picture: no row could be solved.
fn unsolved(rows: &[Row]) -> Option<String> {
    let problems: Vec<&str> = rows.iter().filter_map(|r| r.problem.as_deref()).collect();
    let first = problems.first().filter(|_| problems.len() == rows.len())?;
    let variants = rows.last().map_or(0, |row| row.variant + 1);
    Some(match variants {
        1 => format!("error: --svg: there is no stroke to draw: {first}"),
        _ => format!(
            "error: --svg: none of {variants} tools or variants has a stroke to draw; the first: {first}"
        ),
    })
}

/// The curves of each tool, or of some of its variants, that can be solved; in one unit, as the table.
fn picture(
    loaded: &[Loaded],
    variants: &[Variant],
    units: UnitSystem,
) -> Result<String, OutputError> {
    let mut tools = Vec::new();
    for (file, source) in loaded.iter().enumerate() {
        let own: Vec<&Variant> = variants.iter().filter(|v| v.file == file).collect();
        let (mut strokes, mut unsolved) = (Vec::new(), Vec::new());
        let labels = labels(&own, units);
        for (variant, label) in spread(&own, MOST_CURVES).zip(spread(&labels, MOST_CURVES)) {
            let one = source.with_tool(variant.tool.clone());
            if let Ok(stroke) = one.stroke(Direction::Closing) {
                // A picture of many variants has no room for demands.
                let demands = match own.len() {
                    1 => one.analysis.demands(Direction::Closing).unwrap_or_default(),
                    _ => Vec::new(),
                };
                strokes.push(VariantStroke {
                    label: label.clone(),
                    report: stroke_report(one.tool(), stroke, &demands, &one.source(), units),
                });
            } else {
                unsolved.push(label.clone());
            }
        }
        let varied = own.first().map_or_else(String::new, |v| varied(v, units));
        tools.push(ToolStrokes {
            varied,
            count: own.len(),
            unsolved,
            strokes,
        });
    }
    compare_picture(&tools)
}

/// The values of each variant, all with the same decimals; of several dimensions each with its name.
fn labels(own: &[&Variant], units: UnitSystem) -> Vec<String> {
    let count = own.first().map_or(0, |variant| variant.set.len());
    let column = |k: usize| -> Vec<String> {
        let one = |v: &&Variant| {
            let set = v.set.get(k)?;
            Some(units.shown(set.1, v.quantity(&set.0)))
        };
        let values: Vec<f64> = own.iter().filter_map(one).collect();
        alike(&values)
    };
    let columns: Vec<Vec<String>> = (0..count).map(column).collect();
    let names: Vec<String> = match own.first() {
        Some(variant) if count > 1 => short_names(variant),
        _ => vec![String::new(); count],
    };
    let row = |k: usize| -> Vec<String> {
        let cells = names.iter().zip(&columns);
        let cells = cells.filter_map(|(name, column)| Some((name, column.get(k)?)));
        let cell = |(name, value): (&String, &String)| {
            let value = value.replace('-', "\u{2212}");
            format!("{name} {value}").trim_start().to_owned()
        };
        cells.map(cell).collect()
    };
    (0..own.len()).map(|k| row(k).join(", ")).collect()
}

/// Names of the dimensions that differ, as short as they can be told apart: `strut` for `strut.length`, `wrist.y` for
/// `ram.wrist.y`.
fn short_names(variant: &Variant) -> Vec<String> {
    let names: Vec<&str> = variant.set.iter().map(|set| set.0.as_str()).collect();
    let short = |name: &&str| -> String {
        let pieces: Vec<&str> = name.split('.').collect();
        match pieces.as_slice() {
            [part, "length"] => (*part).to_owned(),
            [.., point, last] => format!("{point}.{last}"),
            _ => (*name).to_owned(),
        }
    };
    let all: Vec<String> = names.iter().map(short).collect();
    let alone = |name: &&String| all.iter().filter(|other| other == name).count() == 1;
    let named = all.iter().zip(&names);
    named
        .map(|(short, name)| {
            Some(short)
                .filter(alone)
                .cloned()
                .unwrap_or_else(|| (*name).to_owned())
        })
        .collect()
}

/// What differs between variants, with its units: once where all have the same.
fn varied(variant: &Variant, units: UnitSystem) -> String {
    let one = |set: &(String, f64)| (set.0.clone(), units.unit(variant.quantity(&set.0)));
    let all: Vec<(String, &str)> = variant.set.iter().map(one).collect();
    let names: Vec<&str> = all.iter().map(|(name, _)| name.as_str()).collect();
    match all.first() {
        Some((_, unit)) if all.iter().all(|(_, other)| other == unit) => {
            format!("{}, {unit}", names.join(", "))
                .trim_end_matches([',', ' '])
                .to_owned()
        }
        _ => {
            let each = all
                .iter()
                .map(|(name, unit)| format!("{name} {unit}").trim_end().to_owned());
            each.collect::<Vec<String>>().join(", ")
        }
    }
}

/// At most `most` of the items, evenly spread, both ends among them.
fn spread<T>(all: &[T], most: usize) -> impl Iterator<Item = &T> {
    let count = all.len().min(most);
    let last = all.len().saturating_sub(1);
    let place = move |k: usize| (k * last) / count.saturating_sub(1).max(1);
    (0..count).filter_map(move |k| all.get(place(k)))
}

fn column(tool: &Tool, text: &str) -> Result<Column, Stop> {
    let (name, at) = match text.split_once('@') {
        Some((name, at)) => (name.trim(), Some(at.trim())),
        None => (text.trim(), None),
    };
    let (measure, _) =
        named(tool, name).map_err(|e| Stop::input(format!("error: --measure {text}: {e}")))?;
    let at = match (at, measure.at_position()) {
        (Some(at), true) => {
            let option = format!("--measure {text}: position");
            Some(parse_position(tool, &option, at)?)
        }
        (None, false) => None,
        (None, true) => {
            return Err(Stop::input(format!(
                "error: --measure {text}: say where, e.g. {name}@shut or {name}@gap=0.4"
            )));
        }
        (Some(_), false) => {
            return Err(Stop::input(format!(
                "error: --measure {text}: `{name}` is read over the whole stroke; write --measure {name}"
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
        return Err(Stop::input(
            "error: --vary: two dimensions at most; compare the others one after the other",
        ));
    }
    for (file, one) in loaded.iter().enumerate() {
        let mut sets: Vec<Vec<(String, f64)>> = vec![Vec::new()];
        for text in &args.vary {
            let (address, values) = range(one.tool(), text)?;
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
            let mut tool = one.tool().clone();
            // Without --vary the tool is as it was read: nothing to refuse here.
            if !set.is_empty() {
                apply_values(&mut tool, &set).map_err(|errors| {
                    let lines: Vec<String> = errors
                        .iter()
                        .map(|e| format!("error: --vary {e}"))
                        .collect();
                    Stop::input(lines.join("\n"))
                })?;
            }
            found.push(Variant { file, set, tool });
        }
    }
    Ok(found)
}

/// `strut.length=25:29:0.5`: the address and its values, internal unit.
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
    let address = address.trim();
    // What no dimension is called is refused when it is set.
    let quantity = find(tool, address).map_or(Some(Quantity::Length), DimensionSlot::quantity);
    // Which values it may have is asked when it is set.
    let read = |one: &str| {
        let value = typed_as(one, quantity, tool.units);
        value.map_err(|(what, help)| wrong(&format!("`{one}`: {what} ({help})")))
    };
    let (from, to, step) = (read(from)?, read(to)?, read(step)?);
    if !(step > 0.0 && to >= from) {
        return Err(wrong("the range must rise, by a step above zero"));
    }
    let count = ((to - from) / step + 1e-9).floor();
    if count >= MOST_VARIANTS as f64 {
        return Err(wrong(&format!("more than {MOST_VARIANTS} variants")));
    }
    Ok((
        address.to_owned(),
        (0..=count as usize)
            .map(|k| from + step * k as f64)
            .collect(),
    ))
}
