//! The force curves as plain characters: a first look in the terminal.

use crate::output::chart::{Kind, Line, Panel, StrokeAxis, cut_note, panels, value_at};
use crate::output::text::{clean, fixed, joined, right, wrap};
use crate::report::StrokeReport;

/// Rows of a panel.
const ROWS: usize = 14;
/// Columns left of the plot: numbers and the axis.
const HEAD: usize = 9;

/// The panels of the chart, one below the other, at most `width` columns wide. Every grip has a
/// letter, the work is drawn with `#`, the hand's limit with `=`.
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
    lines.push(panel.title.clone());
    for (k, row) in cells.iter().enumerate() {
        let tick = (panel.ticks.at.iter()).find(|t| row_of(panel, **t) == Some(k));
        let number = tick.map_or(String::new(), |t| {
            panel.ticks.text(*t).replace('\u{a0}', " ")
        });
        let row: String = row.iter().collect();
        lines.push(format!("{} |{row}", right(&number, HEAD - 2)));
    }
    lines.push(format!("{}+{}", " ".repeat(HEAD - 1), "-".repeat(columns)));
    let ends = [
        "open 0.0".to_owned(),
        format!("shut {}", fixed(axis.end, 1)),
    ];
    let taken = ends[0].len() + axis.name().len() + ends[1].len();
    let pad = columns.saturating_sub(taken);
    lines.push(format!(
        "{}{}{}{}{}{}",
        " ".repeat(HEAD),
        ends[0],
        " ".repeat(pad / 2),
        axis.name(),
        " ".repeat(pad - pad / 2),
        ends[1],
    ));
    lines.extend(wrap(
        &" ".repeat(HEAD),
        &legend.join(" | "),
        HEAD + columns,
        HEAD,
    ));
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
            assert!(text.contains("open 0.0") && text.contains("shut 29.0"));
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

    /// Two curves cross the limit, or run along it: its line is whole all the same.
    #[test]
    fn nothing_covers_the_limit() {
        let text = plot(&Sample::knee().build(), 80);
        let whole = "=".repeat(80 - HEAD);
        assert!(
            text.lines().any(|l| l.ends_with(&format!("|{whole}"))),
            "{text}"
        );
    }

    #[test]
    fn nothing_to_draw_is_an_empty_text() {
        let mut report = Sample::knee().build();
        report.positions.clear();
        report.jaws.clear();
        assert_eq!(plot(&report, 80), "");
    }
}
