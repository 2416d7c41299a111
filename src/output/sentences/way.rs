//! Closing or opening: how the two ways of a stroke are spoken of.

use crate::output::text::figures;
use crate::report::StrokeReport;

/// The tool is let open: the work drives, and the hand holds back.
pub(in crate::output) fn opens(report: &StrokeReport) -> bool {
    report.direction == "opening"
}

/// What a reader of an opening stroke must know, or he takes it for a stronger tool.
pub(in crate::output) fn held_by_friction(report: &StrokeReport) -> Option<String> {
    let grips = || report.positions.iter().flat_map(|p| &p.grips);
    let mut jaws = grips().flat_map(|grip| grip.jaws.values());
    let rubs = jaws.any(|jaw| jaw.locked || jaw.efficiency.is_some_and(|e| e < 1.0 - 1e-9));
    (opens(report) && rubs).then(|| "Opening: friction helps the hand to hold.".to_owned())
}

/// What the first panel shows.
pub(in crate::output) fn jaw_title(report: &StrokeReport) -> String {
    let (force, hand) = (report.units.force, figures(report.hand_force));
    if opens(report) {
        format!("Jaw force held back, {force}, with {hand} {force} on the handles")
    } else {
        format!("Jaw force, {force}, at {hand} {force} hand force")
    }
}

/// What the second panel shows, in this unit.
pub(in crate::output) fn hand_title(report: &StrokeReport, unit: &str) -> String {
    if opens(report) {
        format!("Hand force at which the tool starts to open, {unit}")
    } else {
        format!("Hand force that the work needs, {unit}")
    }
}

/// What happens where more is needed than the hand's limit.
pub(in crate::output) fn stall_word(report: &StrokeReport) -> &'static str {
    if opens(report) {
        "over the limit at"
    } else {
        "stalls at"
    }
}
