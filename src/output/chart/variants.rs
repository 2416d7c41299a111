//! Variants of one tool, or several tools, in one picture: a curve for each, at one grip, over the gap.
//!
//! The gap is what variants share: their handles travel differently far. Above: jaw force; below,
//! where there is work: the hand force that it needs.

use super::corners::{self, corners, into_hand};
use super::data::{limit_label, peak_or_stall};
use super::draw::{Canvas, Drawn};
use super::layout::{Frame, Names, labels_width, right_edge};
use super::line::{Line, value_at};
use super::page::{Chart, ChartPage, FOOT};
use super::palette;
use super::panel::{Panel, Shows};
use super::words::cut_note;
use crate::output::sentences::way::{hand_title, jaw_title, opens};
use crate::output::svg::pen::Pen;
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

/// The curves of variants of one tool at the grip with this index, as one SVG document. `count`: how many variants
/// there are, of which at most [`MOST_CURVES`] are given. `varied`: which dimensions differ, with their unit, and
/// which variants have no curve.
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
    let all = variants.iter().enumerate();
    let curves: Vec<OverGap<'_>> = all
        .filter_map(|(k, v)| OverGap::of(v, grip, palette::ordered(k, variants.len(), k)))
        .collect();
    let first = curves.first().ok_or(OutputError::NothingToDraw)?;
    let report = first.report;
    let name = clean(&report.tool);
    let held = format!("{}, jaw {}", held(report, grip), clean(first.jaw));
    let shown = if variants.len() < count {
        format!("{} of {count} variants, ", variants.len())
    } else {
        String::new()
    };
    let heading = Heading {
        title: format!("Variants: {name}"),
        held: held.clone(),
        subtitles: [
            format!("{}: {held}", clean(&report.file)),
            format!("{shown}one curve for each {}", clean(varied)),
        ],
        name,
    };
    over_gap(&curves, &heading, id)
}

/// The curves of several tools at a grip that all of them have, as one SVG document.
///
/// # Errors
/// As [`variant_curves`].
pub(super) fn tool_curves(
    tools: &[VariantStroke],
    at: f64,
    id: &str,
) -> Result<Chart, OutputError> {
    let of = |(k, v): (usize, _)| OverGap::of(v, grip_at(&v.report, at)?, palette::curve(k));
    let curves: Vec<OverGap<'_>> = tools.iter().enumerate().filter_map(of).collect();
    let first = curves.first().ok_or(OutputError::NothingToDraw)?;
    let grip = format!("grip {}", grip_text(at, &first.report.units));
    let heading = Heading {
        title: format!("Tools at the same gap, {grip}"),
        name: format!("At the same gap: {grip}"),
        held: grip,
        subtitles: ["one curve for each tool".to_owned(), String::new()],
    };
    over_gap(&curves, &heading, id)
}

/// The grips that all tools have, by their places along the hand line.
pub(super) fn common_grips(tools: &[VariantStroke]) -> Vec<f64> {
    let Some((first, others)) = tools.split_first() else {
        return Vec::new();
    };
    let everywhere = |at: &f64| others.iter().all(|v| grip_at(&v.report, *at).is_some());
    first
        .report
        .grips
        .iter()
        .copied()
        .filter(everywhere)
        .collect()
}

fn grip_at(report: &StrokeReport, at: f64) -> Option<usize> {
    let same = |grip: &f64| (grip - at).abs() <= 1e-9 * at.abs().max(1.0);
    report.grips.iter().position(same)
}

fn held(report: &StrokeReport, grip: usize) -> String {
    let at = report.grips.get(grip).copied().unwrap_or_default();
    format!("grip {}", grip_text(at, &report.units))
}

/// What stands above the plots.
struct Heading {
    title: String,
    name: String,
    /// Grip and jaw.
    held: String,
    subtitles: [String; 2],
}

fn over_gap(curves: &[OverGap<'_>], heading: &Heading, id: &str) -> Result<Chart, OutputError> {
    for curve in curves {
        check_finite(curve.report)?;
    }
    let axis = GapAxis::of(curves).ok_or(OutputError::NothingToDraw)?;
    let panels = panels(curves, &axis);
    let report = curves.first().ok_or(OutputError::NothingToDraw)?.report;
    let subtitles = heading.subtitles.iter().filter(|line| !line.is_empty());
    let subtitles: Vec<String> = subtitles.cloned().collect();
    let varied = subtitles.last().map_or("", String::as_str);
    let page = ChartPage {
        names: Names::Beside,
        width: WIDTH,
        right: right_edge(labels_width(&panels), WIDTH),
        id,
        title: &heading.title,
        description: &about(&panels, &heading.held, varied),
        name: &heading.name,
        subtitles: &subtitles,
        panels: &panels,
        heights: &[270.0],
        end: axis.open - axis.shut,
        upright: &[],
        foot: FOOT,
        turnings: &[],
        notes: &notes(curves, &panels),
    };
    page.draw(|canvas, last| axis.draw(canvas, report, last))
}

/// What one curve is of.
struct OverGap<'a> {
    label: &'a str,
    report: &'a StrokeReport,
    jaw: &'a str,
    grip: usize,
    pen: Pen,
}

impl<'a> OverGap<'a> {
    fn of(variant: &'a VariantStroke, grip: usize, pen: Pen) -> Option<Self> {
        let report = &variant.report;
        Some(Self {
            label: &variant.label,
            jaw: report.jaws.first()?,
            report,
            grip,
            pen,
        })
    }

