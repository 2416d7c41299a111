//! `compare` as a table.

use crate::output::sentences::Tone;
use crate::output::sentences::verdict::estimate;
use crate::output::text::{
    alike, clean, columns as width_of, figures, grip_number, joined, length, right, wrap,
};
use crate::report::{CompareReport, RowReport};
use std::fmt::Write;

/// Where the work stops the tool.
const STALLS: &str = "STALLS";
/// Where no hand does it for another reason.
const NO: &str = "NO";

/// The comparison as cells.
pub(in crate::output) struct Grid {
    /// Name and unit of every column.
    pub(in crate::output) head: Vec<[String; 2]>,
    /// The cells of every row, and what is to be said of it, as why it could not be solved. The best
    /// value of a measure carries a `*`.
    pub(in crate::output) rows: Vec<(Vec<String>, Option<String>)>,
    /// What the mark means, if there is one.
    pub(in crate::output) legend: Option<&'static str>,
}

pub(in crate::output) fn grid(report: &CompareReport) -> Grid {
    let length = report.units.length.to_owned();
    let by_file = shared_names(report);
    let first = if by_file { "file" } else { "tool" };
    let mut head: Vec<[String; 2]> = vec![[first.to_owned(), String::new()]];
    let set = report.rows.first().map_or(&[][..], |r| &r.set);
    let units = report.set_units.iter().map(|unit| (*unit).to_owned());
    head.extend(set.iter().zip(units).map(|(s, unit)| [s.0.clone(), unit]));
    head.push(["grip".to_owned(), length]);
    let columns = report.columns.iter();
    head.extend(columns.map(|c| [c.name.clone(), c.unit.clone()]));
    head.push(["demands".to_owned(), "met".to_owned()]);
    let judged = report.rows.iter().any(|row| row.can.is_some());
    if judged {
        head.push(["a hand".to_owned(), "can do it".to_owned()]);
    }
    let often = report.rows.iter().any(|row| row.again.is_some());
    if often {
        head.push(["as often".to_owned(), "as asked".to_owned()]);
    }
    let rows = report.rows.iter().enumerate();
    let values = |k: usize| {
        report
            .rows
            .iter()
            .filter_map(move |row| Some(row.set.get(k)?.1))
    };
    let sets: Vec<Vec<String>> = (0..set.len())
        .map(|k| alike(&values(k).collect::<Vec<_>>()))
        .collect();
    let marked = report.columns.iter().any(|c| c.best.is_some());
    Grid {
        head,
        rows: rows
            .map(|(k, row)| {
                let said = |row: &RowReport| match (&row.problem, &row.remark) {
                    (Some(problem), _) => Some(format!("cannot be solved: {}", clean(problem))),
                    (None, Some(remark)) => Some(format!("note: {}", clean(remark))),
                    (None, None) => None,
                };
                // Said once for a variant, below the last of its grips.
                let again = report.rows.get(k + 1).is_some_and(|next| {
                    (&next.file, &next.set, said(next)) == (&row.file, &row.set, said(row))
                });
                (
                    self::cells(report, k, (row, &sets), by_file, [judged, often]),
                    said(row).filter(|_| !again),
                )
            })
            .collect(),
        legend: marked.then_some(
            "*: best of its column among the rows that meet every demand and that a hand can do (hand forces and loads: \
             the least; the rest: the greatest)",
        ),
    }
}

/// Whether two files call their tools by the same name, as a copy of a file and its original do:
/// only the files then tell the rows apart.
fn shared_names(report: &CompareReport) -> bool {
    report.rows.iter().enumerate().any(|(k, row)| {
        let mut others = report.rows.iter().skip(k + 1);
        others.any(|o| o.tool == row.tool && o.file != row.file)
    })
}

