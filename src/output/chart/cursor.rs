//! The force curves with all that a page needs to move a line across them.

use super::curves::{ChartOptions, Plotted, plotted};
use super::line::{Kind, Line};
use crate::output::error::OutputError;
use crate::report::StrokeReport;

/// The chart, and where a cursor stands in it; all lengths in the units of its viewBox.
pub(in crate::output) struct CursorChart {
    pub(in crate::output) svg: String,
    /// Upper end and lower end of the line through all panels.
    pub(in crate::output) ends: [f64; 2],
    /// For each position of the stroke, where the line stands.
    pub(in crate::output) places: Vec<f64>,
    /// The curves that have a dot.
    pub(in crate::output) dots: Vec<Dots>,
}

/// The dots of one curve.
pub(in crate::output) struct Dots {
    pub(in crate::output) colour: &'static str,
    /// For each position, how far down; `None` where the curve has no value, or the axis does not show it.
    pub(in crate::output) heights: Vec<Option<f64>>,
}

/// The force curves in low plots and without notes, which stand below the chart that is printed.
///
/// # Errors
/// As `force_curves`.
pub(in crate::output) fn cursor_chart(
    report: &StrokeReport,
    options: &ChartOptions,
) -> Result<CursorChart, OutputError> {
    let Plotted {
        chart,
        axis,
        panels,
    } = plotted(report, options, false)?;
    let (Some(first), Some(last)) = (chart.frames.first(), chart.frames.last()) else {
        return Err(OutputError::NothingToDraw);
    };
    let across = |value: &f64| first.left + (first.right - first.left) * value / axis.end;
    let mut dots = Vec::new();
    for (panel, frame) in panels.iter().zip(&chart.frames) {
        let down = |value: f64| {
            let share = (value - panel.low) / (panel.high - panel.low);
            let seen = (0.0..=1.0).contains(&share);
            seen.then_some(frame.bottom - share * (frame.bottom - frame.top))
        };
        for line in panel.lines.iter().filter(|line| line.kind != Kind::Limit) {
            let places = axis.values.iter();
            dots.push(Dots {
                colour: line.pen.colour,
                heights: places.map(|at| solved(line, *at).and_then(down)).collect(),
            });
        }
    }
    Ok(CursorChart {
        svg: chart.svg,
        ends: [first.top, last.bottom],
        places: axis.values.iter().map(across).collect(),
        dots,
    })
}

/// The value that the curve has at a position itself, never one between two; the greater one where it jumps there.
fn solved(line: &Line, at: f64) -> Option<f64> {
    let here = line.points.iter().filter(|(x, _)| *x == at);
    here.filter_map(|(_, value)| *value).reduce(f64::max)
}
