//! The force curves as plain characters: a first look in the terminal.

use crate::output::chart::{Kind, Line, Panel, StrokeAxis, cut_note, panels, value_at};
use crate::output::text::{clean, fixed, joined, left, right, wrap};
use crate::report::StrokeReport;

/// Rows of a panel.
const ROWS: usize = 14;
/// Columns left of the plot: numbers and the axis.
const HEAD: usize = 9;

/// The panels of the chart, one below the other, at most `width` columns wide. Every grip has a
/// letter, the work is drawn with `#`, the hand's limit with `=`, a stall with `X`.
#[must_use]
pub fn plot(report: &StrokeReport, width: usize) -> String {
    let axis = StrokeAxis::of(report);
    let columns = width.clamp(30, 110) - HEAD;
    let mut lines = Vec::new();
    for panel in panels(report, &axis) {
        self::panel(&panel, &axis, columns, &mut lines);
        if let Some(note) = cut_note(&panel) {
            lines.extend(wrap("", &note, width, 2));
        }
        lines.push(String::new());
    }
    joined(&lines)
}

fn panel(panel: &Panel, axis: &StrokeAxis, columns: usize, lines: &mut Vec<String>) {
    let mut cells = vec![vec![' '; columns]; ROWS];
    let mut legend = Vec::new();
    let mut letters = ('a'..='z').chain('A'..='Z').cycle();
    let mut marked = Vec::new();
    for line in &panel.lines {
        let mark = match line.kind {
            Kind::Work => '#',
            Kind::Limit => '=',
            Kind::Curve => letters.next().unwrap_or('*'),
        };
        marked.push((line, mark));
        legend.push(format!("{mark} {}", clean(&line.label)));
    }
    // What the work needs and the limit last: they must not vanish where curves cross them.
    marked.sort_by_key(|(line, _)| !matches!(line.kind, Kind::Curve));
    for (line, mark) in marked {
        draw(line, mark, panel, axis.end, &mut cells);
    }
    // Last of all: where the tool gets no further.
    for stall in &panel.stalls {
        let column = (stall.at.0 / axis.end * (columns - 1) as f64)
            .round()
            .max(0.0) as usize;
        let row = row_of(panel, stall.at.1).and_then(|row| cells.get_mut(row));
        if let Some(cell) = row.and_then(|row| row.get_mut(column)) {
            *cell = 'X';
        }
    }
    if !panel.stalls.is_empty() {
        legend.push("X stall".to_owned());
    }
    lines.push(panel.title.clone());
    for (k, row) in cells.iter().enumerate() {
        let tick = (panel.ticks.at.iter()).find(|t| row_of(panel, **t) == Some(k));
        let number = tick.map_or(String::new(), |t| {
            panel.ticks.text(*t).replace('\u{a0}', " ")
        });
        let row: String = row.iter().collect();
        lines.push(format!("{} |{row}", right(&number, HEAD - 2)));
    }
    lines.extend(across(axis, columns));
    lines.extend(wrap(
        &" ".repeat(HEAD),
        &legend.join(" | "),
        HEAD + columns,
        HEAD,
    ));
}

/// The axis with its marks, their numbers, and what they are.
fn across(axis: &StrokeAxis, columns: usize) -> [String; 3] {
    let (ticks, places) = axis.ticks(70.0 * columns as f64 / 14.0);
    let mut rule = vec!['-'; columns];
    let mut numbers = String::new();
    let end = fixed(axis.end, 1);
    for place in places.iter().filter(|place| **place < axis.end) {
        let column = (place / axis.end * (columns - 1) as f64).round() as usize;
        if let Some(mark) = rule.get_mut(column) {
            *mark = '+';
        }
        let number = ticks.text(*place).replace('\u{a0}', " ");
        // The number stands below its mark where there is room for it and for that of the end.
        if column >= numbers.chars().count() && column + number.len() + end.len() + 1 < columns {
            numbers = format!("{}{number} ", left(&numbers, column));
        }
    }
    let room = columns.saturating_sub(numbers.chars().count());
    let rule: String = rule.into_iter().collect();
    let name = axis.name();
    let pad = columns.saturating_sub(8 + name.len());
    let margin = " ".repeat(HEAD);
    [
        format!("{}+{rule}", " ".repeat(HEAD - 1)),
        format!("{margin}{numbers}{}", right(&end, room)),
        format!(
            "{margin}open{}{name}{}shut",
            " ".repeat(pad / 2),
            " ".repeat(pad - pad / 2)
        ),
    ]
}

