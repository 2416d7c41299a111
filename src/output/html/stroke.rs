//! The stroke on the page: question, demands, tables.

use crate::output::sentences::demands::demand_words;
use crate::output::sentences::job::how_often;
use crate::output::sentences::phrase::phrase;
use crate::output::sentences::stroke::whose_gaps;
use crate::output::terminal::{Column, Group, JawTable, JawsTable, Rows, pick_rows};
use crate::output::text::{clean, figures, grip, length};
use crate::report::{StrokeReport, ToolReview};

/// Rows of the work's curve that a page names; nobody reads more.
const MOST_ROWS: usize = 40;

/// About so many positions in the table of the page.
const ROWS: usize = 10;

pub(super) struct Demand {
    pub(super) met: bool,
    pub(super) what: String,
    pub(super) value: String,
    pub(super) wanted: String,
    /// The letter of the load that it is read under; empty where none, or more than one, sets it.
    pub(super) case: &'static str,
}

/// A table of one jaw.
pub(super) struct Table {
    pub(super) caption: String,
    pub(super) groups: Vec<Group>,
    pub(super) rows: Vec<Vec<Cell>>,
}

pub(super) struct Cell {
    /// First of its group.
    pub(super) first: bool,
    pub(super) text: String,
}

/// What is asked, in words.
pub(super) fn question(tool: &ToolReview) -> Vec<String> {
    let stroke = &tool.stroke;
    let (l, f) = (stroke.units.length, stroke.units.force);
    let mut out = Vec::new();
    let grips: Vec<String> = stroke
        .grips
        .iter()
        .map(|g| grip(*g, &stroke.units))
        .collect();
    let jaws: Vec<String> = stroke.jaws.iter().map(|j| clean(j)).collect();
    match &stroke.work {
        Some(work) => {
            let mut rows: Vec<String> = (work.need.iter().take(MOST_ROWS))
                .map(|[gap, force]| {
                    format!(
                        "{} {f} at {} {l}",
                        figures(*force),
                        length(*gap, &stroke.units)
                    )
                })
                .collect();
            if work.need.len() > MOST_ROWS {
                rows.push(format!("and {} rows more", work.need.len() - MOST_ROWS));
            }
            out.push(format!("The work needs, by gap: {}.", rows.join(", ")));
            if let Some(note) = &work.note {
                out.push(format!(
                    "Source of the work curve: {}.",
                    clean(note).trim_end_matches('.')
                ));
            }
            out.push(format!(
                "Can a hand do it, held at {} along the handle?",
                grips.join(", ")
            ));
        }
        None => out.push(format!(
            "What force does {} give for {} {f} hand force, held at {} along the handle?",
            jaws.join(", "),
            figures(stroke.hand_force),
            grips.join(", ")
        )),
    }
    if let Some(job) = &stroke.job {
        let often = how_often([job.strokes, job.held, job.hours]);
        out.push(format!("And {often}?"));
    }
    out
}

pub(super) fn demands(stroke: &StrokeReport) -> Vec<Demand> {
    let view = |demand| {
        let words = demand_words(stroke, demand);
        let mut what = phrase(&demand.measure, demand.at.as_deref(), &stroke.units);
        if let Some(at) = demand.grip {
            what.push_str(&format!(", grip {}", grip(at, &stroke.units)));
        }
        Demand {
            met: demand.met,
            what,
            value: words.value,
            wanted: words.wanted.unwrap_or_default(),
            case: case(&demand.measure, stroke.work.is_some()),
        }
    };
    stroke.demands.iter().map(view).collect()
}

/// The letter of the load under which a measure is read.
fn case(measure: &str, with_work: bool) -> &'static str {
    match measure.split('.').next().unwrap_or(measure) {
        "jaw_force" => "H",
        "hand_force" | "hand_share" | "effort" | "strain_index" | "hand_work" => "W",
        // Under the work, where there is one.
        "pin_load" | "contact" => {
            if with_work {
                "W"
            } else {
                "H"
            }
        }
        _ => "",
    }
}

/// The loads that the letters in the tables stand for.
pub(super) fn cases(stroke: &StrokeReport) -> String {
    let hand = format!("{} {}", figures(stroke.hand_force), stroke.units.force);
    let work = match stroke.work {
        Some(_) => "W, under the work; ",
        None => "",
    };
    let limit = match stroke.limit.is_some() {
        true => "; L, at the hand's limit",
        false => "",
    };
    format!("Load cases: {work}H, at the stated hand force of {hand}{limit}.")
}

/// Most grips beside one another: more would be wider than a printed page, and a browser then shrinks all of it.
const BESIDE: usize = 3;

/// The columns as tables that a printed page holds, the first ones in each.
fn blocks(mut groups: Vec<Group>) -> Vec<Vec<Group>> {
    let grips = groups.split_off(1.min(groups.len()));
    let block = |few: &[Group]| groups.iter().chain(few).cloned().collect();
    grips.chunks(BESIDE).map(block).collect()
}

/// All jaws in a table or several, and what its columns mean; `None` for a tool with one.
pub(super) fn all_jaws(stroke: &StrokeReport) -> Option<(Vec<Table>, String)> {
    let jaws = JawsTable::new(stroke)?;
    let mut caption = "Gaps, ratio and force at shut, and what the work asks for".to_owned();
    if let Some(whose) = whose_gaps(stroke) {
        caption.push_str(&format!("; {whose}"));
    }
    let table = |groups: Vec<Group>| Table {
        caption: caption.clone(),
        rows: (0..stroke.all_jaws.len())
            .map(|row| cells(&groups, row))
            .collect(),
        groups,
    };
    let tables = blocks(jaws.groups()).into_iter().map(table).collect();
    Some((tables, jaws.legend()))
}

/// A table or several for each jaw at key positions; whether a hand force is marked as over the limit.
pub(super) fn tables(stroke: &StrokeReport) -> (Vec<Table>, bool) {
    let shown = pick_rows(stroke, Rows::About(ROWS));
    let mut over = false;
    let of_jaw = |(k, jaw): (usize, &String)| {
        let mut groups = JawTable::new(stroke, jaw, k == 0, &shown).groups();
        // Forces of two load cases stand side by side.
        for column in groups.iter_mut().flat_map(|group| &mut group.columns) {
            match column.name.trim() {
                "jaw" => column.below.push_str(" (H)"),
                "hand" => column.below.push_str(" (W)"),
                _ => {}
            }
        }
        let table = |groups: Vec<Group>| {
            let rows: Vec<Vec<Cell>> = (0..shown.len()).map(|row| cells(&groups, row)).collect();
            over |= rows.iter().flatten().any(|c| c.text.ends_with('!'));
            Table {
                caption: format!("Jaw {} at key positions, open to shut", clean(jaw)),
                groups,
                rows,
            }
        };
        blocks(groups).into_iter().map(table).collect::<Vec<_>>()
    };
    let tables = stroke.jaws.iter().enumerate().flat_map(of_jaw).collect();
    (tables, over)
}

fn cells(groups: &[Group], row: usize) -> Vec<Cell> {
    let cell = |(k, column): (usize, &Column)| Cell {
        first: k == 0,
        text: (column.cells.get(row)).map_or_else(String::new, |c| c.trim().to_owned()),
    };
    (groups.iter())
        .flat_map(|group| group.columns.iter().enumerate().map(cell))
        .collect()
}
