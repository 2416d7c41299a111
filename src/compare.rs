//! Tools side by side: every tool, every variant of its dimensions, every grip, one row each.

use crate::loads::strength;
use crate::measure::{Measure, Outcome, Reader, Reading, read_demand, with_grips};
use crate::model::{At, Direction, Tool};
use crate::statics::{MountError, Mounted, Rig};
use rayon::prelude::*;

/// A measure to be compared.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Name of the measure.
    pub measure: String,
    /// Where it is read, for measures of a position.
    pub at: Option<At>,
}

/// Whether a smaller or a greater value is the better one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Better {
    /// Less is better.
    Less,
    /// More is better.
    More,
    /// Neither.
    Neither,
}

impl Column {
    /// Which way this measure is better.
    #[must_use]
    pub fn better(&self) -> Better {
        match self.measure.split('.').next().unwrap_or("") {
            "hand_force" | "hand_share" | "pin_load" | "hand_work" => Better::Less,
            "jaw_force" | "ratio" | "efficiency" | "safety" => Better::More,
            _ => Better::Neither,
        }
    }
}

/// One variant of one tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Variant {
    /// Index of the file.
    pub file: usize,
    /// Dimensions set, with their values in mm.
    pub set: Vec<(String, f64)>,
    /// The tool with them.
    pub tool: Tool,
}

/// One row: a variant held at one grip.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Index of the variant.
    pub variant: usize,
    /// Grip along the hand line, mm.
    pub grip: f64,
    /// Value of each column, in internal units.
    pub values: Vec<Option<f64>>,
    /// Demands met at this grip, and how many there are.
    pub met: Option<(usize, usize)>,
    /// Why the variant could not be solved.
    pub problem: Option<String>,
    /// The jaw (index) whose dies meet before the stroke is shut, and the gap of the first jaw there,
    /// mm.
    pub meets: Option<(usize, f64)>,
}

/// Rows of all variants, in order, however many threads there are. `done` is told after each.
#[must_use]
pub fn compare(variants: &[Variant], columns: &[Column], done: &(dyn Fn() + Sync)) -> Vec<Row> {
    let rows: Vec<Vec<Row>> = variants
        .par_iter()
        .enumerate()
        .map(|(k, variant)| {
            let rows = rows(k, &variant.tool, columns);
            done();
            rows
        })
        .collect();
    rows.into_iter().flatten().collect()
}

fn rows(variant: usize, tool: &Tool, columns: &[Column]) -> Vec<Row> {
    let failed = |problem: String| -> Vec<Row> {
        let row = |&grip: &f64| Row {
            variant,
            grip,
            values: vec![None; columns.len()],
            met: None,
            problem: Some(problem.clone()),
            meets: None,
        };
        tool.hand.grips.iter().map(row).collect()
    };
    // Demands may name grips of their own.
    let grips = tool.hand.grips.clone();
    let tool = &with_grips(tool, &[]);
    let mounted = match Mounted::new(tool) {
        Ok(mounted) => mounted,
        Err(error) => return failed(first_line(&mount_text(&error, tool))),
    };
    let mut rig = match Rig::new(tool, &mounted, Direction::Closing) {
        Ok(rig) => rig,
        Err(error) => return failed(first_line(&error.text(tool, tool.units))),
    };
    let asks_safety = columns
        .iter()
        .map(|c| c.measure.as_str())
        .chain(tool.demands.iter().map(|d| d.measure.as_str()));
    let factors = if asks_safety.into_iter().any(|m| m.starts_with("safety")) {
        strength(&mut rig).ok()
    } else {
        None
    };
    let mut safety = |name: Option<&str>| factors.as_ref()?.safety(name);
    let mut read = Vec::new();
    for demand in 0..tool.demands.len() {
        // A variant may not come to the position of a demand: then it does not meet it.
        let unread = Outcome {
            demand,
            grip: None,
            reading: Reading::Missing("it is not on the stroke"),
            met: false,
        };
        let one = read_demand(&mut rig, demand, &grips, &mut safety);
        read.extend(one.unwrap_or_else(|_| vec![unread]));
    }
    let end = rig.pace();
    let meets = match rig.go_to(end) {
        Ok(()) => rig.meets().zip(rig.forces().gap.first().copied()),
        Err(_) => None,
    };
    let mut found = Vec::new();
    for (index, &grip) in grips.iter().enumerate() {
        let values = columns
            .iter()
            .map(|c| value(&mut rig, c, index, &mut safety))
            .collect();
        // Demands of this grip, and those that no grip or one of their own is named for.
        let counts = |d: &&Outcome| {
            d.grip.is_none_or(|g| g == grip)
                || tool
                    .demands
                    .get(d.demand)
                    .is_some_and(|demand| demand.grip.is_some())
        };
        let met = read.iter().filter(counts).filter(|d| d.met).count();
        let all = read.iter().filter(counts).count();
        let met = (all > 0).then_some((met, all));
        found.push(Row {
            variant,
            grip,
            values,
            met,
            problem: None,
            meets,
        });
    }
    found
}

fn value(
    rig: &mut Rig,
    column: &Column,
    grip: usize,
    safety: &mut dyn FnMut(Option<&str>) -> Option<f64>,
) -> Option<f64> {
    let measure = Measure::parse(rig.tool(), &column.measure).ok()?;
    if let Measure::Safety(name) = &measure {
        return safety(name.as_deref());
    }
    let mut reader = Reader::new(rig);
    let reading = match column.at {
        Some(at) => reader.at(&measure, at, grip).ok(),
        None => reader.over_stroke(&measure, grip).ok(),
    };
    reading.and_then(Reading::value)
}

fn mount_text(error: &MountError, tool: &Tool) -> String {
    match error {
        MountError::Model(error) => error.0.clone(),
        MountError::Motion(error) => error.text(tool, tool.units),
    }
}

fn first_line(text: &str) -> String {
    text.lines()
        .next()
        .unwrap_or("")
        .trim_end_matches('.')
        .to_owned()
}

/// Columns for tools that are compared without being asked for any: hand force at its peak where
/// every tool has work, jaw force, ratio and span at shut.
#[must_use]
pub fn usual_columns(tools: &[&Tool]) -> Vec<Column> {
    let column = |measure: &str, at| Column {
        measure: measure.to_owned(),
        at: Some(at),
    };
    let mut columns = Vec::new();
    if tools.iter().all(|t| t.work.is_some()) {
        columns.push(column("hand_force", At::Peak));
    }
    columns.push(column("jaw_force", At::Shut));
    columns.push(column("ratio", At::Shut));
    if tools.iter().all(|t| t.hand.against.is_some()) {
        columns.push(column("span", At::Open));
        columns.push(column("span", At::Shut));
    }
    columns
}

/// For each column, the row with the best value.
#[must_use]
pub fn best(rows: &[Row], columns: &[Column]) -> Vec<Option<usize>> {
    let one = |(c, column): (usize, &Column)| {
        let sign = match column.better() {
            Better::Less => -1.0,
            Better::More => 1.0,
            Better::Neither => return None,
        };
        let values = rows
            .iter()
            .enumerate()
            .filter_map(|(r, row)| Some((r, sign * (*row.values.get(c)?)?)));
        values
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))
            .map(|(r, _)| r)
    };
    columns.iter().enumerate().map(one).collect()
}
