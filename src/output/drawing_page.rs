//! The page of a drawing: panels in columns, captions, title lines, scale bar.

use super::drawing_ink::{Ink, Line, Shape, V, Words, plus};
use super::drawing_labels::Room;
use super::drawing_tool::{LABEL, THIN, pen};
use super::labels::{lines, shorten, text_width};
use super::palette::{GREY, INK};

/// Font size of captions, mm: capitals are then 3.5 mm high.
pub(super) const CAPTION: f64 = 4.8;
/// Height of a line of text, in shares of its size.
pub(super) const LEADING: f64 = 1.4;
/// Between panels, and round the page's content, mm.
const SPACE: f64 = 6.0;
/// From the edge of the page to the frame, mm.
const EDGE: f64 = 5.0;
/// Least width of a panel, so that its caption can be read.
const NARROWEST: f64 = 80.0;

/// One position: heading, sentences, drawing, and a table below.
pub(super) struct Panel {
    pub heading: String,
    pub sentences: Vec<String>,
    pub ink: Ink,
    pub table: Option<Ink>,
}

/// What stands below the panels.
pub(super) struct Foot {
    pub title: String,
    pub sentences: Vec<String>,
    /// Length of the scale bar on paper (mm), number of its pieces, what it says.
    pub bar: (f64, usize, String),
}

/// A whole page.
pub(super) struct Page {
    pub ink: Ink,
    /// Width and height, mm.
    pub size: V,
}

/// Ratio of the sides of an A4 page across.
const A4: f64 = 297.0 / 210.0;

/// The page on which the panels stand in the number of columns that comes nearest to an A4 page
/// across.
pub(super) fn page(panels: Vec<Panel>, foot: &Foot) -> Page {
    let shapes = (1..=panels.len().max(1)).map(|columns| {
        let [w, h] = size(&panels, foot, columns);
        (columns, ((w / h) / A4).ln().abs())
    });
    let best = shapes.min_by(|a, b| a.1.total_cmp(&b.1));
    let columns = best.map_or(1, |b| b.0);
    let page = size(&panels, foot, columns);
    let (wide, tall) = cells(&panels, columns);
    let mut ink = Ink::new();
    let start = EDGE + SPACE;
    let mut y = start;
    let mut panels = panels.into_iter();
    for height in &tall {
        let mut x = start;
        for width in &wide {
            let Some(panel) = panels.next() else { break };
            ink_panel(&mut ink, panel, [x, y], *width);
            x += width + SPACE;
        }
        y += height + SPACE;
    }
    ink_foot(&mut ink, foot, y, page);
    let frame = [
        [EDGE, EDGE],
        [page[0] - EDGE, EDGE],
        [page[0] - EDGE, page[1] - EDGE],
        [EDGE, page[1] - EDGE],
    ];
    ink.poly(
        &frame,
        true,
        super::drawing_ink::Fill::None,
        Some(pen(INK, 0.5, "")),
    );
    Page { ink, size: page }
}

fn cell(panel: &Panel) -> V {
    let [w, h] = panel.ink.size();
    let table = panel.table.as_ref().map_or([0.0; 2], Ink::size);
    let width = w.max(table[0]).max(NARROWEST);
    let below = if table[1] > 0.0 {
        table[1] + SPACE
    } else {
        0.0
    };
    [width, caption_height(panel, width) + h + below]
}

fn caption_lines(panel: &Panel, width: f64) -> Vec<String> {
    let all = panel.sentences.iter().flat_map(|s| lines(s, LABEL, width));
    all.collect()
}

fn caption_height(panel: &Panel, width: f64) -> f64 {
    (CAPTION + LABEL * caption_lines(panel, width).len() as f64) * LEADING + 3.0
}

/// Widths of the columns and heights of the rows.
fn cells(panels: &[Panel], columns: usize) -> (Vec<f64>, Vec<f64>) {
    let rows = panels.len().div_ceil(columns.max(1));
    let mut wide = vec![0.0_f64; columns];
    let mut tall = vec![0.0_f64; rows];
    for (k, panel) in panels.iter().enumerate() {
        let [w, h] = cell(panel);
        if let Some(column) = wide.get_mut(k % columns.max(1)) {
            *column = column.max(w);
        }
        if let Some(row) = tall.get_mut(k / columns.max(1)) {
            *row = row.max(h);
        }
    }
    (wide, tall)
}

