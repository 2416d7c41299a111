//! Variants of one tool in one picture: a curve for each, at one grip, over the gap.
//!
//! The gap is what variants share: their handles travel differently far. Above: jaw force; below,
//! where there is work: the hand force that it needs.

use super::data::limit_label;
use super::draw::{Canvas, Drawn};
use super::layout::{Frame, labels_width, right_edge};
use super::line::Line;
use super::page::{Chart, ChartPage};
use super::panel::{Panel, Shows};
use super::words::cut_note;
use crate::output::sentences::way::{hand_title, jaw_title};
use crate::output::text::{clean, figures, grip as grip_text};
use crate::output::{error::OutputError, finite::check_finite};
use crate::report::{JawForces, StrokeReport};

/// Most curves of one picture; more could not be told apart.
pub const MOST_CURVES: usize = 12;

/// Pixels across a picture.
pub(super) const WIDTH: f64 = 760.0;

/// A variant: what its curve is called, and its stroke.
#[derive(Debug, Clone, PartialEq)]
pub struct VariantStroke {
    /// The values of its dimensions.
    pub label: String,
    /// Its stroke.
    pub report: StrokeReport,
}

/// The curves of variants of one tool at the grip with this index, as one SVG document.
/// `varied`: which dimensions differ, with their unit. `count`: how many variants there are, of
/// which at most [`MOST_CURVES`] are given.
///
/// # Errors
/// When a number is not finite, or there is nothing to draw.
pub(super) fn variant_curves(
    variants: &[VariantStroke],
    varied: &str,
    count: usize,
    grip: usize,
    id: &str,
) -> Result<Chart, OutputError> {
    for variant in variants {
        check_finite(&variant.report)?;
    }
    let first = variants.first().ok_or(OutputError::NothingToDraw)?;
    let (report, jaw) = match first.report.jaws.first() {
        Some(jaw) => (&first.report, jaw.as_str()),
        None => return Err(OutputError::NothingToDraw),
    };
    let axis = GapAxis::of(variants, jaw).ok_or(OutputError::NothingToDraw)?;
    let panels = panels(variants, grip, jaw, &axis);
    let name = clean(&report.tool);
    let at = report.grips.get(grip).copied().unwrap_or_default();
    let held = format!("grip {}, jaw {}", grip_text(at, &report.units), clean(jaw));
    let shown = if variants.len() < count {
        format!(", {} of {count} variants", variants.len())
    } else {
        String::new()
    };
    let varied = format!("one curve for each {}{shown}", clean(varied));
    let page = ChartPage {
        width: WIDTH,
        right: right_edge(labels_width(&panels), WIDTH),
        id,
        title: &format!("Variants: {name}"),
        description: &about(&panels, &held, &varied),
        name: &name,
        subtitles: &[format!("{}: {held}", clean(&report.file)), varied],
        panels: &panels,
        heights: &[270.0],
        end: axis.open - axis.shut,
        turnings: &[],
        notes: &notes(report, &panels),
    };
    page.draw(|canvas, last| axis.draw(canvas, report, last))
}

/// The gap as the axis across the stroke: wide open on the left.
struct GapAxis {
    open: f64,
    shut: f64,
}

impl GapAxis {
    fn of(variants: &[VariantStroke], jaw: &str) -> Option<Self> {
        let gaps = || {
            let positions = variants.iter().flat_map(|v| &v.report.positions);
            positions.filter_map(|p| p.gap(jaw))
        };
        let (open, shut) = (gaps().reduce(f64::max)?, gaps().reduce(f64::min)?);
        (open > shut).then_some(Self { open, shut })
    }

    fn draw(&self, canvas: &Canvas<'_, '_>, report: &StrokeReport, frame: &Frame) -> Drawn {
        let name = format!("gap, {}", report.units.length);
        canvas
            .values(frame, &name, [self.open, self.shut])
            .map(drop)?;
        canvas.ends(frame, frame.bottom + 38.0)
    }
}

fn panels(variants: &[VariantStroke], grip: usize, jaw: &str, axis: &GapAxis) -> Vec<Panel> {
    let Some(report) = variants.first().map(|v| &v.report) else {
        return Vec::new();
    };
    let curves = |value: fn(&JawForces) -> Option<f64>| -> Vec<Line> {
        let line = |(k, variant): (usize, &VariantStroke)| {
            let points = variant.report.positions.iter().filter_map(|p| {
                let forces = p.forces(grip, jaw);
                Some((axis.open - p.gap(jaw)?, forces.and_then(value)))
            });
            Line::curve(variant.label.clone(), k, points.collect())
        };
        variants.iter().enumerate().map(line).collect()
    };
    let force = report.units.force;
    let mut lines = curves(|f| f.jaw_force);
    let mut most = 0.0_f64;
    if let Some(work) = &report.work {
        let gaps = report.positions.iter().filter_map(|p| p.gap(jaw));
        let points = gaps.zip(&work.needed);
        let points = points.map(|(gap, needed)| (axis.open - gap, Some(*needed)));
        most = work.needed.iter().fold(0.0, |m, v| m.max(*v));
        lines.insert(0, Line::work(points.collect()));
    }
    let shows = (Shows::JawForce, force);
    let mut out = vec![Panel::new(jaw_title(report), shows, lines, most)];
    if report.work.is_some() {
        let mut lines = curves(|f| f.hand_force);
        let limit = common_limit(report);
        if let Some(most) = limit {
            let points = vec![(0.0, limit), (axis.open - axis.shut, limit)];
            lines.insert(0, Line::limit(limit_label(most, report), points));
        }
        out.push(Panel::new(
            hand_title(report, force),
            (Shows::HandForce, force),
            lines,
            limit.unwrap_or(0.0),
        ));
    }
    out
}

/// The hand's limit, where it is the same everywhere.
fn common_limit(report: &StrokeReport) -> Option<f64> {
    let mut all = report.limit.as_ref()?.hand_force.iter().flatten();
    let first = (*all.next()?)?;
    all.all(|v| *v == Some(first)).then_some(first)
}

/// What a reader of the picture must know, one sentence each.
fn notes(report: &StrokeReport, panels: &[Panel]) -> Vec<String> {
    let mut out: Vec<String> = panels.iter().filter_map(cut_note).collect();
    if report.work.is_some() && report.limit.is_some() && common_limit(report).is_none() {
        out.push("The hand's limit differs along the stroke and is not drawn.".to_owned());
    }
    out
}

/// What the picture shows, for readers that cannot see it.
fn about(panels: &[Panel], held: &str, varied: &str) -> String {
    let mut out = vec![format!("Curves over the gap, {held}; {varied}.")];
    for panel in panels {
        out.push(format!("{}.", panel.title));
        for line in &panel.lines {
            let last = line.points.iter().rev().find_map(|(_, y)| *y);
            out.push(match last {
                Some(last) => format!("{}: {} {} at shut.", line.label, figures(last), panel.unit),
                None => format!("{}: no values.", line.label),
            });
        }
    }
    out.join(" ")
}
