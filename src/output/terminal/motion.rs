//! What happens on the whole motion, for `check`.

use crate::output::text::{self, clean, fixed, right, wrap};
use crate::report::{CheckReport, EventLine};

/// What the linkage can do beyond the stroke: what is next to it, or all.
pub(super) fn motion(report: &CheckReport, width: usize, all: bool) -> Vec<String> {
    let units = &report.units;
    let show = |v: f64| text::length(v, units);
    let jaw = report.gaps.keys().next().map_or("", String::as_str);
    let text = format!(
        "The whole motion: the gap of {} runs from {} to {} {}; {}.",
        clean(jaw),
        show(report.reach[0]),
        show(report.reach[1]),
        units.length,
        report.motion
    );
    let mut lines = wrap("", &text, width, 2);
    let mut line = |e: &EventLine, what: &str| {
        let place = format!(
            "  handle{} deg, gap{} {}: ",
            right(&fixed(e.handle, 2), 8),
            right(&show(e.gap), 8),
            units.length
        );
        lines.extend(wrap(&place, what, width, 4));
    };
    let mut events: Vec<&EventLine> = report.events.iter().filter(|e| all || e.near).collect();
    events.sort_by_key(|event| event.rank);
    for event in &events {
        let inside = if event.in_stroke {
            ", in the stroke"
        } else {
            ""
        };
        let what = format!("{}{inside}", clean(&event.what).replace('`', ""));
        line(event, &what);
    }
    for other in report.others.iter().filter(|_| all) {
        line(
            other,
            &format!("passes the {} position again", clean(&other.what)),
        );
    }
    for (word, meaning) in MEANINGS {
        if events.iter().any(|event| event.what.starts_with(word)) {
            lines.extend(wrap("  ", &format!("{word}: {meaning}"), width, 4));
        }
    }
    match report.events.len() + report.others.len() - events.len() {
        0 => {}
        _ if all => {}
        more => lines.push(format!("  {more} more far from the stroke: --all.")),
    }
    if !report.others.is_empty() {
        lines.push("Of several strokes the one nearest the sketch is taken.".to_owned());
    }
    lines
}

/// The words for what may happen on a motion; the gap beside a jaw's is its own, else that of the first jaw.
const MEANINGS: [(&str, &str); 4] = [
    (
        "toggle",
        "that jaw, whose gap is given, stands still while the handle moves on; a stroke cannot go past it.",
    ),
    (
        "dead position",
        "the handle stands still while the jaw moves; the hand cannot move the tool there.",
    ),
    (
        "turn of the handle",
        "the handle goes back over angles that it has had.",
    ),
    (
        "change point",
        "the links lie in line, and the linkage may go on either way.",
    ),
];
