//! The title block: 180 mm wide, with the fields that ISO 7200 (from memory) asks for and those that a calculated
//! drawing needs. What only the office knows is left blank, to be written in by hand.

use super::ink::{Fill, Ink, V};
use super::page::{SMALL, text};
use super::tool::{LABEL, pen};
use crate::output::svg::labels::{shorten, text_width};
use crate::output::svg::pen::INK;

/// Width of the block, mm.
pub(super) const WIDE: f64 = 180.0;
/// Height of a row of fields, mm.
const ROW: f64 = 8.0;
/// Height of the last row, one line of small text, mm.
const LAST: f64 = 4.6;
/// Height of the block, mm.
pub(super) const HIGH: f64 = 4.0 * ROW + LAST;

/// What is written into the block; a field without words is left blank.
pub(super) struct Block {
    pub title: String,
    pub kind: String,
    pub position: String,
    pub scale: String,
    pub paper: String,
    pub units: String,
    pub sheet: String,
    pub date: String,
    pub file: String,
    pub sha256: String,
    pub version: String,
}

impl Block {
    /// Rows of fields: what each is, its words, its width in mm.
    fn rows(&self) -> [Vec<(&'static str, &str, f64)>; 4] {
        [
            vec![
                ("Title", &self.title, 120.0),
                ("Kind of document", &self.kind, 60.0),
            ],
            vec![
                ("Position", &self.position, 88.0),
                ("Scale", &self.scale, 20.0),
                ("Sheet size", &self.paper, 24.0),
                ("Units", &self.units, 24.0),
                ("Sheet", &self.sheet, 24.0),
            ],
            vec![
                ("Owner", "", 50.0),
                ("Drawing number", "", 40.0),
                ("Revision", "", 20.0),
                ("Date", &self.date, 30.0),
                ("Made by", &self.version, 40.0),
            ],
            vec![
                ("Drawn", "", 40.0),
                ("Checked", "", 40.0),
                ("Approved", "", 40.0),
                ("Tool file", &self.file, 60.0),
            ],
        ]
    }
}

/// A thin line of the foot.
pub(super) fn ink_line(ink: &mut Ink, from: V, to: V) {
    ink.line(&[from, to], pen(INK, 0.25, ""), 0.0);
}

/// The block with its upper left corner at a point.
pub(super) fn ink_block(ink: &mut Ink, block: &Block, at: V) {
    let [left, mut y] = at;
    for (k, row) in block.rows().into_iter().enumerate() {
        let mut x = left;
        for (name, words, wide) in row {
            let corners = [[x, y], [x + wide, y], [x + wide, y + ROW], [x, y + ROW]];
            ink.poly(&corners, true, Fill::None, Some(pen(INK, 0.25, "")));
            text(
                ink,
                [x + 1.0, y + SMALL - 0.1],
                name.to_owned(),
                SMALL,
                false,
            );
            let bold = k == 0 && x == left;
            // Small letters before a cut: what is cut off is not on the sheet.
            let fits = text_width(words, LABEL, bold) <= wide - 2.0;
            let size = if fits { LABEL } else { SMALL };
            let words = shorten(words, size, bold, wide - 2.0);
            text(ink, [x + 1.0, y + 6.9], words, size, bold);
            x += wide;
        }
        y += ROW;
    }
    let sum = format!("SHA-256 of the tool file: {}", block.sha256);
    text(
        ink,
        [left + 1.0, y + 3.4],
        shorten(&sum, SMALL, false, WIDE - 2.0),
        SMALL,
        false,
    );
    ink_line(ink, at, [left, at[1] + HIGH]);
}
