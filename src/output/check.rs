//! `check` in words.

use crate::report::{CheckReport, EventLine};
use std::fmt::Write;

/// What a file describes, for the terminal.
#[must_use]
pub fn check_text(report: &CheckReport) -> String {
    let mut out = String::new();
    let length = report.units.length;
    let show = |v: f64| super::text::length(v, &report.units);
    let mut line = |text: String| {
        let indent = &text[..text.len() - text.trim_start().len()];
        let _ = writeln!(out, "{indent}{}", super::text::clean(text.trim_start()));
    };
    line(format!("{}  ({})", report.tool, report.file));
    line(format!(
        "{} parts, {} pin joints, {} slots; {} degree of freedom{}",
        report.parts.len(),
        report.pin_joints,
        report.slots,
        report.freedom,
        match report.redundant {
            0 => String::new(),
            n => format!(", {n} redundant equations: some pin loads cannot be told by statics"),
        }
    ));
    for part in &report.parts {
        let marks = if part.marks.is_empty() {
            String::new()
        } else {
            format!("; marks {}", part.marks.join(", "))
        };
        let fixed = if part.fixed { " (fixed)" } else { "" };
        line(format!(
            "  {}{fixed}: pins {}{marks}",
            part.name,
            list(&part.pins)
        ));
    }
    line(String::new());
    line(format!("stroke      {:>10} {:>10}", "open", "shut"));
    line(format!(
        "  handle    {:>10.2} {:>10.2}  deg",
        report.handle[0], report.handle[1]
    ));
    for (jaw, gap) in &report.gaps {
        line(format!(
            "  gap {:<6}{:>10} {:>10}  {length}",
            jaw,
            show(gap[0]),
            show(gap[1])
        ));
    }
    for grip in &report.spans {
        if let (Some(open), Some(shut)) = (grip.open, grip.shut) {
            line(format!(
                "  span at {:<7}{:>5} {:>10}  {length}",
                super::text::trimmed(grip.at),
                show(open),
                show(shut)
            ));
        }
    }
    for (pin, open) in &report.open {
        if let Some(shut) = report.shut.get(pin) {
            line(format!(
                "  pin {pin}: ({}, {}) to ({}, {}) {length}",
                show(open.x),
                show(open.y),
                show(shut.x),
                show(shut.y)
            ));
        }
    }
    line(String::new());
    line(format!(
        "over the whole motion the gap runs from {} to {} {length}; {}",
        show(report.reach[0]),
        show(report.reach[1]),
        report.motion
    ));
    let at = |e: &EventLine| format!("handle {:.3} deg, gap {} {length}", e.handle, show(e.gap));
    for event in &report.events {
        line(format!(
            "  {}: {}{}",
            event.what,
            at(event),
            if event.in_stroke {
                " (in the stroke)"
            } else {
                ""
            }
        ));
    }
    for other in &report.others {
        line(format!(
            "  the {} target is also met at {}",
            other.what,
            at(other)
        ));
    }
    for text in report.assumed.iter() {
        line(format!("taken: {text}"));
    }
    for text in &report.advice {
        line(format!("advice: {text}"));
    }
    out
}

fn list(names: &[String]) -> String {
    if names.is_empty() {
        "none".to_owned()
    } else {
        names.join(", ")
    }
}
