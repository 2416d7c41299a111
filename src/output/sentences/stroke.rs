//! What a stroke comes to, in sentences.

use super::emphasis::{Sentence, Tone};
use super::ratchet::ratchet_sentences;
use super::stops::{stop_met, stop_sentences};
use super::way::{held_by_friction, opens};
use crate::output::text::{self, clean, figures, fixed, length};
use crate::report::{JawForces, Meeting, StrokeReport, Turning, WorkReport};

fn travel(report: &StrokeReport) -> Option<String> {
    let (first, last) = (report.positions.first()?, report.positions.last()?);
    let added = usize::from(report.meeting().is_some_and(|m| m.added));
    let mut text = format!(
        "Handle travel {} deg (from {} to {} deg) in {} steps",
        fixed(last.travel, 2),
        fixed(first.handle, 2),
        fixed(last.handle, 2),
        report.positions.len().saturating_sub(1 + added),
    );
    let gaps = report
        .jaws
        .first()
        .and_then(|jaw| Some((first.gap(jaw)?, last.gap(jaw)?)));
    if let Some((open, shut)) = gaps {
        text.push_str(&format!(
            "; gap {} to {} {}",
            length(open, &report.units),
            length(shut, &report.units),
            report.units.length
        ));
    }
    text.push('.');
    Some(text)
}

/// Whose gap the stroke's open and shut are, where the tool has several jaws and either is a gap.
pub(in crate::output) fn whose_gaps(report: &StrokeReport) -> Option<String> {
    if report.jaws.len() < 2 {
        return None;
    }
    let [open, shut] = [0, 1].map(|end| report.ends[end].jaw.as_deref().map(clean));
    match (open, shut) {
        (None, None) => None,
        (Some(open), Some(shut)) if open == shut => {
            Some(format!("open and shut by the gap of {open}"))
        }
        (Some(open), Some(shut)) => {
            Some(format!("open by the gap of {open}, shut by that of {shut}"))
        }
        (Some(open), None) => Some(format!("open by the gap of {open}")),
        (None, Some(shut)) => Some(format!("shut by the gap of {shut}")),
    }
}

fn place(report: &StrokeReport, turning: &Turning) -> String {
    format!(
        "{} at handle {} deg, gap {} {}",
        clean(&turning.jaw),
        fixed(turning.handle, 2),
        length(turning.gap, &report.units),
        report.units.length
    )
}

/// Where the stroke ends for the forces, before it is shut.
pub(in crate::output) fn dies_meet(report: &StrokeReport) -> impl Fn(&Meeting) -> Sentence {
    |meeting| {
        Sentence::toned(Tone::Warning, "DIES MEET").and(format!(
            ": {} at handle {} deg, gap {} {}: the stroke ends there for the forces, of {} deg travel {} \
             are left.",
            clean(meeting.name()),
            fixed(meeting.handle, 2),
            length(meeting.gap, &report.units),
            report.units.length,
            fixed(report.positions.last().map_or(0.0, |p| p.travel), 2),
            fixed(
                report
                    .positions
                    .last()
                    .map_or(0.0, |p| p.travel - meeting.travel),
                2
            ),
        ))
    }
}

/// Where a stop, or the end of a cam's face, ends the stroke before it is shut.
pub(in crate::output) fn stopped(report: &StrokeReport) -> Option<Sentence> {
    let meeting = report.stop_met.as_ref().or(report.face_ends.as_ref())?;
    let travel = report.positions.last().map(|p| p.travel);
    Some(stop_met(meeting, travel, &report.units))
}

/// Where friction lets nothing through, and where a cam lifts off, from where to where.
fn locks(report: &StrokeReport) -> Vec<Sentence> {
    let mut out = runs(
        report,
        "LOCKS ITSELF",
        "friction lets no hand force through",
        |f| f.locked,
    );
    out.extend(runs(
        report,
        "LIFTS OFF",
        "the cam would have to pull there, so the hand force has no way to the jaw",
        |f| f.lifts_off,
    ));
    out
}

/// The runs of positions for which something holds, in sentences.
fn runs(
    report: &StrokeReport,
    head: &'static str,
    why: &str,
    holds: impl Fn(&JawForces) -> bool,
) -> Vec<Sentence> {
    let mut out = Vec::new();
    for jaw in &report.jaws {
        for (grip, at) in report.grips.iter().enumerate() {
            let locked = |index: &usize| {
                let position = report.positions.get(*index);
                position
                    .and_then(|p| p.forces(grip, jaw))
                    .is_some_and(&holds)
            };
            let gap = |index: usize| {
                let gap = report.gap(index, jaw);
                gap.map_or(String::new(), |gap| length(gap, &report.units))
            };
            let all: Vec<usize> = (0..report.positions.len()).filter(locked).collect();
            for run in all.chunk_by(|a, b| a + 1 == *b) {
                if let (Some(&first), Some(&last)) = (run.first(), run.last()) {
                    out.push(Sentence::toned(Tone::Bad, head).and(format!(
                        ": {} at grip {}, at the positions from gap {} to {} {}: {why}.",
                        clean(jaw),
                        text::grip(*at, &report.units),
                        gap(first),
                        gap(last),
                        report.units.length
                    )));
                }
            }
        }
    }
    out
}

