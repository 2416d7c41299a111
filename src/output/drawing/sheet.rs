//! A drawing on a sheet of standard size: frame with centring marks, the positions, and along the foot a key, the
//! scale bar with the notes, and the title block.
//!
//! Borders of 20 mm along the edge that is bound and 10 mm along the others, and marks in the middles of the
//! sides: ISO 5457 (from memory).

use super::block::{Block, HIGH, WIDE, ink_block, ink_line};
use super::ink::{Fill, Ink, V};
use super::key::{Key, ink_key};
use super::page::{
    Foot, LEADING, Page, Panel, SMALL, SPACE, cells, ink_bar, ink_captions, ink_panel,
};
use super::paper::Paper;
use super::tool::pen;
use crate::output::svg::labels::lines;
use crate::output::svg::pen::INK;

/// Along the edge that is bound, mm.
const BOUND: f64 = 20.0;
/// Along the other edges, mm.
const BORDER: f64 = 10.0;
/// From the frame to what is in it, mm.
const WITHIN: f64 = 3.0;
/// Length of a centring mark, from the frame outwards, mm.
const CENTRING: f64 = 5.0;
/// Width of the frame's line, mm.
const FRAME: f64 = 0.7;
/// From the top of the strip to the notes, below the scale bar, mm.
const BAR: f64 = 7.0;
/// Least width of a caption that stands beside the drawing, mm.
const ASIDE: f64 = 48.0;
/// Width that it has where there is room for more, mm.
const WELL_ASIDE: f64 = 90.0;

/// How the positions stand on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Arranged {
    /// In so many columns, each below its caption.
    Columns(usize),
    /// One, with its caption and its table beside it.
    Beside,
}

/// What stands along the foot of a sheet.
pub(super) struct Strip<'a> {
    pub foot: &'a Foot,
    pub key: &'a [Key],
    pub block: &'a Block,
}

impl Strip<'_> {
    /// Room for the bar and the notes, left of the title block.
    fn left(frame: V) -> f64 {
        (frame[0] - WIDE - 6.0).max(0.0)
    }

    fn notes(&self, frame: V) -> Vec<String> {
        let room = Self::left(frame);
        let bar = std::iter::once(&self.foot.bar.2);
        let all = bar.chain(&self.foot.sentences);
        all.flat_map(|text| lines(text, SMALL, room)).collect()
    }

    fn key(&self) -> f64 {
        ink_key(&mut Ink::new(), self.key, [0.0; 2], WIDE)
    }

    /// Height of the strip.
    fn height(&self, frame: V) -> f64 {
        let notes = BAR + SMALL * LEADING * self.notes(frame).len() as f64 + 2.0;
        notes.max(self.key() + HIGH)
    }

    /// Width and height for the positions within a frame.
    fn field(&self, frame: V) -> V {
        [frame[0], frame[1] - self.height(frame)].map(|side| side - 2.0 * WITHIN)
    }
}

fn frame(paper: &Paper) -> V {
    [paper.size[0] - BOUND - BORDER, paper.size[1] - 2.0 * BORDER]
}

/// How the positions fit on a sheet, if they do.
pub(super) fn arranged(panels: &[Panel], strip: &Strip, paper: &Paper) -> Option<Arranged> {
    let field = strip.field(frame(paper));
    let fits = |need: V| need[0] <= field[0] && need[1] <= field[1];
    if let [one] = panels
        && one.ink.size()[1] <= field[1]
        && aside(one, field).is_some()
    {
        return Some(Arranged::Beside);
    }
    let columns = (1..=panels.len().max(1)).rev();
    columns
        .map(Arranged::Columns)
        .find(|way| fits(needed(panels, *way)))
}

/// Width of the caption and the table beside a drawing, where both find room there.
fn aside(panel: &Panel, field: V) -> Option<f64> {
    let room = field[0] - panel.ink.size()[0] - SPACE;
    let table = panel.table.as_ref().map_or([0.0; 2], Ink::size);
    let below = if table[1] > 0.0 {
        table[1] + SPACE
    } else {
        0.0
    };
    let fits = |wide: &f64| panel.caption_height(*wide) + below <= field[1];
    let widths = [WELL_ASIDE.max(table[0]).min(room), room];
    let wide = widths.into_iter().find(fits)?;
    (wide >= table[0].max(ASIDE)).then_some(wide)
}

/// Width and height of the positions in columns.
fn needed(panels: &[Panel], way: Arranged) -> V {
    let Arranged::Columns(columns) = way else {
        return [0.0; 2];
    };
    let (wide, tall) = cells(panels, columns);
    [wide, tall].map(|sides| {
        let gaps = SPACE * sides.len().saturating_sub(1) as f64;
        sides.iter().sum::<f64>() + gaps
    })
}

