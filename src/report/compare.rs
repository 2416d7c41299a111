//! Tools side by side: the answer of `compare`.

use super::job::word;
use super::show::{number, position_text};
use super::stroke::UnitNames;
use super::verdict::{EstimateLine, estimates};
use crate::compare::{Column, Row, Variant, best};
use crate::model::{At, Met};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// Rows of variants and grips.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CompareReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Units of every number below.
    pub units: UnitNames,
    /// Unit of each number that is set; empty for plain numbers.
    pub set_units: Vec<&'static str>,
    /// Measures compared: name with position, and unit.
    pub columns: Vec<ColumnReport>,
    /// One row for each variant and grip.
    pub rows: Vec<RowReport>,
    /// Work of the files that is an estimate until it is measured; left out where none is.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub estimates: Vec<FileEstimate>,
}

/// An estimate in a file.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FileEstimate {
    /// The file as it was named.
    pub file: String,
    /// Name of the tool; null where all are of one file.
    pub tool: Option<String>,
    /// What is estimated, as the file has it.
    pub estimate: EstimateLine,
}

/// A measure compared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ColumnReport {
    /// Name and position, e.g. `hand_force at peak`.
    pub name: String,
    /// Its unit; empty for plain numbers.
    pub unit: String,
    /// Index of the row with the best value; null where neither way is better.
    pub best: Option<usize>,
}

/// A variant held at one grip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RowReport {
    /// The file as it was named.
    pub file: String,
    /// Name of the tool.
    pub tool: String,
    /// Dimensions set and their values.
    pub set: Vec<(String, f64)>,
    /// Grip along the hand line.
    pub grip: f64,
    /// Value of each column.
    pub values: Vec<Option<f64>>,
    /// Demands met at this grip.
    pub met: Option<usize>,
    /// Demands read at this grip.
    pub demands: Option<usize>,
    /// Whether a hand can do the job at this grip; null where work or limit is not given.
    pub can: Option<bool>,
    /// Whether the work stops the tool at the hand's limit.
    pub stalls: bool,
    /// The worst that the methods for repeated use say of this grip: `"within"`, `"between"` or `"above"`; null where the
    /// file does not say how often.
    pub again: Option<&'static str>,
    /// Why the variant could not be solved.
    pub problem: Option<String>,
    /// What is to be known of the variant.
    pub remark: Option<String>,
}

/// The report of a comparison. `files`: the names of the files.
#[must_use]
pub fn compare_report(
    files: &[String],
    variants: &[Variant],
    columns: &[Column],
    rows: &[Row],
    units: UnitSystem,
) -> CompareReport {
    let quantity = |c: &Column| c.kind().and_then(|kind| kind.quantity);
    let best = best(rows, columns);
    let place = |at: At| {
        let text = variants.first().map(|v| position_text(&v.tool, at, units));
        format!(" at {}", text.unwrap_or_default())
    };
    let column = |(k, c): (usize, &Column)| ColumnReport {
        name: format!("{}{}", c.measure, c.at.map(place).unwrap_or_default()),
        unit: quantity(c).map_or("", |q| units.symbol(q)).to_owned(),
        best: best.get(k).copied().flatten(),
    };
    let row = |row: &Row| {
        let variant = variants.get(row.variant);
        let values = row.values.iter().zip(columns);
        RowReport {
            file: variant
                .and_then(|v| files.get(v.file))
                .cloned()
                .unwrap_or_default(),
            tool: variant.map_or_else(String::new, |v| v.tool.name.clone()),
            set: variant.map_or_else(Vec::new, |v| {
                v.set
                    .iter()
                    .map(|(a, value)| (a.clone(), units.shown(*value, v.quantity(a))))
                    .collect()
            }),
            grip: units.show(row.grip, Quantity::Length),
            values: values
                .map(|(v, c)| v.map(|v| quantity(c).map_or(v, |q| units.show(v, q))))
                .collect(),
            met: row.met.map(|m| m.0),
            demands: row.met.map(|m| m.1),
            can: row.hand.can,
            stalls: row.hand.stalls,
            again: row.hand.again.map(word),
            problem: row.problem.clone(),
            remark: row.meets.zip(variant).and_then(|((what, gap), variant)| {
                let meets = match what {
                    Met::Dies(jaw) => {
                        format!("the dies of jaw `{}` meet", variant.tool.jaw(jaw)?.name)
                    }
                    Met::Face(cam) => {
                        let own = variant.tool.cams.get(cam)?;
                        format!("the face of cam `{}` ends", own.label(cam))
                    }
                    Met::Stop(stop) => {
                        format!("stop `{}` is met", variant.tool.stop(stop)?.name)
                    }
                };
                Some(format!(
                    "{meets} at gap {} {}, before it is shut: it ends there",
                    number(units.show(gap, Quantity::Length)),
                    units.symbol(Quantity::Length)
                ))
            }),
        }
    };
    CompareReport {
        format: 1,
        units: UnitNames::of(units),
        set_units: variants.first().map_or_else(Vec::new, |v| {
            v.set
                .iter()
                .map(|(a, _)| units.unit(v.quantity(a)))
                .collect()
        }),
        columns: columns.iter().enumerate().map(column).collect(),
        rows: rows.iter().map(row).collect(),
        estimates: estimated(files, variants, units),
    }
}

/// What is estimated of the work, of each file once.
fn estimated(files: &[String], variants: &[Variant], units: UnitSystem) -> Vec<FileEstimate> {
    let of_file = |(k, file): (usize, &String)| {
        let variant = variants.iter().find(|variant| variant.file == k)?;
        let lines = estimates(&variant.tool, units).into_iter();
        let tool = (files.len() > 1).then(|| variant.tool.name.clone());
        let line = move |estimate| FileEstimate {
            file: file.clone(),
            tool: tool.clone(),
            estimate,
        };
        Some(lines.map(line).collect::<Vec<_>>())
    };
    let all = files.iter().enumerate().filter_map(of_file);
    all.flatten().collect()
}