/// The table for the terminal, at most `width` columns wide: the rows of a tool below its name. Measures that find no
/// room follow in blocks below, each with dimensions and grip again.
#[must_use]
pub fn compare_table(report: &CompareReport, width: usize) -> String {
    let Grid { head, rows, legend } = grid(report);
    let heads: Vec<[String; 3]> = head.iter().map(in_three).collect();
    let wide = |c: usize| {
        let body = rows.iter().filter_map(|r| r.0.get(c)).map(|s| width_of(s));
        let names = heads.get(c).into_iter().flatten().map(|s| width_of(s));
        names.chain(body).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..head.len()).map(wide).collect();
    let fixed = 1 + report.rows.first().map_or(0, |r| r.set.len());
    let mut out = String::new();
    for of in &report.estimates {
        let said = estimate(&of.estimate, of.tool.as_deref(), &report.units);
        out.push_str(&joined(&wrap("", &said.painted(), width, 2)));
    }
    for (k, block) in blocks(&widths, fixed, width).iter().enumerate() {
        if k > 0 {
            out.push('\n');
        }
        for line in 0..3 {
            let texts = block.iter().filter_map(|&c| heads.get(c)?.get(line));
            row(&mut out, texts, block, &widths);
        }
        let mut tool = None;
        for (cells, problem) in &rows {
            if tool != cells.first() {
                tool = cells.first();
                let name = tool.map_or("", String::as_str);
                out.push_str(&joined(&wrap("", name, width, 2)));
            }
            let cells = block.iter().filter_map(|&c| cells.get(c));
            row(&mut out, cells, block, &widths);
            if let Some(problem) = problem.as_ref().filter(|_| k == 0) {
                out.push_str(&joined(&wrap("    ", problem, width, 6)));
            }
        }
    }
    if let Some(legend) = legend {
        out.push_str(&joined(&wrap("", legend, width, 3)));
    }
    out
}

/// The head of a column: its name in two lines, the second being where a measure is read, and its unit.
fn in_three([name, unit]: &[String; 2]) -> [String; 3] {
    match name.split_once(" at ") {
        Some((name, place)) => [name.to_owned(), format!("at {place}"), unit.clone()],
        None => [String::new(), name.clone(), unit.clone()],
    }
}

/// Which columns stand in which block: the `fixed` ones after the tool's name in each.
fn blocks(widths: &[usize], fixed: usize, width: usize) -> Vec<Vec<usize>> {
    let first: Vec<usize> = (1..=fixed).collect();
    let start: usize = widths.iter().skip(1).take(fixed).map(|w| w + 2).sum();
    let (mut blocks, mut block, mut used) = (Vec::new(), first.clone(), start);
    for (c, w) in widths.iter().enumerate().skip(fixed + 1) {
        if used + 2 + w > width && block.len() > fixed {
            blocks.push(std::mem::replace(&mut block, first.clone()));
            used = start;
        }
        block.push(c);
        used += w + 2;
    }
    blocks.push(block);
    blocks
}

fn cells(
    report: &CompareReport,
    index: usize,
    (row, sets): (&RowReport, &[Vec<String>]),
    by_file: bool,
    [judged, often]: [bool; 2],
) -> Vec<String> {
    let mut cells = vec![clean(if by_file { &row.file } else { &row.tool })];
    cells.extend(sets.iter().filter_map(|column| column.get(index).cloned()));
    cells.push(grip_number(row.grip, &report.units));
    for (value, column) in row.values.iter().zip(&report.columns) {
        let text = match value {
            Some(v) if column.unit == report.units.length => length(*v, &report.units),
            Some(v) => figures(*v),
            None => "-".to_owned(),
        };
        cells.push(if column.best == Some(index) {
            format!("{text} *")
        } else {
            format!("{text}  ")
        });
    }
    cells.push(match (row.met, row.demands) {
        (Some(met), Some(all)) => format!("{met} of {all}"),
        _ => "-".to_owned(),
    });
    cells.extend(judged.then(|| match row.can {
        Some(true) => "yes".to_owned(),
        Some(false) if row.stalls => STALLS.to_owned(),
        // What ends the stroke is said below.
        Some(false) => NO.to_owned(),
        None => "-".to_owned(),
    }));
    cells.extend(often.then(|| {
        let word = match row.again {
            Some("within") => "yes",
            Some("between") => "IN DOUBT",
            Some(_) => NO,
            None => "-",
        };
        word.to_owned()
    }));
    cells
}

fn row<'s>(
    out: &mut String,
    cells: impl Iterator<Item = &'s String>,
    block: &[usize],
    widths: &[usize],
) {
    let mut line = String::new();
    for (cell, column) in cells.zip(block) {
        let width = widths.get(*column).copied().unwrap_or(0);
        let text = right(cell, width);
        let text = if cell == STALLS || cell == NO {
            Tone::Bad.paint(&text)
        } else {
            text
        };
        line = format!("{line}  {text}");
    }
    let _ = writeln!(out, "{}", line.trim_end());
}
