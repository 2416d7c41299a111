//! What the first printed page has room for: below the answer and the chart beside it stands the drawing, if it is low
//! enough.

use super::first::Line;

/// Pixels across the first chart, whose smallest letters are then 7 pt on a printed page.
pub(super) const FIRST: f64 = 432.0;
/// What it has there, mm.
const COLUMN: f64 = 100.0;

/// Between the margins of a Letter page, which is the lower one, mm.
const PAGE: f64 = 255.0;
/// Title, date, note and the heading of the drawing, mm.
const HEADINGS: f64 = 34.0;
/// Letters in a line of the answer, and from one to the next, mm.
const LETTERS: usize = 50;
const LINE: f64 = 3.75;
/// Lines of the file with its check sum.
const FILE: usize = 3;
/// The lines to sign, mm.
const SIGN_OFF: f64 = 24.0;
/// A drawing is lower than this at no scale that shows much, and need not be higher than this, mm.
const DRAWING: [f64; 2] = [80.0, 110.0];

/// The most height that a drawing may have there, mm; `chart`: height of the chart beside the answer, px.
pub(super) fn room_for_drawing(answer: &[Line], chart: f64) -> f64 {
    let letters = |line: &Line| {
        line.spans
            .iter()
            .map(|span| span.text.chars().count())
            .sum()
    };
    let lines = |line: &Line| usize::div_ceil(letters(line), LETTERS);
    let lines = answer.iter().map(lines).sum::<usize>() + FILE;
    let beside = (chart * COLUMN / FIRST).max(LINE * lines as f64 + SIGN_OFF);
    (PAGE - HEADINGS - beside).clamp(DRAWING[0], DRAWING[1])
}