/// The hand's limit and where it comes from, in a sentence.
pub(in crate::output) fn hand_limit(report: &StrokeReport) -> Option<String> {
    let limit = report.limit.as_ref()?;
    let source = (limit.source.as_ref()).map_or(String::new(), |s| format!(" ({})", clean(s)));
    let text = clean(&limit.text);
    // What the set amounts to here; a single force of the file says so itself.
    let (least, most) = (
        limits(report).fold(f64::INFINITY, f64::min),
        limits(report).fold(f64::NEG_INFINITY, f64::max),
    );
    let unit = report.units.force;
    let amount = if least < most {
        format!(
            "{} to {} {unit}, depending on grip span",
            figures(least),
            figures(most)
        )
    } else if least == most && limit.source.is_some() {
        format!("{} {unit}", figures(most))
    } else {
        return Some(format!("Hand limit: {text}{source}."));
    };
    Some(match source.is_empty() {
        true => format!("Hand limit: {amount} ({text})."),
        false => format!("Hand limit: {amount}, {text}{source}."),
    })
}

/// Every known value of the hand's limit: at the positions, and where the hand force is greatest or the
/// tool stalls.
fn limits(report: &StrokeReport) -> impl Iterator<Item = f64> {
    let rows = report.limit.iter().flat_map(|l| l.hand_force.iter());
    let at = |work: &'_ WorkReport| {
        let peaks = work.peaks.iter().map(|p| p.limit);
        let all: Vec<Option<f64>> = peaks.chain(work.stall_limits.iter().copied()).collect();
        all
    };
    let between = report.work.iter().flat_map(at);
    rows.flatten().copied().chain(between).flatten()
}

/// Whether the hand's limit is not the same at all spans.
fn limit_by_span(report: &StrokeReport) -> bool {
    let mut all = limits(report);
    let first = all.next();
    all.any(|limit| Some(limit) != first)
}

/// What the work asks of the hand, and where it stops the tool.
fn hand(report: &StrokeReport) -> Vec<Sentence> {
    let units = &report.units;
    let mut out: Vec<Sentence> = hand_limit(report).into_iter().map(Sentence::from).collect();
    let Some(work) = &report.work else {
        return out;
    };
    let at_gap = |gap: f64| format!("at gap {} {}", length(gap, units), units.length);
    for ((grip, at), peak) in report.grips.iter().enumerate().zip(&work.peaks) {
        let mut text = format!("Grip {}: ", text::grip(*at, units));
        match (peak.hand_force, peak.why) {
            // The work asks for nothing.
            (Some(force), _) if !(force > 0.0) => continue,
            (Some(force), _) => text.push_str(&format!(
                "{} {} {} {}",
                if opens(report) {
                    "to hold against the work takes up to"
                } else {
                    "peak hand force"
                },
                figures(force),
                units.force,
                at_gap(peak.gap)
            )),
            (None, why) => text.push_str(&format!(
                "no peak hand force, {}: {}",
                at_gap(peak.gap),
                why.map_or_else(|| "no value".to_owned(), clean)
            )),
        }
        if let Some(limit) = peak.limit.filter(|_| limit_by_span(report)) {
            text.push_str(&format!(
                ", where the limit is {} {}",
                figures(limit),
                units.force
            ));
        }
        let stall = work.stalls.get(grip).copied().flatten();
        let limit = work.stall_limits.get(grip).copied().flatten();
        let opening = opens(report);
        let beyond = |word: &str, why: String| {
            Sentence::from(format!("{text}; "))
                .and_toned(Tone::Bad, word)
                .and(why)
        };
        let reached = if opening { "TOO MUCH" } else { "STALLS" };
        out.push(match (stall, limit) {
            (Some(gap), Some(limit)) => beyond(
                reached,
                format!(
                    ": the {} {} limit is reached {}.",
                    figures(limit),
                    units.force,
                    at_gap(gap)
                ),
            ),
            (Some(gap), None) => beyond("STALLS", format!(": friction locks {}.", at_gap(gap))),
            (None, _) if report.limit.is_some() && opening => {
                (text + "; within the hand's limit.").into()
            }
            (None, _) if report.limit.is_some() => (text + "; no stall.").into(),
            (None, _) => (text + ".").into(),
        });
    }
    out
}

/// What the stroke comes to, one sentence each: travel, toggles, locks, what the hand must give.
pub(in crate::output) fn sentences(report: &StrokeReport) -> Vec<Sentence> {
    let mut out: Vec<Sentence> = travel(report).into_iter().map(Sentence::from).collect();
    out.extend((report.toggles.iter()).map(|toggle| {
        format!("Toggle of {}: the jaw stands still.", place(report, toggle)).into()
    }));
    out.extend((report.dead_positions.iter()).map(|dead| {
        format!(
            "Dead position at {}: the handle stands still.",
            place(report, dead)
        )
        .into()
    }));
    out.extend(report.dies_meet.as_ref().map(dies_meet(report)));
    out.extend(stopped(report));
    for stop in &report.stops {
        let said = stop_sentences(stop, &report.units);
        out.extend(said.into_iter().map(Sentence::from));
    }
    out.extend((report.ratchet.iter()).flat_map(|line| ratchet_sentences(line, &report.units)));
    out.extend(locks(report));
    out.extend(held_by_friction(report).map(Sentence::from));
    out.extend(hand(report));
    if !report.indeterminate.is_empty() {
        let pins: Vec<_> = report.indeterminate.iter().map(|p| clean(p)).collect();
        out.push(
            format!(
                "Pins whose load statics alone cannot tell (more bars than needed): {}.",
                pins.join(", ")
            )
            .into(),
        );
    }
    out
}

/// How well the two routes and the loops agree.
pub(in crate::output) fn checks(report: &StrokeReport) -> String {
    let checks = &report.checks;
    format!(
        "loops close to {:.0e}, jaw force by two methods to {:.0e}, \
         free bodies balance to {:.0e} (relative).",
        checks.closure, checks.virtual_work, checks.free_body
    )
}
