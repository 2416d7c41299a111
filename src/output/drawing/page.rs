//! The page of a drawing: panels in columns, captions, title lines, scale bar.

use super::ink::{Fill, Ink, Shape, V, Words};
use super::labels::Room;
use super::tool::{LABEL, THIN, pen};
use crate::output::svg::labels::{lines, shorten};
use crate::output::svg::pen::INK;

/// Font size of captions, mm: capitals are then 3.5 mm high.
pub(super) const CAPTION: f64 = 4.8;
/// Height of a line of text, in shares of its size.
pub(super) const LEADING: f64 = 1.4;
/// Between panels, and round the page's content, mm.
pub(super) const SPACE: f64 = 6.0;
/// Font size of notes and of the names of fields: capitals are then 1.8 mm high, the least height of ISO 3098.
pub(super) const SMALL: f64 = 2.5;
/// From the edge of the page to the frame, mm.
pub(super) const EDGE: f64 = 5.0;
/// Least width of a panel, so that its caption can be read.
const NARROWEST: f64 = 74.0;

/// One position: heading, sentences, drawing, and a table below.
pub(super) struct Panel {
    pub heading: String,
    pub sentences: Vec<String>,
    pub ink: Ink,
    pub table: Option<Ink>,
}

/// What stands below the panels.
pub(super) struct Foot {
    /// From the edge of the page to the frame, mm.
    pub edge: f64,
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

/// The page on which the panels stand in so many columns; where that is left open, in the number
/// that comes nearest to the shape of the sheet.
pub(super) fn page(panels: Vec<Panel>, foot: &Foot, columns: Option<usize>, sheet: V) -> Page {
    let shapes = (1..=panels.len().max(1)).map(|columns| {
        let [w, h] = page_size(&panels, foot, columns);
        (columns, ((w / h) / (sheet[0] / sheet[1])).ln().abs())
    });
    let best = shapes.min_by(|a, b| a.1.total_cmp(&b.1));
    let columns = columns.or(best.map(|b| b.0)).unwrap_or(1).max(1);
    let page = page_size(&panels, foot, columns);
    let (wide, tall) = cells(&panels, columns);
    let mut ink = Ink::new();
    let start = foot.edge + SPACE;
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
        [foot.edge, foot.edge],
        [page[0] - foot.edge, foot.edge],
        [page[0] - foot.edge, page[1] - foot.edge],
        [foot.edge, page[1] - foot.edge],
    ];
    ink.poly(&frame, true, Fill::None, Some(pen(INK, 0.5, "")));
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
    [width, panel.caption_height(width) + h + below]
}

impl Panel {
    fn caption_lines(&self, width: f64) -> Vec<String> {
        let all = self.sentences.iter().flat_map(|s| lines(s, LABEL, width));
        all.collect()
    }

    /// Height of heading and sentences at a width.
    pub(super) fn caption_height(&self, width: f64) -> f64 {
        (CAPTION + LABEL * self.caption_lines(width).len() as f64) * LEADING + 3.0
    }
}

