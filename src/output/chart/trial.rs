//! A trial as a chart: readings on the predicted and the fitted curves, over the gap.

use super::compare::side_by_side;
use super::layout::{Names, labels_width, right_edge};
use super::line::Line;
use super::page::{Chart, ChartPage, FOOT};
use super::panel::{Measured, Panel, Shows};
use super::variants::WIDTH;
use crate::output::svg::pen::INK;
use crate::output::text::{clean, figures, grip};
use crate::output::{error::OutputError, finite::check_finite};
use crate::report::{TrialCurve, TrialReport};

/// A picture for each grip, direction and hand force, as one SVG page.
///
/// # Errors
/// When a number is not finite, or there is nothing to draw.
pub fn trial_chart(report: &TrialReport) -> Result<String, OutputError> {
    check_finite(report)?;
    let mut pictures = Vec::new();
    for (k, curve) in report.curves.iter().enumerate() {
        pictures.push(picture(report, curve, &format!("trial{}", k + 1))?);
    }
    side_by_side(&format!("Trial of {}", clean(&report.tool)), &pictures, &[])
}

/// The same pictures one by one; `id`: start of the ids in them. None that cannot be drawn.
pub(in crate::output) fn trial_panels(report: &TrialReport, id: &str) -> Vec<String> {
    let pictures = report.curves.iter().enumerate();
    let drawn = pictures.filter_map(|(k, curve)| {
        let picture = picture(report, curve, &format!("{id}-{}", k + 1)).ok()?;
        side_by_side(
            &format!("Trial of {}", clean(&report.tool)),
            &[picture],
            &[],
        )
        .ok()
    });
    drawn.collect()
}

fn picture(report: &TrialReport, curve: &TrialCurve, id: &str) -> Result<Chart, OutputError> {
    let all = || {
        curve
            .predicted
            .iter()
            .chain(&curve.fitted)
            .chain(&curve.readings)
    };
    let open = all()
        .map(|p| p[0])
        .reduce(f64::max)
        .ok_or(OutputError::NothingToDraw)?;
    let shut = all().map(|p| p[0]).fold(open, f64::min);
    if !(open > shut) {
        return Err(OutputError::NothingToDraw);
    }
    let points = |of: &[[f64; 2]]| {
        of.iter()
            .map(|[gap, force]| (open - gap, Some(*force)))
            .collect()
    };
    let predicted = Line::curve("predicted".to_owned(), 0, points(&curve.predicted));
    let fitted = Line::curve("fits best".to_owned(), 1, points(&curve.fitted));
    let most = curve.readings.iter().map(|p| p[1]).fold(0.0, f64::max);
    let title = format!(
        "Jaw force, {}, at {} {} hand force",
        report.units.force,
        figures(curve.hand_force),
        report.units.force
    );
    let edge = |side: usize, name: &str| {
        let edges = curve.band.iter();
        let edges = edges.map(|at| (open - at[0], Some(at[side]))).collect();
        Line::curve(name.to_owned(), 2, edges)
    };
    let mut lines = vec![predicted, fitted];
    if curve.band.len() > 1 {
        lines.extend([edge(2, "most, as made"), edge(1, "least, as made")]);
    }
    let mut panel = Panel::new(title, (Shows::JawForce, report.units.force), lines, most);
    panel.measured = (curve.readings.iter())
        .map(|[gap, force]| Measured {
            at: (open - gap, *force),
            colour: INK,
        })
        .collect();
    let panels = [panel];
    let held = format!(
        "{}, grip {}: {} readings of {}",
        curve.direction,
        grip(curve.grip, &report.units),
        curve.readings.len(),
        clean(&report.data)
    );
    let page = ChartPage {
        names: Names::Beside,
        width: WIDTH,
        right: right_edge(labels_width(&panels), WIDTH),
        id,
        title: &format!("Trial of {}", clean(&report.tool)),
        description: &format!(
            "{held}; curves as predicted and as they fit best, readings as marks."
        ),
        name: &clean(&report.tool),
        subtitles: std::slice::from_ref(&held),
        panels: &panels,
        heights: &[270.0],
        end: open - shut,
        upright: &[],
        foot: FOOT,
        turnings: &[],
        notes: &[],
    };
    let gap = format!("gap, {}", report.units.length);
    page.draw(|canvas, last| canvas.values(last, &gap, [open, shut]).map(drop))
}
