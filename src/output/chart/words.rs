//! The sentences of the chart: description for readers that cannot see it, and the notes below.

use super::line::{Kind, Line};
use super::panel::{Panel, Shows};
use super::ticks::with_thousands;
use crate::output::sentences::stroke::{dies_meet, hand_limit, stopped};
use crate::output::sentences::way::{held_by_friction, opens};
use crate::output::text::{self, clean, figures, fixed, length};
use crate::report::StrokeReport;

/// File, direction and jaw in one line.
pub(super) fn subtitle(report: &StrokeReport) -> String {
    let mut text = format!("{}: {} stroke", clean(&report.file), report.direction);
    if let Some(jaw) = report.jaws.first() {
        text.push_str(&format!(", jaw {}", clean(jaw)));
    }
    if report.jaws.len() > 1 {
        text.push_str(&format!(" (the first of {})", report.jaws.len()));
    }
    text
}

/// What the picture shows, in words.
pub(super) fn description(report: &StrokeReport, panels: &[Panel]) -> String {
    let units = &report.units;
    let mut out = Vec::new();
    if let Some(last) = report.positions.last() {
        out.push(format!(
            "Force curves over a handle travel of {} {}, from open on the left to shut on the right.",
            fixed(last.travel, 2),
            units.angle
        ));
    }
    for panel in panels {
        out.push(format!("{}.", panel.title));
        for line in &panel.lines {
            let values = || line.points.iter().filter_map(|(_, y)| *y);
            let (Some(first), Some(last)) = (values().next(), values().next_back()) else {
                out.push(format!("{}: no values.", line.label));
                continue;
            };
            if line.kind == Kind::Limit && line.is_level() {
                out.push(format!("{}.", line.label));
                continue;
            }
            let mut text = format!(
                "{}: {} to {} {}",
                line.label,
                figures(first),
                figures(last),
                panel.unit
            );
            // Near a toggle, where the axis is cut, a curve has no peak worth a number.
            let peak = line.greatest().filter(|y| *y > first.max(last));
            if let Some(peak) = peak.filter(|_| panel.cut.is_none()) {
                text.push_str(&format!(", peak {} {}", figures(peak), panel.unit));
            }
            out.push(format!("{text}."));
        }
    }
    for toggle in &report.toggles {
        out.push(format!(
            "Toggle of {} at gap {} {}.",
            clean(&toggle.jaw),
            length(toggle.gap, units),
            units.length
        ));
    }
    let meeting = report.dies_meet.as_ref().map(dies_meet(report));
    out.extend((meeting.into_iter().chain(stopped(report))).map(|sentence| sentence.to_string()));
    for dead in &report.dead_positions {
        out.push(format!(
            "Dead position of the handle at {} {}.",
            fixed(dead.handle, 2),
            units.angle
        ));
    }
    out.join(" ")
}

/// What a reader of the picture must know, one sentence each.
pub(super) fn notes(report: &StrokeReport, panels: &[Panel]) -> Vec<String> {
    let mut out = Vec::new();
    for panel in panels {
        out.extend(cut_note(panel));
    }
    if panels.iter().any(|p| !p.stalls.is_empty()) {
        let what = if opens(report) {
            "over the limit: from here on it takes more than the hand's limit to hold the work; the gap there stands \
             beside the grip."
        } else {
            "stall: the hand reaches its limit here, at the gap beside the grip. Thin beyond it: the tool gets no \
             further."
        };
        out.push(format!("\u{2297} {what}"));
    }
    out.extend(demand_marks(panels));
    let marks = panels.iter().map(|p| p.measured.len()).sum();
    out.extend(on_the_bench(report, marks));
    out.extend(held_by_friction(report));
    let level = |line: &Line| line.kind == Kind::Limit && line.is_level();
    let shown = panels
        .iter()
        .any(|p| p.shows == Shows::HandForce && p.lines.iter().any(level));
    let source = report
        .limit
        .as_ref()
        .is_some_and(|limit| limit.source.is_some());
    // One force of the file stands beside its line.
    out.extend(hand_limit(report).filter(|_| !shown || source));
    let locks = |grip: &crate::report::GripReport| grip.jaws.values().any(|f| f.locked);
    let locked: Vec<_> = (report.grips.iter().enumerate())
        .filter(|(i, _)| {
            report
                .positions
                .iter()
                .any(|p| p.grips.get(*i).is_some_and(locks))
        })
        .map(|(_, at)| text::grip(*at, &report.units))
        .collect();
    if !locked.is_empty() {
        out.push(format!(
            "Friction locks the tool in part of the stroke at grip {}; no curve there.",
            locked.join(", ")
        ));
    }
    out
}

/// How the marks of demands are read, and how many have no place on the axis.
fn demand_marks(panels: &[Panel]) -> Option<String> {
    let marks = || {
        panels
            .iter()
            .flat_map(|p| p.demands.iter().map(move |d| (p, d)))
    };
    let (_, _) = marks().next()?;
    let mut text = "Boxes: demands, above their line at most, below it at least; hollow: met, filled with a cross: \
                    missed."
        .to_owned();
    let off = marks()
        .filter(|(p, d)| !(p.low..=p.high).contains(&d.at.1))
        .count();
    match off {
        0 => {}
        1 => text.push_str(" 1 more is beyond the axis."),
        more => text.push_str(&format!(" {more} more are beyond the axis.")),
    }
    Some(text)
}

/// What the marks of readings are, and which readings have none.
fn on_the_bench(report: &StrokeReport, marks: usize) -> Option<String> {
    let measured = report.measured.as_ref()?;
    let others = measured.others + measured.readings.len() - marks;
    let data = clean(&measured.data);
    let elsewhere = match report.direction {
        "opening" => "closing",
        _ => "opening",
    };
    let why = format!(
        "{elsewhere}, at another grip or hand force, or beyond the stroke; `trial` shows them"
    );
    Some(match (marks, others) {
        (0, _) => format!("None of the {others} readings of {data} is shown: {why}."),
        (_, 0) => format!("+ measured: all {marks} readings of {data}."),
        _ => format!("+ measured: {marks} readings of {data}. {others} more are not shown: {why}."),
    })
}

/// Where an axis ends before its curves do.
pub(in crate::output) fn cut_note(panel: &Panel) -> Option<String> {
    let (least, most) = panel.cut?;
    let show = |value: f64| {
        if value.abs() < 1e7 {
            with_thousands(&figures(value))
        } else {
            format!("{value:.1e}")
        }
    };
    let mut ends = Vec::new();
    let mut beyond = Vec::new();
    for (edge, value, outside) in [
        (panel.low, least, least < panel.low),
        (panel.high, most, most > panel.high),
    ] {
        if outside {
            ends.push(panel.ticks.text(edge));
            beyond.push(show(value));
        }
    }
    if ends.is_empty() {
        return None; // rounding the ends to a step took everything in after all
    }
    let what = panel
        .title
        .split(',')
        .next()
        .unwrap_or_default()
        .to_lowercase();
    let (ends, beyond) = (ends.join(" and "), beyond.join(" and "));
    let unit = panel.unit;
    let mut text =
        format!("Axis of {what} cut at {ends} {unit}; the curves go on to {beyond} {unit}.");
    if what.starts_with("jaw force") {
        text.push_str(" At a toggle the force of an ideal rigid tool has no limit.");
    }
    Some(text)
}
