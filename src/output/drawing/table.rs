//! The free-body sheet of a drawing as a table below it.

use super::forces::product;
use super::ink::{Ink, Line, plus};
use super::page::{LEADING, write};
use super::tool::{LABEL, THIN, name};
use crate::output::sentences::loads::force_name;
use crate::output::svg::labels::{lines, text_width};
use crate::output::svg::pen::{GREY, INK};
use crate::output::text::{decimals_for, fixed, length_decimals, true_minus};
use crate::report::{DrawingReport, DrawnPosition, ForceReport};

/// The free-body sheet as a table: components, arms and moments, and the sums, which must vanish
/// on a moving part. Its upper left corner is the origin.
pub(super) fn table(position: &DrawnPosition, report: &DrawingReport) -> Option<Ink> {
    let sheet = position.sheet.as_ref()?;
    let (length_unit, force_unit) = (report.units.length, report.units.force);
    let mut rows = vec![vec![
        format!("on {}", name(&sheet.part)),
        format!("x, {length_unit}"),
        format!("y, {length_unit}"),
        format!("Fx, {force_unit}"),
        format!("Fy, {force_unit}"),
        format!("F, {force_unit}"),
        format!("arm, {length_unit}"),
        format!("couple, {}", product(report.moment_unit)),
        format!("M, {}", product(report.moment_unit)),
    ]];
    let greatest = |pick: &dyn Fn(&ForceReport) -> f64| {
        sheet
            .forces
            .iter()
            .map(pick)
            .fold(0.0_f64, |m, v| m.max(v.abs()))
    };
    // One decimal more than a reader needs, so that the sums can be checked.
    let digits = |size: f64| decimals_for(size, 2) + 1;
    let force_digits = digits(greatest(&|f| f.force.map_or(0.0, |[x, y]| x.hypot(y))));
    // Four figures of the greatest: a moment is a force times an arm, known no better than either.
    let moment_digits = decimals_for(greatest(&|f| f.moment.unwrap_or(0.0)) / 10.0, 3);
    let length_digits = length_decimals(&report.units);
    let number = |value: Option<f64>, digits: usize| {
        value.map_or_else(|| "?".to_owned(), |v| true_minus(&fixed(v, digits)))
    };
    for f in &sheet.forces {
        let size = f.force.map(|[x, y]| x.hypot(y));
        let arm = match (f.moment, f.couple, size) {
            (Some(m), Some(c), Some(s)) if s > 0.0 => number(Some((m - c) / s), length_digits),
            (_, _, Some(_)) => "\u{2013}".to_owned(), // a couple alone has none
            _ => number(None, length_digits),
        };
        rows.push(vec![
            name(&force_name(&f.what)),
            number(Some(f.at[0]), length_digits),
            number(Some(f.at[1]), length_digits),
            number(f.force.map(|v| v[0]), force_digits),
            number(f.force.map(|v| v[1]), force_digits),
            number(size, force_digits),
            arm,
            number(f.couple, moment_digits),
            number(f.moment, moment_digits),
        ]);
    }
    let sums = sheet.sums;
    let empty = String::new;
    rows.push(vec![
        if sheet.bench.is_some() {
            "sum (fixed part)"
        } else {
            "sum"
        }
        .to_owned(),
        empty(),
        empty(),
        number(sums.map(|s| s[0]), force_digits),
        number(sums.map(|s| s[1]), force_digits),
        empty(),
        empty(),
        empty(),
        number(sums.map(|s| s[2]), moment_digits),
    ]);
    let (about, x, y) = &sheet.about;
    let about = format!(
        "M about {} ({}, {}), counter-clockwise; arm = moment / force",
        name(&force_name(about)),
        number(Some(*x), length_digits),
        number(Some(*y), length_digits)
    );
    let held = sheet
        .bench
        .map(|_| "Sum of the fixed part: zero = nothing left for the bench to hold.".to_owned());
    Some(grid(&rows, [Some(about), held].into_iter().flatten()))
}

/// A table: a heading row, rows of numbers set right, the last row being the sum; notes below.
fn grid(rows: &[Vec<String>], notes: impl Iterator<Item = String>) -> Ink {
    let mut ink = Ink::new();
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let wide: Vec<f64> = (0..columns)
        .map(|c| {
            let cells = rows.iter().filter_map(|r| r.get(c));
            cells.fold(0.0_f64, |m, t| m.max(text_width(t, LABEL, true)))
        })
        .collect();
    let gap = 4.0;
    let whole: f64 = wide.iter().map(|w| w + gap).sum::<f64>() - gap;
    let rule = |ink: &mut Ink, y: f64, line: Line| ink.line(&[[0.0, y], [whole, y]], line, 0.0);
    let mut y = 0.0;
    for (r, row) in rows.iter().enumerate() {
        let last = r + 1 == rows.len();
        if last {
            rule(&mut ink, y + 0.6, THIN);
            y += 1.0;
        }
        let mut x = 0.0;
        for (c, (cell, w)) in row.iter().zip(&wide).enumerate() {
            let (at, anchor) = if c == 0 { (x, "start") } else { (x + w, "end") };
            let bold = r == 0 || last;
            let place = plus([at, y], [0.0, LABEL]);
            write(&mut ink, place, cell.clone(), LABEL, bold, anchor, INK);
            x += w + gap;
        }
        y += LABEL * LEADING;
        if r == 0 {
            rule(&mut ink, y, THIN);
            y += 0.8;
        }
    }
    for line in notes.flat_map(|note| lines(&note, LABEL, whole.max(60.0))) {
        write(
            &mut ink,
            [0.0, y + LABEL],
            line,
            LABEL,
            false,
            "start",
            GREY,
        );
        y += LABEL * LEADING;
    }
    ink
}
