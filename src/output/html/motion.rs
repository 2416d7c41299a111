//! The tool in motion: linkage and force curves side by side, one cursor, the numbers at its position.
//!
//! All that the script puts into the page is made here: it chooses between solved positions and makes no number.

use crate::output::chart::{ChartOptions, CursorChart, Form, Shared, cursor_chart};
use crate::output::drawing::moving;
use crate::output::error::OutputError;
use crate::output::terminal::JawTable;
use crate::output::text::{clean, figures, fixed, grip, length};
use crate::report::{DrawingReport, Jump, JumpTo, MotionReport, StrokeReport};
use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use serde_json::{Map, Value, json};
use sha2::{Digest, Sha256};

/// What moves the pictures of a page.
pub(super) const SCRIPT: &str = include_str!("motion.js");

/// Pixels across the chart.
const WIDTH: f64 = 640.0;

/// Stands behind a hand force that is beyond the hand's limit.
const OVER: &str = "over the limit";

/// The tool in motion, as the page has it.
pub(super) struct MotionView {
    pub(super) name: String,
    pub(super) id: String,
    pub(super) linkage: String,
    pub(super) chart: String,
    /// The number of the last position.
    pub(super) last: usize,
    pub(super) jumps: Vec<JumpView>,
    pub(super) caption: String,
    /// The columns of the table, without that of the grips.
    pub(super) heads: Vec<String>,
    pub(super) grips: Vec<String>,
    /// What the script chooses from, as JSON that can stand in a page.
    pub(super) data: String,
}

/// A button that goes to a place.
pub(super) struct JumpView {
    /// The number of its position.
    pub(super) row: usize,
    pub(super) label: String,
}

/// Where the policy of a page may take scripts from: the one script of ours, by its hash.
pub(super) fn script_source(script: &str) -> String {
    let hash = BASE64_STANDARD.encode(Sha256::digest(script));
    format!("'sha256-{hash}'")
}

/// The tool in motion; `index` counts the tools of the page.
///
/// # Errors
/// When a number is not finite, or there is nothing to draw.
pub(super) fn motion(
    stroke: &StrokeReport,
    drawing: &DrawingReport,
    motion: &MotionReport,
    index: usize,
) -> Result<Option<MotionView>, OutputError> {
    let (Some(jaw), Some(last)) = (stroke.jaws.first(), motion.rows.len().checked_sub(1)) else {
        return Ok(None);
    };
    let id = |what: &str| format!("motion{}-{what}", index + 1);
    let linkage = moving(drawing, motion, &id("tool-"))?;
    let chart = cursor_chart(
        stroke,
        &ChartOptions {
            width: WIDTH,
            id: id("curves"),
            shared: Shared::default(),
            form: Form::Low,
        },
    )?;
    let table = Table::of(stroke, jaw, &motion.rows);
    let data = data(stroke, jaw, motion, &chart, &table, &linkage.moved);
    Ok(Some(MotionView {
        name: clean(&stroke.tool),
        id: id("position"),
        linkage: linkage.svg,
        chart: chart.svg,
        last,
        jumps: buttons(stroke, motion),
        caption: caption(stroke, jaw),
        heads: table.heads,
        grips: (stroke.grips.iter())
            .map(|at| grip(*at, &stroke.units))
            .collect(),
        data,
    }))
}

fn caption(stroke: &StrokeReport, jaw: &str) -> String {
    let force = format!("{} {}", figures(stroke.hand_force), stroke.units.force);
    let mut text = format!("jaw {} at {force} hand force", clean(jaw));
    if stroke.work.is_some() {
        text.push_str("; work: force that the work needs; hand: what that asks of the hand");
    }
    text
}

/// The numbers at every position that is shown, as the tables of the terminal have them.
struct Table {
    heads: Vec<String>,
    /// For each position, for each grip.
    cells: Vec<Vec<Vec<String>>>,
}

impl Table {
    fn of(stroke: &StrokeReport, jaw: &str, rows: &[usize]) -> Self {
        let groups = JawTable::new(stroke, jaw, true, rows).groups();
        let (common, grips) = match groups.split_first() {
            Some((common, grips)) => (common, grips),
            None => {
                return Self {
                    heads: Vec::new(),
                    cells: Vec::new(),
                };
            }
        };
        let wanted = ["span", "jaw", "work", "hand"];
        let columns = |of: usize| {
            wanted.iter().filter_map(move |name| {
                let own = grips.get(of)?.columns.iter();
                let mut all = own.chain(&common.columns);
                all.find(|column| column.name.trim() == *name)
            })
        };
        let heads = columns(0).map(|c| format!("{}, {}", c.name.trim(), c.unit.trim()));
        let cell = |text: &str| match text.trim().strip_suffix('!') {
            Some(number) => format!("{number} {OVER}"),
            None => text.trim().to_owned(),
        };
        let row = |row: usize| {
            let of = |grip: usize| columns(grip).filter_map(|c| c.cells.get(row));
            (0..grips.len())
                .map(|grip| of(grip).map(|text| cell(text)).collect())
                .collect()
        };
        Self {
            heads: heads.collect(),
            cells: (0..rows.len()).map(row).collect(),
        }
    }
}

/// To hundredths, which is less than a line is wide; degrees to thousandths.
fn rounded(value: f64, steps: f64) -> f64 {
    (value * steps).round() / steps + 0.0
}

