//! The force curves across the stroke as a picture for a design review.
//!
//! Above: jaw force at the stated hand force, one curve for each grip, with the force that the work
//! needs as a heavy line. Below, where there is work: the hand force it needs, with the hand's
//! limit and the places where the work stops the tool.

use super::axis::StrokeAxis;
use super::data::panels;
use super::gaps::gap_ticks;
use super::layout::{EDGE, LEFT, Names, SMALL, labels_width, right_edge};
use super::page::{Chart, ChartPage};
use super::panel::{Panel, Shows};
use super::stroke_axis::{FOOT, stroke_axis};
use super::ticks::Ticks;
use super::turnings::turnings;
use super::words::{description, notes, subtitle};
use crate::output::svg::labels::lines;
use crate::output::text::clean;
use crate::output::{error::OutputError, finite::check_finite};
use crate::report::StrokeReport;

/// How the picture is laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct ChartOptions {
    /// Pixels across; the height follows from what is shown. At least 480, or 320 where it is narrow.
    pub width: f64,
    /// Start of the ids in the file, for pages that hold several charts.
    pub id: String,
    /// What it has in common with charts that it is to be held against.
    pub shared: Shared,
    /// What place it is made for.
    pub form: Form,
}

/// What place a chart is made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Form {
    /// A page of its own.
    #[default]
    Large,
    /// Beside text: in lower plots.
    Low,
    /// A narrow screen: the names of the lines above the plots, so that letters need not shrink.
    Narrow,
    /// Beside text that names the tool, on half a printed page: as narrow, and in low plots.
    Beside,
}

/// What charts have in common that are to be held against each other: one axis for each quantity in
/// one unit, and plots of one width.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Shared {
    /// Quantity, unit, least and greatest value of the axis.
    axes: Vec<(Shows, &'static str, [f64; 2])>,
    /// Room for the names of the lines, pixels.
    labels: f64,
}

impl Shared {
    /// What the charts of these strokes have in common.
    pub(in crate::output) fn of<'a>(reports: impl IntoIterator<Item = &'a StrokeReport>) -> Self {
        let mut shared = Self::default();
        for report in reports {
            let panels = panels(report, &StrokeAxis::of(report));
            shared.labels = shared.labels.max(labels_width(&panels));
            for panel in &panels {
                let reach = [panel.low, panel.high];
                match shared.axes.iter_mut().find(|a| is_of(panel, a)) {
                    Some((.., axis)) => *axis = [axis[0].min(reach[0]), axis[1].max(reach[1])],
                    None => shared.axes.push((panel.shows, panel.unit, reach)),
                }
            }
        }
        shared
    }

    /// Takes the axis of a panel as far as that of its quantity goes.
    fn widen(&self, panel: &mut Panel) {
        if let Some((.., [low, high])) = self.axes.iter().find(|a| is_of(panel, a)) {
            (panel.low, panel.high) = (panel.low.min(*low), panel.high.max(*high));
            panel.ticks = Ticks::over(panel.low, panel.high, 5);
        }
    }
}

/// Whether an axis is that of the panel's quantity, in its unit.
fn is_of(panel: &Panel, (shows, unit, _): &(Shows, &'static str, [f64; 2])) -> bool {
    panel.shows == *shows && panel.unit == *unit
}

impl Default for ChartOptions {
    fn default() -> Self {
        Self {
            width: WIDTH,
            id: "chart".to_owned(),
            shared: Shared::default(),
            form: Form::Large,
        }
    }
}

/// Right of a plot with no names beside it: half the word below its end.
const HALF_WORD: f64 = 24.0;
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
pub(in crate::output) fn force_chart(
    report: &StrokeReport,
    options: &ChartOptions,
) -> Result<Chart, OutputError> {
    plotted(report, options, true).map(|plotted| plotted.chart)
}

/// A chart with what is drawn in it.
pub(super) struct Plotted {
    pub(super) chart: Chart,
    pub(super) axis: StrokeAxis,
    pub(super) panels: Vec<Panel>,
}

/// The chart; without its notes and in low plots where it is not `whole`.
pub(super) fn plotted(
    report: &StrokeReport,
    options: &ChartOptions,
    whole: bool,
) -> Result<Plotted, OutputError> {
    check_finite(report)?;
    let axis = StrokeAxis::of(report);
    let mut panels = panels(report, &axis);
    for panel in &mut panels {
        options.shared.widen(panel);
    }
    if report.positions.is_empty() {
        return Err(OutputError::NothingToDraw);
    }
    let (names, least) = match options.form {
        Form::Narrow | Form::Beside => (Names::Above, 320.0),
        Form::Large | Form::Low => (Names::Beside, 480.0),
    };
    let width = if options.width.is_finite() {
        options.width.clamp(least, 10_000.0)
    } else {
        WIDTH
    };
    let heights: &[f64] = match (panels.len(), whole, options.form) {
        (1, true, Form::Large) => &[380.0],
        (1, _, Form::Narrow) => &[240.0],
        (_, true, Form::Beside) => &[110.0, 85.0],
        (1, _, _) => &[300.0],
        (_, true, Form::Large) => &[320.0, 210.0],
        (_, true, _) => &[200.0, 130.0],
        (_, false, _) => &[150.0, 130.0],
    };
    let notes = match whole {
        true => notes(report, &panels),
        false => Vec::new(),
    };
    let right = match names {
        Names::Beside => right_edge(labels_width(&panels).max(options.shared.labels), width),
        Names::Above => width - HALF_WORD,
    };
    let gaps = gap_ticks(report, &axis, right - LEFT);
    let upright: Vec<f64> = gaps.iter().map(|gap| gap.place).collect();
    let page = ChartPage {
        width,
        right,
        names,
        id: &options.id,
        title: &format!("Force curves: {}", clean(&report.tool)),
        description: &description(report, &panels),
        name: &match options.form {
            Form::Beside => String::new(),
            _ => clean(&report.tool),
        },
        subtitles: &match names {
            Names::Beside => vec![subtitle(report)],
            Names::Above => lines(&subtitle(report), SMALL, width - 2.0 * EDGE),
        },
        heights,
        end: axis.end,
        upright: &upright,
        foot: match options.form {
            Form::Beside => FOOT - 14.0,
            _ => FOOT,
        },
        turnings: &turnings(report, &axis, LEFT, right),
        notes: &notes,
        panels: &panels,
    };
    let chart = page.draw(|canvas, last| stroke_axis(canvas, report, (&axis, &gaps), last))?;
    Ok(Plotted {
        chart,
        axis,
        panels,
    })
}
