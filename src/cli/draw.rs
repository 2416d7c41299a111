//! `draw`: the linkage true to scale, or the free body of one part.

use super::args::DrawArgs;
use super::load::{load, part_named};
use super::loaded::Loaded;
use super::loads::say;
use super::motion::page;
use super::outputs::Outputs;
use super::position::parse_position;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::model::{At, GripId};
use crate::output::{Drawing, DrawingOptions, OutputError, SCALES, drawing, scale_text};
use crate::report::{DrawingReport, drawing_report};
use crate::scene::scenes;
use crate::units::{MM_PER_IN, fixed};
use std::path::Path;

pub(super) fn run(args: &DrawArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    if args.page.is_some() {
        return page(args, streams);
    }
    let scale = scale(&args.scale)?;
    let loaded = load(&args.file, &args.tool)?;
    let part = args.part.as_deref();
    let part = part
        .map(|name| part_named(loaded.tool(), name))
        .transpose()?;
    let positions = positions(&loaded, &args.at)?;
    let outputs = Outputs::prepare(&[("--svg", &args.svg)], args.json, &loaded.inputs)?;
    let direction = Direction::of(args.opening);
    let mut rig = loaded.rig(direction)?;
    let scenes =
        scenes(&mut rig, &positions, GripId::FIRST).map_err(|e| say(e, &loaded, "a position"))?;
    let report = drawing_report(
        loaded.tool(),
        &scenes,
        part,
        direction,
        &loaded.source(),
        loaded.units,
    );
    let options = DrawingOptions {
        forces: !args.no_forces,
        stress: args.stress,
        ..DrawingOptions::across(scale, &report.units)
    };
    if args.stress
        && report
            .positions
            .iter()
            .all(|position| position.stresses.is_empty())
    {
        return Err(Stop::input(
            "error: --stress: no stress is known along the edges of this part: it needs an outline in [outlines.PART], a table in [sections] without `width`, and forces",
        ));
    }
    let drawn = drawing(&report, &options).map_err(Stop::bug)?;
    let svg = outputs.text("--svg", || Ok::<_, OutputError>(drawn.svg.clone()))?;
    outputs.finish(streams, [svg], |streams| {
        if args.svg.is_none() && !args.json {
            return Ok(drawn.svg.clone());
        }
        streams.answer(args.json, args.tool.quiet, &report, |_| {
            written(args, &report, &drawn)
        })
    })?;
    Ok(Exit::Done)
}

/// The scale typed: `A:B`, or `fit` for none.
fn scale(text: &str) -> Result<Option<f64>, Stop> {
    if text.trim() == "fit" {
        return Ok(None);
    }
    let number = |t: &str| t.trim().parse::<f64>().ok().filter(|v| *v > 0.0);
    let scale = match text.split_once(':') {
        Some((paper, tool)) => number(paper).zip(number(tool)).map(|(p, t)| p / t),
        None => None,
    };
    scale
        .filter(|s| *s >= SCALES[0] && *s <= SCALES[1])
        .map(Some)
        .ok_or_else(|| {
            Stop::input(format!(
                "error: --scale {text}: write paper:tool, from 1:100 to 100:1, e.g. 1:1, 2:1 or 1:2; or fit, for an A4 page across (Letter in inches)"
            ))
        })
}

fn positions(loaded: &Loaded, text: &str) -> Result<Vec<At>, Stop> {
    let mut positions = Vec::new();
    for one in text.split(',').map(str::trim) {
        let at = parse_position(loaded.tool(), "--at", one)?;
        if matches!(at, At::Peak | At::Least) {
            return Err(Stop::input(format!(
                "error: --at {one}: a drawing needs a place on the stroke: open, shut, gap=…, handle=… or span=…"
            )));
        }
        positions.push(at);
    }
    if positions.len() > MOST {
        return Err(Stop::input(format!(
            "error: --at names {} positions; {MOST} at most fit on a page",
            positions.len()
        )));
    }
    Ok(positions)
}

/// Most positions of one drawing.
const MOST: usize = 12;

/// Names and sides of sheets, mm, long side first.
const ISO_PAPERS: [(&str, f64, f64); 3] = [
    ("A4", 297.0, 210.0),
    ("A3", 420.0, 297.0),
    ("A2", 594.0, 420.0),
];
/// The sheets of those who work in inches.
const US_PAPERS: [(&str, f64, f64); 3] = [
    ("Letter", 11.0 * MM_PER_IN, 8.5 * MM_PER_IN),
    ("Tabloid", 17.0 * MM_PER_IN, 11.0 * MM_PER_IN),
    ("ANSI C", 22.0 * MM_PER_IN, 17.0 * MM_PER_IN),
];

/// What was written, in a line or two.
fn written(args: &DrawArgs, report: &DrawingReport, drawn: &Drawing) -> String {
    let places: Vec<&str> = report.positions.iter().map(|p| p.at.as_str()).collect();
    let [width, height] = drawn.size;
    let (long, short) = (width.max(height), width.min(height));
    let inches = report.units.length == "in";
    let (papers, largest) = if inches {
        (&US_PAPERS, "ANSI C")
    } else {
        (&ISO_PAPERS, "A2")
    };
    let paper = papers
        .iter()
        .find(|(_, l, s)| long <= *l && short <= *s)
        .map_or_else(
            || format!("larger than {largest}: print it in tiles, or take a smaller --scale"),
            |(name, _, _)| format!("fits on {name}"),
        );
    let page = if inches {
        {
            let [width, height] = drawn.size.map(|mm| fixed(mm / MM_PER_IN, 1));
            format!("{width} x {height} in")
        }
    } else {
        format!("{width} x {height} mm")
    };
    let file = args.svg.as_deref().unwrap_or(Path::new("-"));
    format!(
        "{}: {} at {}, scale {}, page {page} ({paper}).\n\
         Print at 100 %, without fitting to the page, and measure the scale bar.\n",
        file.display(),
        report
            .part
            .as_ref()
            .map_or_else(|| "linkage".to_owned(), |p| format!("free body of {p}")),
        places.join(", "),
        scale_text(drawn.scale),
    )
}
