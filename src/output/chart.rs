//! The force curves across the stroke as a picture for a design review.
//!
//! Above: jaw force at the stated hand force, one curve for each grip, with the force that the work
//! needs as a heavy line. Below, where there is work: the hand force it needs, with the hand's
//! limit and the places where the work stops the tool.

use super::chart_axis::StrokeAxis;
use super::chart_data::panels;
use super::chart_draw::turnings;
use super::chart_page::{Chart, ChartPage, LEFT, right_edge};
use super::chart_words::{description, notes, subtitle};
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
            width: WIDTH,
            id: "chart".to_owned(),
            tops: [0.0; 2],
        }
    }
}

/// Pixels across a page whose width is no number.
const WIDTH: f64 = 960.0;

/// The force curves as one SVG document.
///
/// # Errors
/// When a number of the report is not finite, or there are no positions or no jaw to draw.
pub fn force_curves(report: &StrokeReport, options: &ChartOptions) -> Result<String, OutputError> {
    force_chart(report, options).map(|chart| chart.svg)
}

/// As [`force_curves`], with the height that came out.
pub(super) fn force_chart(
    report: &StrokeReport,
    options: &ChartOptions,
) -> Result<Chart, OutputError> {
    check_finite(report)?;
    let axis = StrokeAxis::of(report);
    let mut panels = panels(report, &axis);
    for (panel, top) in panels.iter_mut().zip(options.tops) {
        panel.raise(top);
    }
    if report.positions.is_empty() {
        return Err(OutputError::NothingToDraw);
    }
    let width = if options.width.is_finite() {
        options.width.clamp(480.0, 10_000.0)
    } else {
        WIDTH
    };
    let heights: &[f64] = match panels.len() {
        1 => &[380.0],
        _ => &[320.0, 210.0],
    };
    let page = ChartPage {
        width,
        id: &options.id,
        title: &format!("Force curves: {}", clean(&report.tool)),
        description: &description(report, &panels),
        name: &clean(&report.tool),
        subtitles: &[subtitle(report)],
        heights,
        end: axis.end,
        turnings: &turnings(report, &axis, LEFT, right_edge(&panels, width)),
        notes: &notes(report, &panels),
        panels: &panels,
    };
    page.draw(|canvas, last| canvas.stroke_axis(report, &axis, last))
}

/// How far the force axes of charts must reach to be held against each other, see
/// [`ChartOptions::tops`].
pub(super) fn axis_tops<'a>(reports: impl IntoIterator<Item = &'a StrokeReport>) -> [f64; 2] {
    let mut tops = [0.0; 2];
    for report in reports {
        let panels = panels(report, &StrokeAxis::of(report));
        for (top, panel) in tops.iter_mut().zip(&panels) {
            *top = f64::max(*top, panel.high);
        }
    }
    tops
}