/// The row of a value; `None` beyond the axis.
fn row_of(panel: &Panel, value: f64) -> Option<usize> {
    let share = (panel.high - value) / (panel.high - panel.low);
    // What lies a little beyond is marked on the edge.
    let row = (-0.02..=1.02)
        .contains(&share)
        .then(|| (share * (ROWS - 1) as f64).round());
    row.map(|r| (r.max(0.0) as usize).min(ROWS - 1))
}

/// Marks the cells that a line goes through, between the values of two columns too.
fn draw(line: &Line, mark: char, panel: &Panel, end: f64, cells: &mut [Vec<char>]) {
    let columns = cells.first().map_or(0, Vec::len);
    let mut last: Option<usize> = None;
    for column in 0..columns {
        let x = end * column as f64 / columns.saturating_sub(1).max(1) as f64;
        let Some(here) = value_at(&line.points, x).and_then(|v| row_of(panel, v)) else {
            last = None;
            continue;
        };
        // From the row after the last one, so that a slope is one mark wide.
        let rows = match last {
            Some(before) if before > here => here..=before - 1,
            Some(before) if before < here => before + 1..=here,
            _ => here..=here,
        };
        for row in rows {
            if let Some(cell) = cells.get_mut(row).and_then(|r| r.get_mut(column)) {
                *cell = mark;
            }
        }
        last = Some(here);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::samples::Sample;
    use crate::output::text::columns;

    #[test]
    fn every_line_has_its_mark_and_fits() {
        for width in [40, 80, 100] {
            let text = plot(&Sample::knee().build(), width);
            assert!(text.lines().all(|l| columns(l) <= width.max(44)), "{text}");
            for mark in [
                "a grip 70 mm",
                "b grip 100 mm",
                "# the work needs",
                "= hand limit",
            ] {
                let joined = text.split_whitespace().collect::<Vec<_>>().join(" ");
                assert!(joined.contains(mark), "{mark}: {text}");
            }
            let last = text.lines().rfind(|l| l.ends_with("29.0")).unwrap();
            let numbers: Vec<f64> = last
                .split_whitespace()
                .map(|n| n.parse().unwrap())
                .collect();
            assert!(
                numbers.len() >= 3 && numbers.is_sorted() && numbers[0] == 0.0,
                "{last}"
            );
            assert!(text.contains("open ") && text.contains(" shut"));
        }
    }

    /// A line that rises evenly goes from the lowest row on the left to its height on the right.
    #[test]
    fn a_curve_rises_from_left_to_right() {
        let text = plot(
            &Sample::knee()
                .grips(&[100.0])
                .work(None)
                .limit(None)
                .build(),
            80,
        );
        let rows: Vec<&str> = text.lines().filter(|l| l.contains('|')).collect();
        let first = |row: &str| row.find('a');
        let columns: Vec<usize> = rows.iter().rev().filter_map(|r| first(r)).collect();
        assert!(columns.len() > 5, "{text}");
        assert!(columns.windows(2).all(|w| w[0] < w[1]), "{text}");
    }

    /// A stall has its mark on the limit's row, and a number of the axis stands below its own mark.
    #[test]
    fn stalls_and_marks_stand_at_their_places() {
        let report = Sample::knee().build();
        let text = plot(&report, 80);
        let rows: Vec<&str> = text.lines().collect();
        let count = report
            .work
            .as_ref()
            .unwrap()
            .stalls
            .iter()
            .flatten()
            .count();
        let marked = rows
            .iter()
            .filter(|r| r.contains('|') && r.contains('X') && !r.contains("stall"));
        let marks: usize = marked.clone().map(|r| r.matches('X').count()).sum();
        assert_eq!(marks, count, "{text}");
        assert!(marked.clone().all(|r| r.contains("===")), "{text}");
        assert!(text.contains("X stall"));
        let rule = rows
            .iter()
            .position(|r| r.trim_start().starts_with("+-") || r.contains("-+-"));
        let (rule, numbers) = (rows[rule.unwrap()], rows[rule.unwrap() + 1]);
        let column = numbers.find("10").unwrap();
        assert_eq!(rule.as_bytes()[column], b'+', "{text}");
    }

    /// Two curves cross the limit, or run along it: its line is whole all the same.
    #[test]
    fn nothing_covers_the_limit() {
        let text = plot(&Sample::knee().build(), 80);
        // But for the stalls, which stand on it.
        let whole = "=".repeat(80 - HEAD);
        let held = |line: &str| line.replace('X', "=").ends_with(&format!("|{whole}"));
        assert!(text.lines().any(held), "{text}");
    }

    #[test]
    fn nothing_to_draw_is_an_empty_text() {
        let mut report = Sample::knee().build();
        report.positions.clear();
        report.jaws.clear();
        assert_eq!(plot(&report, 80), "");
    }
}
