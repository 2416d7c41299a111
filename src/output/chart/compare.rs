//! `compare` as one picture: tools or variants of tools side by side.

use super::curves::{ChartOptions, Form, Shared, force_chart};
use super::layout::{LABEL_STEP, SMALL};
use super::page::Chart;
use super::variants::MOST_CURVES;
use super::variants::{VariantStroke, WIDTH, common_grips, tool_curves, variant_curves};
use crate::output::error::OutputError;
use crate::output::svg::labels::shorten_middle;
use crate::output::svg::pen::GREY;
use crate::output::svg::writer::{READERS_FONTS, Sheet, Svg};
use crate::output::text::clean;

/// What [`compare_picture`] shows of one tool.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolStrokes {
    /// Which dimensions differ, with their unit; empty where none does.
    pub varied: String,
    /// Number of variants, of which at most [`MOST_CURVES`](crate::output::MOST_CURVES) follow.
    pub count: usize,
    /// The values of those that were tried and have no stroke.
    pub unsolved: Vec<String>,
    /// The variants.
    pub strokes: Vec<VariantStroke>,
}

/// Grips that have a picture of their own, for one tool with variants.
const MOST_GRIPS: usize = 4;
/// Most pictures on the page.
const MOST_PICTURES: usize = 12;

/// Tools, or the variants of tools, as one SVG page, two pictures in a row: the force curves of each
/// tool on shared axes, and for each grip that all of them have a picture of all tools over the gap; or for a tool
/// with variants a curve for each, grip by grip.
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
                form: Form::Large,
            };
            pictures.push(force_chart(&first.report, &options)?);
            continue;
        }
        for grip in 0..first.report.grips.len().min(MOST_GRIPS) {
            let id = id(&pictures);
            let picture = variant_curves(&tool.strokes, &varied(tool), tool.count, grip, &id)?;
            pictures.push(picture);
        }
    }
    let alone: Vec<VariantStroke> = (tools.iter().filter(|t| t.count == 1))
        .filter_map(|t| named(t, tools))
        .take(MOST_CURVES)
        .collect();
    let alone = without_common_words(alone);
    if alone.len() > 1 {
        for at in common_grips(&alone).into_iter().take(MOST_GRIPS) {
            let id = format!("picture{}", pictures.len() + 1);
            pictures.push(tool_curves(&alone, at, &id)?);
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

/// What differs, and which of the variants have no curve since the tool cannot be closed.
fn varied(tool: &ToolStrokes) -> String {
    let without = match &tool.unsolved[..] {
        [] => return tool.varied.clone(),
        [one] => format!("none for {one}, which has no stroke"),
        [first, .., last] => {
            let count = tool.unsolved.len();
            format!("none for {count} without a stroke, from {first} to {last}")
        }
    };
    format!("{}; {without}", tool.varied)
}

/// Pixels that the name of a tool may take beside its curve, where the peak has to stand too.
const NAME: f64 = 120.0;

/// The tools with their names short: without the words that all of them begin with.
fn without_common_words(mut tools: Vec<VariantStroke>) -> Vec<VariantStroke> {
    let names: Vec<Vec<&str>> = tools.iter().map(|t| t.label.split(' ').collect()).collect();
    let (first, rest) = match names.split_first() {
        Some((first, rest)) if !rest.is_empty() => (first, rest),
        _ => return tools,
    };
    // One word of each is left at least.
    let most = names
        .iter()
        .map(Vec::len)
        .min()
        .unwrap_or(0)
        .saturating_sub(1);
    let alike = |k: &usize| rest.iter().all(|name| name.get(*k) == first.get(*k));
    let common = (0..most).take_while(alike).count();
    let rest_of = |name: &Vec<&str>, from: usize| name.get(from..).unwrap_or_default().join(" ");
    // A letter alone says little: the word before it stays.
    let bare = names.iter().any(|name| rest_of(name, common).len() < 3);
    let common = common.saturating_sub(usize::from(bare));
    let short = |name: &Vec<&str>| shorten_middle(&rest_of(name, common), SMALL, false, NAME);
    let short: Vec<String> = names.iter().map(short).collect();
    for (tool, label) in tools.iter_mut().zip(short) {
        tool.label = label;
    }
    tools
}

/// A tool with its name, or with that of its file where another tool bears the same one.
fn named(tool: &ToolStrokes, all: &[ToolStrokes]) -> Option<VariantStroke> {
    let report = &tool.strokes.first()?.report;
    let firsts = all.iter().filter_map(|t| t.strokes.first());
    let alike = firsts
        .filter(|other| other.report.tool == report.tool)
        .count();
    let label = if alike > 1 {
        &report.file
    } else {
        &report.tool
    };
    Some(VariantStroke {
        label: clean(label),
        report: report.clone(),
    })
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::samples::Sample;

    fn short(names: &[&str]) -> Vec<String> {
        let report = Sample::knee().build();
        let tool = |name: &&str| VariantStroke {
            label: (*name).to_owned(),
            report: report.clone(),
        };
        let tools = without_common_words(names.iter().map(tool).collect());
        tools.into_iter().map(|tool| tool.label).collect()
    }

    #[test]
    fn names_lose_what_they_have_in_common() {
        assert_eq!(
            short(&["Setter, concept A", "Setter, concept B"]),
            ["concept A", "concept B"]
        );
        assert_eq!(short(&["Setter", "Setter B"]), ["Setter", "Setter B"]);
        assert_eq!(short(&["Pin plunger", "Setter"]), ["Pin plunger", "Setter"]);
        assert_eq!(short(&["Setter"]), ["Setter"]);
        let long = short(&["a.toml", "somewhere/in/a/deep/folder/of/tools/b.toml"]);
        assert!(
            long[1].ends_with("/b.toml") && long[1].contains('\u{2026}'),
            "{long:?}"
        );
    }
}
