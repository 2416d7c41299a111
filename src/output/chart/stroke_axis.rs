//! What stands below the plots of a stroke: round gaps, the handle's travel, and which end is which.

use super::axis::StrokeAxis;
use super::draw::{Canvas, Drawn};
use super::gaps::GapTick;
use super::layout::{Frame, SMALL};
use super::palette::AXIS;
use super::ticks::Ticks;
use crate::output::sentences::way::opens;
use crate::output::svg::pen::INK;
use crate::output::svg::shapes::Anchor;
use crate::report::StrokeReport;

/// From the lower edge of the plot to the axis of the travel, pixels.
const TRAVEL: f64 = 28.0;
/// From an axis to its numbers.
const NUMBERS: f64 = 19.0;
/// From the lower edge of the plot to the end of all that stands below it.
pub(super) const FOOT: f64 = 98.0;

/// Draws the axes below the last panel.
pub(super) fn stroke_axis(
    canvas: &Canvas<'_, '_>,
    report: &StrokeReport,
    (axis, gaps): (&StrokeAxis, &[GapTick]),
    frame: &Frame,
) -> Drawn {
    let room = frame.right - frame.left;
    let x = |place: f64| frame.left + room * place / axis.end;
    let mark = |place: f64, y: f64| canvas.rule((x(place), y), (x(place), y + 5.0), AXIS, 1.0);
    let number = |place: f64, y: f64, text: &str| {
        canvas.words(
            (x(place), y + NUMBERS),
            text,
            SMALL,
            false,
            INK,
            Anchor::Middle,
        )
    };
    let unit = report.units.length;
    canvas.row_name(frame, frame.bottom + NUMBERS, &format!("gap, {unit}"))?;
    for gap in gaps {
        mark(gap.place, frame.bottom)?;
        number(gap.place, frame.bottom, &gap.label)?;
    }
    let level = frame.bottom + TRAVEL;
    canvas.rule((frame.left, level), (frame.right, level), AXIS, 1.0)?;
    canvas.row_name(frame, level + NUMBERS, axis.name())?;
    let (ticks, places) = axis.ticks(room);
    for place in places {
        mark(place, level)?;
        // Beside the end, which matters most, a mark goes without its number.
        if place == axis.end || (axis.end - place) / axis.end * room > 54.0 {
            number(place, level, &end_or_tick(&ticks, place, axis.end))?;
        }
    }
    let row = level + 2.0 * NUMBERS;
    if opens(report) {
        let middle = 0.5 * (frame.left + frame.right);
        let way = "\u{2190} opening";
        canvas.words((middle, row), way, SMALL, true, INK, Anchor::Middle)?;
    }
    canvas.ends(frame, row)
}

/// The number at a mark; the end of the stroke seldom falls on a step and gets a decimal more.
fn end_or_tick(ticks: &Ticks, place: f64, end: f64) -> String {
    let on_step = (place / ticks.step - (place / ticks.step).round()).abs() < 1e-6;
    if place == end && !on_step {
        crate::output::text::fixed(place, ticks.decimals + 1)
    } else {
        ticks.text(place)
    }
}
