//! The force curves across the stroke as a picture for a design review.
//!
//! Above: jaw force at the stated hand force, one curve for each grip, with the force that the work
//! needs as a heavy line. Below, where there is work: the hand force it needs, with the hand's
//! limit and the places where the work stops the tool.

use plotters::prelude::IntoDrawingArea;

use super::chart_axis::StrokeAxis;
use super::chart_data::{Panel, panels};
use super::chart_draw::{Canvas, Frame};
use super::chart_words::{description, notes, subtitle};
use super::labels::{lines, text_width};
use super::palette::{GREY, INK};
use super::svg_backend::{self, SvgBackend};
use super::svg_shapes::Anchor;
use super::text::clean;
use super::{OutputError, finite::check_finite};
use crate::report::StrokeReport;

/// How the picture is laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct ChartOptions {
    /// Pixels across; the height follows from what is shown. At least 480.
    pub width: f64,
    /// Start of the ids in the file, for pages that hold several charts.
    pub id: String,
    /// The force axes of the first and second panel reach at least this far: for charts that are
    /// to be held against each other.
    pub tops: [f64; 2],
}

impl Default for ChartOptions {
    fn default() -> Self {
        Self {
            width: 960.0,
            id: "chart".to_owned(),
            tops: [0.0; 2],
        }
    }
}

/// Left of the plot: numbers of the axis, and the names of the rows below it.
const LEFT: f64 = 108.0;
/// From the plot to the text of an end label: leader and sample of the line.
pub(super) const LEADER: f64 = 50.0;
/// Between neighbouring end labels.
pub(super) const LABEL_STEP: f64 = 16.0;
/// Font size of labels and axis numbers.
pub(super) const SMALL: f64 = 12.0;
const EDGE: f64 = 16.0;
const NOTE_STEP: f64 = 15.0;

/// The force curves as one SVG document.
///
/// # Errors
/// When a number of the report is not finite, or there are no positions or no jaw to draw.
pub fn force_curves(report: &StrokeReport, options: &ChartOptions) -> Result<String, OutputError> {
    check_finite(report)?;
    let axis = StrokeAxis::of(report);
    let mut panels = panels(report, &axis);
    for (panel, top) in panels.iter_mut().zip(options.tops) {
        panel.raise(top);
    }
    if report.positions.is_empty() || panels.is_empty() {
        return Err(OutputError::NothingToDraw);
    }
    let width = if options.width.is_finite() {
        options.width.clamp(480.0, 10_000.0)
    } else {
        960.0
    };
    let right = width - label_room(&panels, width);
    let turnings = super::chart_draw::turnings(report, &axis, LEFT, right);
    let rows = turnings.iter().map(|t| t.row + 1).max().unwrap_or(0);

    let mut y = 72.0;
    let mut frames = Vec::new();
    for (index, panel) in panels.iter().enumerate() {
        let title = y;
        let strip = if index == 0 { 14.0 * rows as f64 } else { 0.0 };
        let top = title + 14.0 + strip + if strip > 0.0 { 4.0 } else { 0.0 };
        let least = match (panels.len(), index) {
            (1, _) => 380.0,
            (_, 0) => 320.0,
            _ => 210.0,
        };
        let bottom = top + f64::max(least, LABEL_STEP * (panel.lines.len() + 1) as f64);
        frames.push(Frame {
            left: LEFT,
            right,
            top,
            bottom,
            title,
        });
        y = bottom + 36.0;
    }
    let plots_end = frames.last().map_or(y, |f| f.bottom);
    let note_lines: Vec<String> = (notes(report, &panels).iter())
        .flat_map(|note| lines(note, 11.0, width - 2.0 * EDGE))
        .collect();
    let notes_start = plots_end + 72.0;
    let height = (notes_start + NOTE_STEP * note_lines.len() as f64).ceil();

    let title = format!("Force curves: {}", clean(&report.tool));
    let about = description(report, &panels);
    let mut out = svg_backend::open(width, height, &options.id, &title, &about);
    let root = SvgBackend::new(&mut out, width, height).into_drawing_area();
    let canvas = Canvas::new(&root);
    let drawn = (|| {
        canvas.short(
            EDGE,
            28.0,
            &clean(&report.tool),
            18.0,
            true,
            INK,
            width - 2.0 * EDGE,
        )?;
        canvas.short(
            EDGE,
            48.0,
            &subtitle(report),
            SMALL,
            false,
            GREY,
            width - 2.0 * EDGE,
        )?;
        for (panel, frame) in panels.iter().zip(&frames) {
            canvas.panel(panel, frame, &axis, &turnings)?;
        }
        if let (Some(first), Some(last)) = (frames.first(), frames.last()) {
            canvas.turning_labels(&turnings, first)?;
            canvas.stroke_axis(report, &axis, last)?;
        }
        for (index, line) in note_lines.iter().enumerate() {
            let y = notes_start + NOTE_STEP * index as f64;
            canvas.words((EDGE, y), line, 11.0, false, GREY, Anchor::Start)?;
        }
        root.present()
    })();
    drop(root);
    drawn.map_err(|e| OutputError::Writer(e.to_string()))?;
    out.push_str(svg_backend::CLOSE);
    Ok(out)
}

/// How far the force axes of the panels reach, see [`ChartOptions::tops`].
pub(super) fn axis_tops(report: &StrokeReport) -> [f64; 2] {
    let panels = panels(report, &StrokeAxis::of(report));
    [0, 1].map(|k| panels.get(k).map_or(0.0, |panel| panel.high))
}

/// Right of the plot: the end labels, at most two fifths of the page.
fn label_room(panels: &[Panel], width: f64) -> f64 {
    let widest = (panels.iter().flat_map(|p| &p.lines))
        .map(|line| text_width(&line.label, SMALL, line.class != "curve"))
        .fold(0.0, f64::max);
    (LEADER + widest + EDGE).min(0.4 * width)
}
