//! Variants of one tool in one picture: a curve for each, at one grip, over the gap.
//!
//! The gap is what variants share: their handles travel differently far. Above: jaw force; below,
//! where there is work: the hand force that it needs.

use plotters::prelude::IntoDrawingArea;

use super::chart::{ChartOptions, LABEL_STEP, LEADER, SMALL, axis_tops, force_curves};
use super::chart_axis::StrokeAxis;
use super::chart_data::{Line, Panel};
use super::chart_draw::{Canvas, Drawn, Frame};
use super::chart_words::cut_note;
use super::labels::{lines, text_width};
use super::palette::{self, AXIS, GREY, INK};
use super::svg_backend::{self, SvgBackend};
use super::svg_shapes::Anchor;
use super::text::{clean, figures, grip as grip_text};
use super::ticks::Ticks;
use super::{OutputError, finite::check_finite};
use crate::report::{JawForces, StrokeReport};

/// Most curves of one picture; more could not be told apart.
pub const MOST_CURVES: usize = 12;

const WIDTH: f64 = 760.0;
const LEFT: f64 = 108.0;
const EDGE: f64 = 16.0;

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
) -> Result<String, OutputError> {
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
    let widest = (panels.iter().flat_map(|p| &p.lines))
        .map(|line| text_width(&line.label, SMALL, line.class != "curve"))
        .fold(0.0, f64::max);
    let right = WIDTH - (LEADER + widest + EDGE).min(0.4 * WIDTH);
    let mut y = 88.0;
    let mut frames = Vec::new();
    for panel in &panels {
        let top = y + 14.0;
        let bottom = top + f64::max(270.0, LABEL_STEP * (panel.lines.len() + 1) as f64);
        frames.push(Frame {
            left: LEFT,
            right,
            top,
            bottom,
            title: y,
        });
        y = bottom + 36.0;
    }
    let notes_start = frames.last().map_or(y, |f| f.bottom) + 72.0;
    let notes: Vec<String> = (panels.iter().filter_map(cut_note))
        .flat_map(|note| lines(&note, 11.0, WIDTH - 2.0 * EDGE))
        .collect();
    let height = notes_start + LABEL_STEP * notes.len() as f64;
    let name = clean(&report.tool);
    let at = report.grips.get(grip).copied().unwrap_or_default();
    let held = format!("grip {}, jaw {}", grip_text(at, &report.units), clean(jaw));
    let shown = if variants.len() < count {
        format!(", {} of {count} variants", variants.len())
    } else {
        String::new()
    };
    let varied = format!("one curve for each {}{shown}", clean(varied));
    let about = about(&panels, &held, &varied);
    let title = format!("Variants: {name}");
    let mut out = svg_backend::open(WIDTH, height, id, &title, &about);
    let root = SvgBackend::new(&mut out, WIDTH, height).into_drawing_area();
    let canvas = Canvas::new(&root);
    let room = WIDTH - 2.0 * EDGE;
    let drawn = (|| {
        canvas.short(EDGE, 28.0, &name, 18.0, true, INK, room)?;
        let file = format!("{}: {held}", clean(&report.file));
        canvas.short(EDGE, 48.0, &file, SMALL, false, GREY, room)?;
        canvas.short(EDGE, 64.0, &varied, SMALL, false, GREY, room)?;
        for (panel, frame) in panels.iter().zip(&frames) {
            canvas.panel(panel, frame, &axis.plain(), &[])?;
        }
        if let Some(last) = frames.last() {
            axis.draw(&canvas, report, last)?;
        }
        for (index, line) in notes.iter().enumerate() {
            let y = notes_start + LABEL_STEP * index as f64;
            canvas.words((EDGE, y), line, 11.0, false, GREY, Anchor::Start)?;
        }
        root.present()
    })();
    drop(root);
    drawn.map_err(|e| OutputError::Writer(e.to_string()))?;
    out.push_str(svg_backend::CLOSE);
    Ok(out)
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
            positions.filter_map(|p| p.jaws.get(jaw).map(|j| j.gap))
        };
        let (open, shut) = (gaps().reduce(f64::max)?, gaps().reduce(f64::min)?);
        (open > shut).then_some(Self { open, shut })
    }

    fn plain(&self) -> StrokeAxis {
        StrokeAxis {
            values: Vec::new(),
            end: self.open - self.shut,
            by_travel: false,
        }
    }

    fn draw(&self, canvas: &Canvas<'_, '_>, report: &StrokeReport, frame: &Frame) -> Drawn {
        let room = frame.right - frame.left;
        let ticks = Ticks::over(self.shut, self.open, (room / 70.0).max(1.0) as usize);
        let (row, ends) = (frame.bottom + 19.0, frame.bottom + 38.0);
        let name = format!("gap, {}", report.units.length);
        canvas.words(
            (frame.left - 26.0, row),
            &name,
            11.0,
            false,
            GREY,
            Anchor::End,
        )?;
        for value in &ticks.at {
            let x = frame.left + room * (self.open - value) / (self.open - self.shut);
            canvas.rule((x, frame.bottom), (x, frame.bottom + 5.0), AXIS, 1.0)?;
            canvas.words(
                (x, row),
                &ticks.text(*value),
                SMALL,
                false,
                INK,
                Anchor::Middle,
            )?;
        }
        canvas.words((frame.left, ends), "open", SMALL, true, INK, Anchor::Middle)?;
        canvas.words(
            (frame.right, ends),
            "shut",
            SMALL,
            true,
            INK,
            Anchor::Middle,
        )
    }
}

