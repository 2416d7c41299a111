//! What an adjuster does, as curves over its settings: gap, jaw force, hand force for the work, ratio.

use super::compare::side_by_side;
use super::draw::{Canvas, Drawn};
use super::layout::{Frame, Names, SMALL, labels_width, right_edge};
use super::line::Line;
use super::page::{Chart, ChartPage, FOOT};
use super::palette::AXIS;
use super::panel::{Panel, Shows};
use super::variants::WIDTH;
use crate::output::svg::pen::INK;
use crate::output::svg::shapes::Anchor;
use crate::output::text::{clean, figures, length};
use crate::output::{error::OutputError, finite::check_finite};
use crate::report::{AdjusterReport, SettingReport, SetupReport};

/// What every adjuster does, one picture each, as one SVG page.
///
/// # Errors
/// When a number is not finite, or there is nothing to draw.
pub fn setup_chart(report: &SetupReport) -> Result<String, OutputError> {
    let mut pictures = Vec::new();
    for (k, adjuster) in report.adjusters.iter().enumerate() {
        let panels = panels(report, adjuster);
        pictures.push(adjuster_chart(
            report,
            adjuster,
            &format!("adjuster{}", k + 1),
            (WIDTH, 170.0, &panels),
        )?);
    }
    side_by_side(
        &format!("Adjusters of {}", clean(&report.tool)),
        &pictures,
        &[],
    )
}

/// Pixels across the picture of one curve: as a phone or half a printed page shows it.
const SMALL_WIDTH: f64 = 340.0;
/// From the lower edge of such a plot to its end.
const SMALL_FOOT: f64 = 56.0;
/// Right of it: half of the last number.
const HALF_NUMBER: f64 = 24.0;

/// The pictures of one adjuster (by index), one for each of its curves; none where there is nothing to draw.
#[must_use]
pub(in crate::output) fn setup_panels(
    report: &SetupReport,
    adjuster: usize,
    id: &str,
) -> Vec<String> {
    let Some(adjuster) = report.adjusters.get(adjuster) else {
        return Vec::new();
    };
    let mut panels = panels(report, adjuster);
    // The title names the only curve.
    let lines = panels.iter_mut().flat_map(|panel| &mut panel.lines);
    lines.for_each(|line| line.label.clear());
    let single = panels.chunks(1).enumerate().map(|(k, panel)| {
        let id = format!("{id}-{}", k + 1);
        adjuster_chart(report, adjuster, &id, (SMALL_WIDTH, 90.0, panel))
    });
    single.filter_map(|chart| Some(chart.ok()?.svg)).collect()
}

/// How an adjuster is set, and where its curves are read.
pub(in crate::output) fn held(report: &SetupReport, adjuster: &AdjusterReport) -> [String; 2] {
    let now = format!(
        "{}, now {} {}",
        clean(&adjuster.moves),
        figures(adjuster.now),
        adjuster.unit
    );
    let held = format!(
        "at the end of the stroke, grip {} {}, hand force {} {}",
        figures(report.grip),
        report.units.length,
        figures(report.hand_force),
        report.units.force
    );
    [now, held]
}

/// The chart of one adjuster; a small one has its names and its settings beside it, in the text.
///
/// # Errors
/// When a number is not finite, or there is nothing to draw.
fn adjuster_chart(
    report: &SetupReport,
    adjuster: &AdjusterReport,
    id: &str,
    (width, height, panels): (f64, f64, &[Panel]),
) -> Result<Chart, OutputError> {
    check_finite(report)?;
    let ends = adjuster.settings.first().zip(adjuster.settings.last());
    let (from, to) = ends
        .map(|(a, b)| (a.at, b.at))
        .ok_or(OutputError::NothingToDraw)?;
    if !(to > from) {
        return Err(OutputError::NothingToDraw);
    }
    if panels.is_empty() {
        return Err(OutputError::NothingToDraw);
    }
    // How it is set now, through all plots.
    let set = (from..=to).contains(&adjuster.now);
    let set = set.then_some(adjuster.now - from);
    let name = clean(&report.tool);
    let small = width <= SMALL_WIDTH;
    let [now, held] = held(report, adjuster);
    let heading = format!("{name}: {}", clean(&adjuster.name));
    let subtitles = [now, format!("{}: {held}", clean(&report.file))];
    let (names, right, foot) = match small {
        true => (Names::Above, width - HALF_NUMBER, SMALL_FOOT),
        false => (Names::Beside, right_edge(labels_width(panels), width), FOOT),
    };
    let page = ChartPage {
        names,
        width,
        right,
        id,
        title: &format!("Adjuster {} of {name}", clean(&adjuster.name)),
        description: &about(adjuster, panels),
        name: if small { "" } else { &heading },
        subtitles: if small { &[] } else { &subtitles },
        panels,
        heights: &[height],
        end: to - from,
        upright: set.as_slice(),
        foot,
        turnings: &[],
        notes: &notes(report, adjuster, panels, small),
    };
    page.draw(|canvas, last| axis(canvas, adjuster, (from, to), last))
}