    fn gaps(&self) -> impl Iterator<Item = f64> + use<'_> {
        let positions = self.report.positions.iter();
        positions.filter_map(|p| p.gap(self.jaw))
    }
}

/// The gap as the axis across the stroke: wide open on the left.
struct GapAxis {
    open: f64,
    shut: f64,
}

impl GapAxis {
    fn of(curves: &[OverGap<'_>]) -> Option<Self> {
        let gaps = || curves.iter().flat_map(OverGap::gaps);
        let (open, shut) = (gaps().reduce(f64::max)?, gaps().reduce(f64::min)?);
        (open > shut).then_some(Self { open, shut })
    }

    /// Where a gap stands; `None` beyond the axis.
    fn place(&self, gap: f64) -> Option<f64> {
        (self.shut..=self.open)
            .contains(&gap)
            .then_some(self.open - gap)
    }

    fn draw(&self, canvas: &Canvas<'_, '_>, report: &StrokeReport, frame: &Frame) -> Drawn {
        let name = format!("gap, {}", report.units.length);
        canvas
            .values(frame, &name, [self.open, self.shut])
            .map(drop)?;
        canvas.ends(frame, frame.bottom + 38.0)
    }
}

fn panels(curves: &[OverGap<'_>], axis: &GapAxis) -> Vec<Panel> {
    let Some(first) = curves.first() else {
        return Vec::new();
    };
    let report = first.report;
    let lines = |value: fn(&JawForces) -> Option<f64>| -> Vec<Line> {
        let line = |of: &OverGap<'_>| {
            let points = of.report.positions.iter().filter_map(|p| {
                let forces = p.forces(of.grip, of.jaw);
                Some((axis.open - p.gap(of.jaw)?, forces.and_then(value)))
            });
            Line {
                pen: of.pen,
                ..Line::curve(of.label.to_owned(), 0, points.collect())
            }
        };
        curves.iter().map(line).collect()
    };
    let force = report.units.force;
    let width = axis.open - axis.shut;
    let mut jaw_lines = lines(|f| f.jaw_force);
    let mut most = 0.0_f64;
    if let Some(work) = report.work.as_ref().filter(|_| one_work(curves)) {
        let points = first.gaps().zip(&work.needed);
        let points = points.map(|(gap, needed)| (axis.open - gap, Some(*needed)));
        most = work.needed.iter().fold(0.0, |m, v| m.max(*v));
        let mut line = Line::work(points.collect());
        let corners = corners(report, width, |gap| axis.place(gap));
        corners::into_work(&mut line.points, &corners, width);
        jaw_lines.insert(0, line);
    }
    let shows = (Shows::JawForce, force);
    let title = match same(curves.iter().map(|of| of.report.hand_force)) {
        true => jaw_title(report),
        false => format!("Jaw force, {force}, at the hand force of each file"),
    };
    let mut out = vec![Panel::new(title, shows, jaw_lines, most)];
    if curves.iter().all(|of| of.report.work.is_some()) {
        let mut lines = lines(|f| f.hand_force);
        for (line, of) in lines.iter_mut().zip(curves) {
            line.label
                .push_str(&peak_or_stall(of.report, of.grip, false));
            let corners = corners(of.report, width, |gap| axis.place(gap));
            let places: Vec<f64> = of.gaps().map(|gap| axis.open - gap).collect();
            let about = (of.report, of.jaw, of.grip);
            into_hand(
                &mut line.points,
                &corners,
                about,
                (&places, width),
                |_, f| Some(f),
            );
            let stall = of
                .report
                .work
                .as_ref()
                .and_then(|w| *w.stalls.get(of.grip)?);
            let place = stall.map(|gap| axis.open - gap);
            let known = place.and_then(|place| value_at(&line.points, place));
            line.take_in(place, known);
            line.until = place.filter(|_| !opens(of.report));
        }
        let limit = common_limit(curves);
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

fn same(mut values: impl Iterator<Item = f64>) -> bool {
    let first = values.next();
    values.all(|value| Some(value) == first)
}

/// Whether all tools have the same work to do.
fn one_work(curves: &[OverGap<'_>]) -> bool {
    let mut needs = curves
        .iter()
        .map(|of| of.report.work.as_ref().map(|work| &work.need));
    let first = needs.next();
    needs.all(|need| Some(need) == first)
}

/// The hand's limit, where it is the same everywhere.
fn common_limit(curves: &[OverGap<'_>]) -> Option<f64> {
    let rows = |of: &OverGap<'_>| Some(of.report.limit.as_ref()?.hand_force.clone());
    let all: Option<Vec<_>> = curves.iter().map(rows).collect();
    let all: Vec<Option<f64>> = all?.into_iter().flatten().flatten().collect();
    let first = (*all.first()?)?;
    all.iter().all(|v| *v == Some(first)).then_some(first)
}

/// What a reader of the picture must know, one sentence each.
fn notes(curves: &[OverGap<'_>], panels: &[Panel]) -> Vec<String> {
    let mut out: Vec<String> = panels.iter().filter_map(cut_note).collect();
    let limited = |of: &OverGap<'_>| of.report.work.is_some() && of.report.limit.is_some();
    if curves.iter().any(limited) && common_limit(curves).is_none() {
        out.push("The hand's limit differs along the stroke and is not drawn.".to_owned());
    }
    if !one_work(curves) {
        out.push("What the work needs differs from tool to tool and is not drawn.".to_owned());
    }
    if panels
        .iter()
        .any(|p| p.lines.iter().any(|line| line.until.is_some()))
    {
        out.push("Thin beyond a stall: the tool gets no further.".to_owned());
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