fn panels(variants: &[VariantStroke], grip: usize, jaw: &str, axis: &GapAxis) -> Vec<Panel> {
    let Some(report) = variants.first().map(|v| &v.report) else {
        return Vec::new();
    };
    let curves = |value: fn(&JawForces) -> Option<f64>| -> Vec<Line> {
        let line = |(k, variant): (usize, &VariantStroke)| Line {
            label: variant.label.clone(),
            pen: palette::curve(k),
            class: "curve",
            points: (variant.report.positions.iter())
                .filter_map(|p| {
                    let gap = p.jaws.get(jaw)?.gap;
                    let forces = p.grips.get(grip).and_then(|g| g.jaws.get(jaw));
                    Some((axis.open - gap, forces.and_then(value)))
                })
                .collect(),
        };
        variants.iter().enumerate().map(line).collect()
    };
    let (force, hand) = (report.units.force, figures(report.hand_force));
    let mut lines = curves(|f| f.jaw_force);
    let mut most = 0.0_f64;
    if let Some(work) = &report.work {
        let gaps = report.positions.iter().filter_map(|p| p.jaws.get(jaw));
        let points: Vec<(f64, Option<f64>)> = gaps
            .zip(&work.needed)
            .map(|(j, needed)| (axis.open - j.gap, Some(*needed)))
            .collect();
        most = work.needed.iter().fold(0.0, |m, v| m.max(*v));
        let needs = Line {
            label: "the work needs".to_owned(),
            pen: palette::WORK,
            class: "work",
            points,
        };
        lines.insert(0, needs);
    }
    let title = format!("Jaw force, {force}, at {hand} {force} in the hand");
    let mut out = vec![Panel::new(title, force, lines, most)];
    if report.work.is_some() {
        let title = format!("Hand force that the work needs, {force}");
        let mut lines = curves(|f| f.hand_force);
        let limit = common_limit(report);
        if let Some(most) = limit {
            lines.insert(
                0,
                Line {
                    label: format!("hand limit {} {force}", figures(most)),
                    pen: palette::LIMIT,
                    class: "limit",
                    points: vec![(0.0, limit), (axis.open - axis.shut, limit)],
                },
            );
        }
        out.push(Panel::new(title, force, lines, limit.unwrap_or(0.0)));
    }
    out
}

/// The hand's limit, where it is the same everywhere.
fn common_limit(report: &StrokeReport) -> Option<f64> {
    let mut all = report.limit.as_ref()?.hand_force.iter().flatten();
    let first = (*all.next()?)?;
    all.all(|v| *v == Some(first)).then_some(first)
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

/// What [`compare_picture`] shows of one tool.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolStrokes {
    /// Which dimensions differ, with their unit; empty where none does.
    pub varied: String,
    /// Number of variants, of which at most [`MOST_CURVES`] follow.
    pub count: usize,
    /// The variants.
    pub strokes: Vec<VariantStroke>,
}

/// Grips that have a picture of their own, for one tool with variants.
const MOST_GRIPS: usize = 4;
/// Most pictures on the page.
const MOST_PICTURES: usize = 12;

/// Tools, or the variants of tools, as one SVG page, two pictures in a row: the force curves of each
/// tool on axes of the same height; or for a tool with variants a curve for each, grip by grip.
///
/// # Errors
/// When there is nothing to draw, or a number is not finite.
pub fn compare_picture(tools: &[ToolStrokes]) -> Result<String, OutputError> {
    let mut pictures = Vec::new();
    let tops = tools
        .iter()
        .filter(|t| t.count == 1)
        .flat_map(|t| &t.strokes)
        .map(|s| axis_tops(&s.report))
        .fold([0.0; 2], |m, t| {
            [f64::max(m[0], t[0]), f64::max(m[1], t[1])]
        });
    for tool in tools {
        let Some(first) = tool.strokes.first() else {
            continue;
        };
        let id = |pictures: &Vec<_>| format!("picture{}", pictures.len() + 1);
        if tool.count == 1 {
            let options = ChartOptions {
                width: WIDTH,
                id: id(&pictures),
                tops,
            };
            pictures.push(force_curves(&first.report, &options)?);
            continue;
        }
        for grip in 0..first.report.grips.len().min(MOST_GRIPS) {
            let id = id(&pictures);
            let picture = variant_curves(&tool.strokes, &tool.varied, tool.count, grip, &id)?;
            pictures.push(picture);
        }
    }
    pictures.truncate(MOST_PICTURES);
    side_by_side(&pictures)
}

fn side_by_side(pictures: &[String]) -> Result<String, OutputError> {
    let across = pictures.len().min(2);
    if across == 0 {
        return Err(OutputError::NothingToDraw);
    }
    let (mut y, mut body) = (0.0, String::new());
    for pair in pictures.chunks(across) {
        for (k, svg) in pair.iter().enumerate() {
            // A nested drawing keeps its own size and stands at its place.
            let x = WIDTH * k as f64;
            body.push_str(&svg.replacen("<svg ", &format!("<svg x=\"{x}\" y=\"{y}\" "), 1));
            body.push('\n');
        }
        let heights = pair.iter().filter_map(|svg| attribute(svg, "height"));
        y += heights.fold(0.0_f64, f64::max) + 16.0;
    }
    let width = WIDTH * across as f64;
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{y}\" viewBox=\"0 0 {width} {y}\" \
         role=\"img\">\n<title>Tools side by side</title>\n{body}</svg>\n"
    ))
}

/// A number among the attributes of the first tag.
fn attribute(svg: &str, name: &str) -> Option<f64> {
    let tag = svg.get(..svg.find('>')?)?;
    let start = tag.find(&format!(" {name}=\""))? + name.len() + 3;
    let rest = tag.get(start..)?;
    rest.get(..rest.find('"')?)?.parse().ok()
}