/// Width and height of the page, mm.
fn size(panels: &[Panel], foot: &Foot, columns: usize) -> V {
    let (wide, tall) = cells(panels, columns);
    let sum = |v: &[f64]| v.iter().sum::<f64>() + SPACE * v.len() as f64;
    let least = foot.bar.0 + 2.0 * SPACE + 20.0;
    let width = (sum(&wide) + SPACE).max(least) + 2.0 * EDGE;
    let height = sum(&tall) + foot_height(foot, width) + SPACE + 2.0 * EDGE;
    [width.ceil(), height.ceil()]
}

fn room(width: f64) -> f64 {
    width - 2.0 * (EDGE + SPACE)
}

fn foot_lines(foot: &Foot, width: f64) -> Vec<String> {
    let all = foot
        .sentences
        .iter()
        .flat_map(|s| lines(s, LABEL, room(width)));
    all.collect()
}

fn foot_height(foot: &Foot, width: f64) -> f64 {
    let bar = 10.0 + LABEL * LEADING * bar_lines(foot, width).len() as f64;
    (CAPTION + LABEL * foot_lines(foot, width).len() as f64) * LEADING + bar + 4.0
}

fn bar_lines(foot: &Foot, width: f64) -> Vec<String> {
    lines(&foot.bar.2, LABEL, room(width))
}

fn ink_panel(ink: &mut Ink, panel: Panel, at: V, width: f64) {
    let heading = shorten(&panel.heading, CAPTION, true, width);
    text(ink, [at[0], at[1] + CAPTION], heading, CAPTION, true);
    let mut y = at[1] + CAPTION * LEADING;
    for line in caption_lines(&panel, width) {
        text(ink, [at[0], y + LABEL], line, LABEL, false);
        y += LABEL * LEADING;
    }
    y += 3.0;
    let [w, h] = panel.ink.size();
    let corner = panel.ink.bounds[0];
    if w > 0.0 {
        let left = at[0] + 0.5 * (width - w);
        ink.take(panel.ink, [left - corner[0], y - corner[1]]);
    }
    if let Some(table) = panel.table {
        let corner = table.bounds[0];
        ink.take(table, [at[0] - corner[0], y + h + SPACE - corner[1]]);
    }
}

fn ink_foot(ink: &mut Ink, foot: &Foot, top: f64, page: V) {
    let left = EDGE + SPACE;
    let thin = pen(INK, 0.25, "");
    ink.line(&[[EDGE, top - 2.0], [page[0] - EDGE, top - 2.0]], thin, 0.0);
    let title = shorten(&foot.title, CAPTION, true, room(page[0]));
    text(ink, [left, top + CAPTION], title, CAPTION, true);
    let mut y = top + CAPTION * LEADING;
    // The scale bar: pieces in turn black and white, as on a map.
    let (long, pieces, _) = foot.bar;
    y += 3.0;
    let bar = y;
    for k in 0..pieces {
        let piece = long / pieces as f64;
        let (a, b) = (left + piece * k as f64, left + piece * (k + 1) as f64);
        let corners = [[a, bar], [b, bar], [b, bar + 1.6], [a, bar + 1.6]];
        let fill = if k % 2 == 0 { INK } else { "#ffffff" };
        ink.poly(
            &corners,
            true,
            super::drawing_ink::Fill::Colour(fill),
            Some(pen(INK, 0.18, "")),
        );
    }
    for x in [left, left + long] {
        ink.line(&[[x, bar - 1.4], [x, bar + 3.0]], THIN, 0.0);
    }
    y += 4.5;
    for line in bar_lines(foot, page[0]) {
        text(ink, [left, y + LABEL], line, LABEL, false);
        y += LABEL * LEADING;
    }
    for line in foot_lines(foot, page[0]) {
        text(ink, [left, y + LABEL], line, LABEL, false);
        y += LABEL * LEADING;
    }
}

/// Text that starts at a point of its base line, and makes room for itself.
fn text(ink: &mut Ink, at: V, text: String, size: f64, bold: bool) {
    write(ink, at, text, size, bold, "start", INK);
}

fn write(
    ink: &mut Ink,
    at: V,
    text: String,
    size: f64,
    bold: bool,
    anchor: &'static str,
    colour: &'static str,
) {
    if text.is_empty() {
        return;
    }
    let words = Words {
        at,
        text,
        size,
        bold,
        italic: false,
        colour,
        anchor,
    };
    let Room(low, high) = Room::of(&words);
    ink.reach(low, 0.0);
    ink.reach(high, 0.0);
    ink.shapes.push(Shape::Text(words));
}

/// A table: a heading row, rows of numbers set right, the last row being the sum; a note below.
pub(super) fn grid(rows: &[Vec<String>], note: &str) -> Ink {
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
    for line in lines(note, LABEL, whole.max(60.0)) {
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
