//! The key of a sheet: a sample of each kind of line and sign that is on it, with its name.

use super::forces::{look, out_of_scale};
use super::ink::{Fill, Ink, Line, V};
use super::page::{SMALL, text};
use super::tool::{CENTRE, CLOSED, FAINT, Plate, THIN, pen};
use crate::output::svg::labels::text_width;
use crate::output::svg::pen::INK;
use crate::report::{DrawingReport, DrawnKind};

/// Length of a sample, mm.
const SAMPLE: f64 = 8.0;
/// Height of a row, mm.
const ROW: f64 = 4.4;

/// A sample with its name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Key {
    sample: Sample,
    name: &'static str,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Sample {
    Hatched,
    Line(Line),
    Across(Line),
    Cross,
    Arrow(Line),
    Broken,
    Box,
}

/// What of the signs is on a drawing; `most`: the force of the longest arrow, where there are any.
pub(super) fn key(report: &DrawingReport, most: Option<f64>) -> Vec<Key> {
    let positions = &report.positions;
    let whole = report.part.is_none();
    let shown = |name: &str| report.part.as_ref().is_none_or(|part| part == name);
    let mut parts = positions
        .iter()
        .flat_map(|p| &p.parts)
        .filter(|p| shown(&p.name));
    let fixed = parts.clone().any(|p| p.fixed);
    let marks = parts.any(|p| p.points.iter().any(|q| !q.pin));
    let handles = positions.iter().flat_map(|p| &p.handles);
    let hand = handles.filter(|h| shown(&h.part)).count() > 0;
    let held = pen(INK, 0.5, "");
    let mut keys = vec![
        (fixed, Sample::Hatched, "fixed part"),
        (marks, Sample::Cross, "mark"),
        (hand, Sample::Line(CENTRE), "hand line"),
        (hand, Sample::Across(THIN), "grip"),
        (hand, Sample::Across(held), "grip held"),
        (
            whole && positions.iter().any(|p| !p.earlier.is_empty()),
            Sample::Line(FAINT),
            "earlier positions",
        ),
        (
            whole
                && positions
                    .iter()
                    .flat_map(|p| &p.jaws)
                    .any(|j| j.axis.is_some() && j.closed > 0.0),
            Sample::Box,
            "finished work",
        ),
    ];
    for (kind, name) in [
        (DrawnKind::Hand, "force of the hand"),
        (DrawnKind::Work, "force of the work"),
        (DrawnKind::Pin, "force of a pin"),
        (DrawnKind::Slot, "force of a slot"),
        (DrawnKind::Spring, "force of a spring"),
        (DrawnKind::Bench, "force of the bench"),
    ] {
        let (colour, dash) = look(kind);
        let seen = positions
            .iter()
            .flat_map(|p| &p.forces)
            .any(|f| f.kind == kind);
        keys.push((
            most.is_some() && seen,
            Sample::Arrow(pen(colour, 0.7, dash)),
            name,
        ));
    }
    let mut forces = positions.iter().flat_map(|p| &p.forces);
    let broken = most.is_some_and(|most| forces.any(|f| out_of_scale(f, most, &report.units)));
    keys.push((broken, Sample::Broken, "not to scale"));
    let seen = keys.into_iter().filter(|key| key.0);
    seen.map(|(_, sample, name)| Key { sample, name }).collect()
}

/// The key in rows from a corner on; the height that it takes.
pub(super) fn ink_key(ink: &mut Ink, keys: &[Key], at: V, width: f64) -> f64 {
    let (mut x, mut y) = (at[0] + 3.0, at[1] + 0.3);
    for key in keys {
        let wide = SAMPLE + 1.5 + text_width(key.name, SMALL, false) + 3.0;
        if x + wide > at[0] + width && x > at[0] + 3.0 {
            x = at[0] + 3.0;
            y += ROW;
        }
        sample(ink, key.sample, [x, y + 0.5 * ROW]);
        let from = [x + SAMPLE + 1.5, y + 0.5 * ROW + 0.35 * SMALL];
        text(ink, from, key.name.to_owned(), SMALL, false);
        x += wide;
    }
    if keys.is_empty() {
        0.0
    } else {
        y + ROW - at[1]
    }
}

fn sample(ink: &mut Ink, sample: Sample, at: V) {
    let [x, y] = at;
    let middle = x + 0.5 * SAMPLE;
    let corners = [
        [x, y - 1.6],
        [x + SAMPLE, y - 1.6],
        [x + SAMPLE, y + 1.6],
        [x, y + 1.6],
    ];
    match sample {
        Sample::Hatched => ink.poly(&corners, true, Fill::Hatch, Some(pen(INK, 0.4, ""))),
        Sample::Box => ink.poly(&corners, true, Fill::None, Some(CLOSED)),
        Sample::Line(line) => ink.line(&[[x, y], [x + SAMPLE, y]], line, 0.0),
        Sample::Across(line) => {
            ink.line(&[[x, y], [x + SAMPLE, y]], CENTRE, 0.0);
            ink.line(&[[middle, y - 2.0], [middle, y + 2.0]], line, 0.0);
        }
        Sample::Cross => {
            for rise in [1.1, -1.1] {
                ink.line(
                    &[[middle - 1.1, y - rise], [middle + 1.1, y + rise]],
                    THIN,
                    0.0,
                );
            }
        }
        Sample::Broken => {
            let mut plate = Plate::new(1.0);
            plate
                .ink
                .line(&[[x, y], [x + SAMPLE, y]], pen(INK, 0.7, ""), 0.0);
            plate.break_mark([middle, y], [1.0, 0.0], INK);
            ink.take(plate.ink, [0.0; 2]);
        }
        Sample::Arrow(line) => {
            ink.line(&[[x, y], [x + SAMPLE - 3.0, y]], line, 0.0);
            let head = [
                [x + SAMPLE, y],
                [x + SAMPLE - 3.2, y - 1.0],
                [x + SAMPLE - 3.2, y + 1.0],
            ];
            ink.poly(&head, true, Fill::Colour(line.colour), None);
        }
    }
}
