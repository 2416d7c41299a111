//! The share of people that is able, over the hand force: a curve for each group and one for all together.

use super::draw::{Canvas, Drawn};
use super::layout::{Frame, Names, SMALL, labels_width, right_edge};
use super::line::Line;
use super::page::{ChartPage, FOOT};
use super::palette::AXIS;
use super::panel::{Panel, Shows};
use super::variants::WIDTH;
use crate::output::svg::labels::{spread, text_width};
use crate::output::svg::pen::INK;
use crate::output::svg::shapes::Anchor;
use crate::output::text::{clean, figures, fixed, grip, trimmed};
use crate::output::{error::OutputError, finite::check_finite};
use crate::report::{AblePoint, OperatorsReport, PeopleReport, UnitNames};

/// From the plot to the row below the numbers of the axis, pixels.
const NUMBERS: f64 = 26.0;

/// Share able over hand force, as one SVG page.
///
/// # Errors
/// When a number is not finite, or the report has no operators.
pub fn people_chart(report: &PeopleReport) -> Result<String, OutputError> {
    check_finite(report)?;
    let of = report
        .operators
        .as_ref()
        .ok_or(OutputError::NothingToDraw)?;
    let end = of.curve.last().map_or(0.0, |point| point.force);
    if end <= 0.0 {
        return Err(OutputError::NothingToDraw);
    }
    let panels = [Panel::near(
        "Share able to do it once, %".to_owned(),
        (Shows::ShareAble, "%"),
        lines(of),
    )];
    let name = clean(&report.tool);
    let needs = needs(of);
    let page = ChartPage {
        names: Names::Beside,
        width: WIDTH,
        right: right_edge(labels_width(&panels), WIDTH),
        id: "people",
        title: &format!("Operators of {name}"),
        description: &about(report, of),
        name: &name,
        subtitles: &[
            clean(&report.file),
            "strength of hands by group, normally distributed, at the spans at which they are strongest".to_owned(),
        ],
        panels: &panels,
        heights: &[320.0],
        end,
        upright: &[],
        foot: FOOT,
        turnings: &[],
        notes: &notes(report, &needs),
    };
    let chart = page.draw(|canvas, last| axis(canvas, &report.units, end, &needs, last));
    chart.map(|chart| chart.svg)
}

fn lines(of: &OperatorsReport) -> Vec<Line> {
    let points = |value: &dyn Fn(&AblePoint) -> Option<f64>| {
        let each = of.curve.iter().map(|point| (point.force, value(point)));
        each.map(|(force, share)| (force, share.map(|share| 100.0 * share)))
            .collect()
    };
    let group = |(k, line): (usize, &crate::report::OperatorsLine)| {
        let count =
            (of.groups.len() > 1 || line.count > 1.0).then(|| format!(", {}", trimmed(line.count)));
        let label = format!("{}{}", line.group.name, count.unwrap_or_default());
        Line::curve(label, k, points(&|point| point.groups.get(k).copied()))
    };
    let mut lines: Vec<Line> = of.groups.iter().enumerate().map(group).collect();
    if of.groups.len() > 1 {
        lines.push(Line::limit(
            "all".to_owned(),
            points(&|point| Some(point.mix)),
        ));
    }
    lines
}

/// What the work needs of the hand at each grip, at the span at which hands are strongest: the greatest of all
/// groups and jaws.
fn needs(of: &OperatorsReport) -> Vec<(f64, f64)> {
    let mut needs: Vec<(f64, f64)> = Vec::new();
    for able in of.groups.iter().flat_map(|line| &line.able) {
        let Some(force) = able.at_best else { continue };
        match needs.iter_mut().find(|(at, _)| *at == able.grip) {
            Some((_, most)) => *most = most.max(force),
            None => needs.push((able.grip, force)),
        }
    }
    needs
}

/// Forces across the page, and where the work is.
fn axis(
    canvas: &Canvas<'_, '_>,
    units: &UnitNames,
    end: f64,
    needs: &[(f64, f64)],
    frame: &Frame,
) -> Drawn {
    let x = canvas.values(frame, &format!("hand force, {}", units.force), [0.0, end])?;
    let mut seen: Vec<(f64, String)> = (needs.iter())
        .filter(|(_, force)| (0.0..=end).contains(force))
        .map(|(at, force)| (x(*force), format!("grip {}", grip(*at, units))))
        .collect();
    seen.sort_by(|a, b| a.0.total_cmp(&b.0));
    // Below the numbers of the axis, each with a line to its own.
    let widest = (seen.iter()).map(|(_, text)| text_width(text, SMALL, false));
    let apart = widest.fold(0.0, f64::max) + 10.0;
    let wanted: Vec<f64> = seen.iter().map(|(at, _)| *at).collect();
    let places = spread(&wanted, apart, frame.left, frame.right);
    for ((at, text), place) in seen.iter().zip(places) {
        canvas.rule((*at, frame.top), (*at, frame.bottom), INK, 1.0)?;
        let foot = frame.bottom + NUMBERS;
        canvas.rule((*at, frame.bottom), (place, foot + 4.0), AXIS, 0.8)?;
        canvas.words(
            (place, foot + 16.0),
            text,
            SMALL,
            false,
            INK,
            Anchor::Middle,
        )?;
    }
    Ok(())
}

fn notes(report: &PeopleReport, needs: &[(f64, f64)]) -> Vec<String> {
    let unit = report.units.force;
    let said = |(at, force): &(f64, f64)| {
        format!(
            "{} {unit} at grip {}",
            figures(*force),
            grip(*at, &report.units)
        )
    };
    let needs: Vec<String> = needs.iter().map(said).collect();
    let mut out = Vec::new();
    if !needs.is_empty() {
        out.push(format!(
            "Upright lines: what the work needs of the hand, taken to the span at which hands are strongest: {}.",
            needs.join(", ")
        ));
    }
    out.push(clean(report.caution));
    out
}

fn about(report: &PeopleReport, of: &OperatorsReport) -> String {
    let mut out = vec![format!(
        "Share able over hand force, {} groups.",
        of.groups.len()
    )];
    for line in &of.groups {
        let shares = line.able.iter().filter_map(|able| {
            let once = able.once?;
            let at = grip(able.grip, &report.units);
            Some(format!("{} % at grip {at}", fixed(100.0 * once, 1)))
        });
        let shares: Vec<String> = shares.collect();
        out.push(format!("{}: {}.", line.group.name, shares.join(", ")));
    }
    out.join(" ")
}