/// Widths of the columns and heights of the rows.
pub(super) fn cells(panels: &[Panel], columns: usize) -> (Vec<f64>, Vec<f64>) {
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

/// Width and height of the page with so many columns, mm.
pub(super) fn page_size(panels: &[Panel], foot: &Foot, columns: usize) -> V {
    let (wide, tall) = cells(panels, columns);
    let sum = |v: &[f64]| v.iter().sum::<f64>() + SPACE * v.len() as f64;
    let least = foot.bar.0 + 2.0 * SPACE + 20.0;
    let width = (sum(&wide) + SPACE).max(least) + 2.0 * foot.edge;
    let height = sum(&tall) + FootLines::of(foot, width).height() + SPACE + 2.0 * foot.edge;
    [width.ceil(), height.ceil()]
}

fn room(width: f64, edge: f64) -> f64 {
    width - 2.0 * (edge + SPACE)
}

/// How the lines below the panels stand: on a wide page the scale bar is beside the sentences.
struct FootLines {
    /// Left edge of the bar, from the left of the page.
    bar: f64,
    bar_lines: Vec<String>,
    sentences: Vec<String>,
    beside: bool,
    /// Height of the title.
    title: f64,
}

impl FootLines {
    fn of(foot: &Foot, width: f64) -> Self {
        let aside = foot.bar.0.max(44.0);
        let left = room(width, foot.edge) - aside - 10.0;
        let beside = left > 130.0;
        let (bar, bar_room, text_room) = if beside {
            (width - foot.edge - SPACE - aside, aside, left)
        } else {
            (
                foot.edge + SPACE,
                room(width, foot.edge),
                room(width, foot.edge),
            )
        };
        let sentences = foot.sentences.iter();
        Self {
            bar,
            bar_lines: lines(&foot.bar.2, LABEL, bar_room),
            sentences: sentences.flat_map(|s| lines(s, LABEL, text_room)).collect(),
            beside,
            title: match foot.title.is_empty() {
                true => 0.0,
                false => CAPTION * LEADING,
            },
        }
    }

    fn height(&self) -> f64 {
        let bar = 8.0 + LABEL * LEADING * self.bar_lines.len() as f64;
        let text = LABEL * LEADING * self.sentences.len() as f64;
        let title = self.title;
        2.5 + if self.beside {
            bar.max(title + text)
        } else {
            title + bar + text
        }
    }
}

/// Heading and sentences of a position; where they end.
pub(super) fn ink_captions(ink: &mut Ink, panel: &Panel, at: V, width: f64) -> f64 {
    let heading = shorten(&panel.heading, CAPTION, true, width);
    text(ink, [at[0], at[1] + CAPTION], heading, CAPTION, true);
    let mut y = at[1] + CAPTION * LEADING;
    for line in panel.caption_lines(width) {
        text(ink, [at[0], y + LABEL], line, LABEL, false);
        y += LABEL * LEADING;
    }
    y
}

pub(super) fn ink_panel(ink: &mut Ink, panel: Panel, at: V, width: f64) {
    let y = ink_captions(ink, &panel, at, width) + 3.0;
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
    let thin = pen(INK, 0.25, "");
    ink.line(
        &[[foot.edge, top - 2.0], [page[0] - foot.edge, top - 2.0]],
        thin,
        0.0,
    );
    let found = FootLines::of(foot, page[0]);
    let left = foot.edge + SPACE;
    let title_room = if found.beside {
        found.bar - left - 6.0
    } else {
        room(page[0], foot.edge)
    };
    let title = shorten(&foot.title, CAPTION, true, title_room);
    text(ink, [left, top + CAPTION], title, CAPTION, true);
    let mut y = top + found.title;
    let bar = if found.beside { top + 2.0 } else { y + 3.0 };
    ink_bar(ink, foot, [found.bar, bar]);
    let mut below = bar + 4.5;
    for line in &found.bar_lines {
        text(ink, [found.bar, below + LABEL], line.clone(), LABEL, false);
        below += LABEL * LEADING;
    }
    if !found.beside {
        y = below;
    }
    for line in found.sentences {
        text(ink, [left, y + LABEL], line, LABEL, false);
        y += LABEL * LEADING;
    }
}

/// The scale bar: pieces in turn black and white, as on a map.
pub(super) fn ink_bar(ink: &mut Ink, foot: &Foot, at: V) {
    let (long, pieces, _) = foot.bar;
    for k in 0..pieces {
        let piece = long / pieces as f64;
        let a = at[0] + piece * k as f64;
        let b = a + piece;
        let corners = [[a, at[1]], [b, at[1]], [b, at[1] + 1.6], [a, at[1] + 1.6]];
        let fill = if k % 2 == 0 { INK } else { "#ffffff" };
        let thin = pen(INK, 0.18, "");
        ink.poly(&corners, true, Fill::Colour(fill), Some(thin));
    }
    for x in [at[0], at[0] + long] {
        ink.line(&[[x, at[1] - 1.4], [x, at[1] + 3.0]], THIN, 0.0);
    }
}

/// Text that starts at a point of its base line, and makes room for itself.
pub(super) fn text(ink: &mut Ink, at: V, text: String, size: f64, bold: bool) {
    write(ink, at, text, size, bold, "start", INK);
}

/// Text at a point of its base line, in a colour.
pub(super) fn write(
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
        rim: false,
    };
    let Room(low, high) = Room::of(&words);
    ink.reach(low, 0.0);
    ink.reach(high, 0.0);
    ink.shapes.push(Shape::Text(words));
}