fn panels(report: &SetupReport, adjuster: &AdjusterReport) -> Vec<Panel> {
    let from = adjuster.settings.first().map_or(0.0, |s| s.at);
    let curve = |label: &str, value: fn(&SettingReport) -> Option<f64>| {
        let points = adjuster.settings.iter().map(|s| (s.at - from, value(s)));
        let line = Line::curve(label.to_owned(), 0, points.collect());
        line.points.iter().any(|(_, y)| y.is_some()).then_some(line)
    };
    let (length, force) = (report.units.length, report.units.force);
    let of = |title: String, shows: (Shows, &'static str), line: Option<Line>| {
        line.map(|line| Panel::near(title, shows, vec![line]))
    };
    [
        of(
            format!("Gap at the end of the stroke, {length}"),
            (Shows::Gap, length),
            curve("gap", |s| s.gap),
        ),
        of(
            format!("Jaw force there, {force}"),
            (Shows::JawForce, force),
            curve("jaw force", |s| s.jaw_force),
        ),
        of(
            format!("Hand force for the work there, {force}"),
            (Shows::HandForce, force),
            curve("hand force", |s| s.work_force),
        ),
        of(
            "Ratio there".to_owned(),
            (Shows::Ratio, ""),
            curve("ratio", |s| s.ratio),
        ),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The settings across the page; where there are notches, one tick for each.
fn axis(
    canvas: &Canvas<'_, '_>,
    adjuster: &AdjusterReport,
    (from, to): (f64, f64),
    frame: &Frame,
) -> Drawn {
    let x = canvas.values(frame, &format!("setting, {}", adjuster.unit), [from, to])?;
    if adjuster.notches {
        for setting in &adjuster.settings {
            let at = x(setting.at);
            canvas.rule((at, frame.bottom - 4.0), (at, frame.bottom), AXIS, 1.0)?;
        }
    }
    if (from..=to).contains(&adjuster.now) {
        let at = x(adjuster.now);
        canvas.rule((at, frame.top), (at, frame.bottom), AXIS, 1.0)?;
        canvas.words(
            (at, frame.bottom + 38.0),
            "now",
            SMALL,
            false,
            INK,
            Anchor::Middle,
        )?;
    }
    Ok(())
}

/// What a small picture leaves out is among the sentences of its page.
fn notes(
    report: &SetupReport,
    adjuster: &AdjusterReport,
    panels: &[Panel],
    small: bool,
) -> Vec<String> {
    let mut out = Vec::new();
    if panels.iter().any(|p| p.low > 0.0 || p.high < 0.0) {
        out.push("Axes are cut: they do not begin at zero.".to_owned());
    }
    if small {
        return out;
    }
    if let Some(covered) = adjuster.tolerance {
        out.push(format!(
            "Worst case of the gap within the tolerances: \u{b1} {} {}, {} by this range.",
            length(covered.worst, &report.units),
            report.units.length,
            if covered.covered {
                "covered"
            } else {
                "not covered"
            }
        ));
    }
    let failed = adjuster
        .settings
        .iter()
        .filter(|s| s.problem.is_some())
        .count();
    if failed > 0 {
        out.push(format!(
            "{failed} settings at which the tool does not work have no values."
        ));
    }
    out
}

fn about(adjuster: &AdjusterReport, panels: &[Panel]) -> String {
    let mut out = vec![format!("Curves over {} settings.", adjuster.settings.len())];
    for panel in panels {
        let values = || {
            panel
                .lines
                .iter()
                .flat_map(|line| line.points.iter().filter_map(|p| p.1))
        };
        if let (Some(least), Some(most)) = (values().reduce(f64::min), values().reduce(f64::max)) {
            out.push(format!(
                "{}: {} to {}.",
                panel.title,
                figures(least),
                figures(most)
            ));
        }
    }
    out.join(" ")
}