/// A sheet of no standard size, for what no standard one holds.
pub(super) fn made_to_measure(panels: &[Panel], strip: &Strip) -> (Paper, Arranged) {
    let columns = (panels.len() as f64).sqrt().ceil().max(1.0) as usize;
    let way = Arranged::Columns(columns);
    let [w, h] = needed(panels, way);
    let wide = w.max(WIDE + 80.0) + 2.0 * WITHIN;
    let below = strip.height([wide, 0.0]);
    let size = [
        (wide + BOUND + BORDER).ceil(),
        (h + below + 2.0 * (WITHIN + BORDER)).ceil(),
    ];
    (Paper { name: "", size }, way)
}

/// The sheet.
pub(super) fn on_sheet(panels: Vec<Panel>, strip: &Strip, paper: &Paper, way: Arranged) -> Page {
    let mut ink = Ink::new();
    let [low, high] = [
        [BOUND, BORDER],
        [paper.size[0] - BORDER, paper.size[1] - BORDER],
    ];
    ink_frame(&mut ink, low, high, paper.size);
    let within = frame(paper);
    let top = high[1] - strip.height(within);
    let block = [high[0] - WIDE, high[1] - HIGH];
    ink_key(
        &mut ink,
        strip.key,
        [block[0], block[1] - strip.key()],
        WIDE,
    );
    ink_line(&mut ink, [low[0], top], [high[0], top]);
    ink_line(&mut ink, [block[0], top], block);
    let left = low[0] + 3.0;
    ink_bar(&mut ink, strip.foot, [left, top + 3.0]);
    let mut y = top + BAR;
    for text in strip.notes(within) {
        super::page::text(&mut ink, [left, y + SMALL], text, SMALL, false);
        y += SMALL * LEADING;
    }
    ink_block(&mut ink, strip.block, block);
    let corner = [low[0] + WITHIN, low[1] + WITHIN];
    ink_positions(&mut ink, panels, corner, strip.field(within), way);
    Page {
        ink,
        size: paper.size,
    }
}

fn ink_positions(ink: &mut Ink, panels: Vec<Panel>, corner: V, field: V, way: Arranged) {
    match way {
        Arranged::Beside => {
            for mut panel in panels {
                let [w, h] = panel.ink.size();
                let at = panel.ink.bounds[0];
                let beside = aside(&panel, field).unwrap_or(field[0] - w - SPACE);
                let x = corner[0] + field[0] - beside;
                let y = ink_captions(ink, &panel, [x, corner[1]], beside);
                if let Some(table) = panel.table.take() {
                    let from = table.bounds[0];
                    ink.take(table, [x - from[0], y + SPACE - from[1]]);
                }
                if w > 0.0 {
                    // In the middle of what is left.
                    let left = corner[0] + 0.5 * (field[0] - beside - SPACE - w);
                    let y = corner[1] + 0.5 * (field[1] - h);
                    ink.take(panel.ink, [left - at[0], y - at[1]]);
                }
            }
        }
        Arranged::Columns(columns) => {
            let (wide, tall) = cells(&panels, columns);
            // What the sheet has to spare stands between the positions and round them.
            let need = needed(&panels, way);
            let spare =
                |k: usize, count: usize| (field[k] - need[k]).max(0.0) / count.max(1) as f64;
            let (across, down) = (spare(0, wide.len()), spare(1, tall.len()));
            let mut y = corner[1] + 0.5 * down;
            let mut panels = panels.into_iter();
            for height in &tall {
                let mut x = corner[0] + 0.5 * across;
                for width in &wide {
                    let Some(panel) = panels.next() else { break };
                    ink_panel(ink, panel, [x, y], *width);
                    x += width + SPACE + across;
                }
                y += height + SPACE + down;
            }
        }
    }
}

/// The frame, with a mark in the middle of each side of the sheet.
fn ink_frame(ink: &mut Ink, low: V, high: V, size: V) {
    let thick = pen(INK, FRAME, "");
    let corners = [low, [high[0], low[1]], high, [low[0], high[1]]];
    ink.poly(&corners, true, Fill::None, Some(thick));
    let [x, y] = size.map(|side| 0.5 * side);
    for (at, out) in [
        ([x, low[1]], [0.0, -CENTRING]),
        ([x, high[1]], [0.0, CENTRING]),
        ([low[0], y], [-CENTRING, 0.0]),
        ([high[0], y], [CENTRING, 0.0]),
    ] {
        ink.line(&[at, [at[0] + out[0], at[1] + out[1]]], thick, 0.0);
    }
}
