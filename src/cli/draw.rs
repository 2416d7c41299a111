//! `draw`: the linkage true to scale, or the free body of one part.

use super::args::DrawArgs;
use super::load::{load, part_named};
use super::loads::say;
use super::motion::page;
use super::outputs::Outputs;
use super::over::over;
use super::position::positions;
use super::report::today;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::model::GripId;
use crate::output::{Drawing, DrawingOptions, Imprint, SCALES, scale_text, sheets};
use crate::report::{DrawingReport, drawing_report};
use crate::scene::scenes;
use crate::units::{MM_PER_IN, fixed};
use std::path::{Path, PathBuf};

pub(super) fn run(args: &DrawArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    if args.page.is_some() {
        return page(args, streams);
    }
    if let Some(picture) = &args.over {
        return over(args, picture, streams);
    }
    let scale = scale(&args.scale)?;
    let loaded = load(&args.file, &args.tool)?;
    let part = args.part.as_deref();
    let part = part
        .map(|name| part_named(loaded.tool(), name))
        .transpose()?;
    let positions = positions(loaded.tool(), args.at.as_deref().unwrap_or("open,shut"))?;
    // Nothing is begun for a file that cannot be written.
    Outputs::prepare(&[("--svg", &args.svg)], args.json, &loaded.inputs)?;
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
        scale,
        ..DrawingOptions::default()
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
    let imprint = Imprint {
        date: today(),
        version: format!("jawforce {}", env!("CARGO_PKG_VERSION")),
    };
    let file = args.svg.as_deref().filter(|path| *path != Path::new("-"));
    let drawn = sheets(&report, &options, &imprint, file.is_some()).map_err(Stop::bug)?;
    let files: Vec<Option<PathBuf>> = match (file, drawn.len()) {
        (Some(file), 2..) => (1..=drawn.len()).map(|k| Some(numbered(file, k))).collect(),
        _ => vec![args.svg.clone()],
    };
    let asked: Vec<(&str, &Option<PathBuf>)> = files.iter().map(|file| ("--svg", file)).collect();
    let outputs = Outputs::prepare(&asked, args.json, &loaded.inputs)?;
    let texts = drawn
        .iter()
        .map(|sheet| args.svg.as_ref().map(|_| sheet.svg.clone()));
    outputs.finish(streams, texts, |streams| {
        if let (None, false, Some(only)) = (&args.svg, args.json, drawn.first()) {
            return Ok(only.svg.clone());
        }
        streams.answer(args.json, args.tool.quiet, &report, |_| {
            written(&files, &report, &drawn)
        })
    })?;
    Ok(Exit::Done)
}

/// The file of one sheet of several: its number goes before the ending.
fn numbered(file: &Path, number: usize) -> PathBuf {
    let mut name = file.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-{number}"));
    if let Some(ending) = file.extension() {
        name.push(".");
        name.push(ending);
    }
    file.with_file_name(name)
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

/// What was written, in a line for each sheet.
fn written(files: &[Option<PathBuf>], report: &DrawingReport, drawn: &[Drawing]) -> String {
    let places: Vec<&str> = report.positions.iter().map(|p| p.at.as_str()).collect();
    let what = match &report.part {
        Some(part) => format!("free body of {part}"),
        None => "linkage".to_owned(),
    };
    let mut out = String::new();
    for (k, (sheet, file)) in drawn.iter().zip(files).enumerate() {
        let places = match drawn.len() {
            1 => places.join(", "),
            _ => places.get(k).copied().unwrap_or_default().to_owned(),
        };
        let file = file.as_deref().unwrap_or(Path::new("-"));
        out.push_str(&format!(
            "{}: {what} at {places}, scale {}, {}.\n",
            file.display(),
            scale_text(sheet.scale),
            prints_on(sheet, report)
        ));
    }
    out + "Print at 100 %, without fitting to the page, and measure the scale bar.\n"
}

/// The paper that a sheet is for.
fn prints_on(sheet: &Drawing, report: &DrawingReport) -> String {
    if !sheet.paper.is_empty() {
        return format!("prints on {}, landscape", sheet.paper);
    }
    let (unit, mm, decimals) = match report.units.length {
        "in" => ("in", MM_PER_IN, 1),
        _ => ("mm", 1.0, 0),
    };
    let [width, height] = sheet.size.map(|side| fixed(side / mm, decimals));
    format!(
        "page {width} x {height} {unit}, larger than any standard sheet: print it in tiles, or take a smaller --scale"
    )
}