fn data(
    stroke: &StrokeReport,
    jaw: &str,
    motion: &MotionReport,
    chart: &CursorChart,
    table: &Table,
    moved: &[Vec<[f64; 3]>],
) -> String {
    let short = |value: f64| rounded(value, 100.0);
    let part = |[x, y, angle]: &[f64; 3]| [short(*x), short(*y), rounded(*angle, 1000.0)];
    let moved: Vec<Vec<[f64; 3]>> = moved.iter().map(|p| p.iter().map(part).collect()).collect();
    let rows = || motion.rows.iter();
    let dots: Vec<Value> = (chart.dots.iter())
        .map(|dots| {
            let heights = rows().map(|row| dots.heights.get(*row).copied().flatten().map(short));
            json!([dots.colour, heights.collect::<Vec<_>>()])
        })
        .collect();
    let places: Vec<Option<f64>> = rows()
        .map(|row| chart.places.get(*row).copied().map(short))
        .collect();
    let texts: Vec<String> = rows().map(|row| place(stroke, jaw, *row)).collect();
    let all = json!({
        "moved": moved,
        "places": places,
        "ends": chart.ends.map(short),
        "dots": dots,
        "cells": table.cells,
        "where": texts,
        "notes": notes(stroke, motion),
        "over": OVER,
    });
    // Nothing in it may end the element that it stands in.
    all.to_string().replace('<', "\\u003c")
}

/// Where a position is, in words that can be spoken.
fn place(stroke: &StrokeReport, jaw: &str, row: usize) -> String {
    let Some(position) = stroke.positions.get(row) else {
        return String::new();
    };
    let gap = position
        .gap(jaw)
        .map(|gap| format!("gap {} {}", length(gap, &stroke.units), stroke.units.length));
    let turns = stroke.positions.iter().any(|p| p.travel != 0.0);
    let travel = turns.then(|| format!("travel {} degrees", fixed(position.travel, 1)));
    gap.into_iter().chain(travel).collect::<Vec<_>>().join(", ")
}

/// The number under which a page has a position of the stroke.
fn row_of(motion: &MotionReport, jump: &Jump) -> Option<usize> {
    motion.rows.iter().position(|row| *row == jump.position)
}

fn buttons(stroke: &StrokeReport, motion: &MotionReport) -> Vec<JumpView> {
    let view = |jump: &Jump| {
        Some(JumpView {
            row: row_of(motion, jump)?,
            label: label(stroke, jump),
        })
    };
    motion.jumps.iter().filter_map(view).collect()
}

/// What a button says.
fn label(stroke: &StrokeReport, jump: &Jump) -> String {
    let what = match jump.what {
        JumpTo::Open => "open".to_owned(),
        JumpTo::Touches => "work touches".to_owned(),
        JumpTo::Stall if stroke.direction == "opening" => "starts to open".to_owned(),
        JumpTo::Stall => "stall".to_owned(),
        JumpTo::Peak => "peak".to_owned(),
        JumpTo::Toggle => "toggle".to_owned(),
        JumpTo::Meets => meets(stroke),
        JumpTo::Shut => "shut".to_owned(),
    };
    match jump.grip {
        Some(at) => format!("{what}, grip {}", grip(at, &stroke.units)),
        None => what,
    }
}

/// What ends the stroke for the forces.
fn meets(stroke: &StrokeReport) -> String {
    let Some(meeting) = stroke.meeting() else {
        return "dies meet".to_owned();
    };
    let name = clean(meeting.name());
    if meeting.stop.is_some() {
        format!("stop {name}")
    } else if meeting.cam.is_some() {
        format!("end of cam {name}")
    } else {
        format!("dies of {name} meet")
    }
}

/// What is to be said of positions: places between two of them that they stand for, and why there are no forces.
fn notes(stroke: &StrokeReport, motion: &MotionReport) -> Map<String, Value> {
    let mut notes: Vec<(usize, String)> = Vec::new();
    for jump in &motion.jumps {
        let (Some(row), Some(gap)) = (row_of(motion, jump), jump.gap) else {
            continue;
        };
        let here = stroke
            .jaws
            .first()
            .and_then(|jaw| stroke.gap(jump.position, jaw));
        let mut text = label(stroke, jump);
        if let Some(first) = text.get(..1) {
            text = first.to_uppercase() + text.get(1..).unwrap_or_default();
        }
        let shown = |gap: f64| length(gap, &stroke.units);
        text.push_str(&format!(": at gap {} {}", shown(gap), stroke.units.length));
        match here.map(shown) {
            Some(here) if here != shown(gap) => text.push_str(&format!(
                ", between two of the positions calculated; shown is the one at gap {here} {}.",
                stroke.units.length
            )),
            _ => text.push('.'),
        }
        notes.push((row, text));
    }
    for (row, index) in motion.rows.iter().enumerate() {
        let Some(position) = stroke.positions.get(*index) else {
            continue;
        };
        if position.beyond {
            let text = format!("No forces here: beyond \u{201c}{}\u{201d}.", meets(stroke));
            notes.push((row, text));
        } else if position.toggle {
            notes.push((
                row,
                "No forces here: the jaw stands still (toggle).".to_owned(),
            ));
        }
    }
    let mut out = Map::new();
    for (row, text) in notes {
        match out.entry(row.to_string()).or_insert_with(|| json!("")) {
            Value::String(all) if all.is_empty() => *all = text,
            Value::String(all) => *all = format!("{all} {text}"),
            _ => {}
        }
    }
    out
}
