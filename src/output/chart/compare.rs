//! `compare` as one picture: tools or variants of tools side by side.

use super::curves::{ChartOptions, Shared, force_chart};
use super::layout::{LABEL_STEP, SMALL};
use super::page::Chart;
use super::variants::{VariantStroke, WIDTH, variant_curves};
use crate::output::error::OutputError;
use crate::output::svg::pen::GREY;
use crate::output::svg::writer::{READERS_FONTS, Sheet, Svg};

/// What [`compare_picture`] shows of one tool.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolStrokes {
    /// Which dimensions differ, with their unit; empty where none does.
    pub varied: String,
    /// Number of variants, of which at most [`MOST_CURVES`](crate::output::MOST_CURVES) follow.
    pub count: usize,
    /// The variants.
    pub strokes: Vec<VariantStroke>,
}

/// Grips that have a picture of their own, for one tool with variants.
const MOST_GRIPS: usize = 4;
/// Most pictures on the page.
const MOST_PICTURES: usize = 12;

/// Tools, or the variants of tools, as one SVG page, two pictures in a row: the force curves of each
/// tool on shared axes; or for a tool with variants a curve for each, grip by grip.
///
/// # Errors
/// When there is nothing to draw, or a number is not finite.
pub fn compare_picture(tools: &[ToolStrokes]) -> Result<String, OutputError> {
    let mut pictures = Vec::new();
    let alone = tools.iter().filter(|t| t.count == 1);
    let shared = Shared::of(alone.flat_map(|t| &t.strokes).map(|s| &s.report));
    for tool in tools {
        let Some(first) = tool.strokes.first() else {
            continue;
        };
        let id = |pictures: &Vec<_>| format!("picture{}", pictures.len() + 1);
        if tool.count == 1 {
            let options = ChartOptions {
                width: WIDTH,
                id: id(&pictures),
                shared: shared.clone(),
            };
            pictures.push(force_chart(&first.report, &options)?);
            continue;
        }
        for grip in 0..first.report.grips.len().min(MOST_GRIPS) {
            let id = id(&pictures);
            let picture = variant_curves(&tool.strokes, &tool.varied, tool.count, grip, &id)?;
            pictures.push(picture);
        }
    }
    let grips = |t: &ToolStrokes| t.strokes.first().map_or(0, |s| s.report.grips.len());
    let mut notes = Vec::new();
    if tools.iter().any(|t| t.count > 1 && grips(t) > MOST_GRIPS) {
        notes.push(format!(
            "Grips after the first {MOST_GRIPS} of a tool have no picture here."
        ));
    }
    if pictures.len() > MOST_PICTURES {
        notes.push(format!(
            "The first {MOST_PICTURES} of {} pictures.",
            pictures.len()
        ));
        pictures.truncate(MOST_PICTURES);
    }
    side_by_side("Tools side by side", &pictures, &notes)
}

/// Between rows of pictures, and left of the notes, pixels.
const GAP: f64 = 16.0;

/// Pictures on one page, two in a row.
pub(super) fn side_by_side(
    title: &str,
    pictures: &[Chart],
    notes: &[String],
) -> Result<String, OutputError> {
    let across = pictures.len().min(2);
    if across == 0 {
        return Err(OutputError::NothingToDraw);
    }
    let rows = pictures.chunks(across);
    let heights: Vec<f64> = rows
        .map(|row| row.iter().map(|c| c.height).fold(0.0, f64::max) + GAP)
        .collect();
    let pictures_end: f64 = heights.iter().sum();
    let mut svg = Svg::new(&Sheet {
        size: [
            WIDTH * across as f64,
            pictures_end + LABEL_STEP * notes.len() as f64,
        ],
        unit: "",
        fonts: READERS_FONTS,
        id: "",
        title,
        about: "",
    });
    let mut y = 0.0;
    for (row, height) in pictures.chunks(across).zip(heights) {
        for (k, picture) in row.iter().enumerate() {
            svg.document([WIDTH * k as f64, y], &picture.svg);
        }
        y += height;
    }
    for note in notes {
        let text = svg.element("text").at(["x", "y"], [GAP, y + SMALL]);
        let text = text.number("font-size", SMALL).with("fill", GREY);
        text.text(note);
        y += LABEL_STEP;
    }
    Ok(svg.finish())
}
