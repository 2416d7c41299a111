//! Room to move and places where fingers are caught, for the terminal.

use crate::output::text::{clean, length, wrap};
use crate::report::{CheckReport, PairLine, PinchLine};

/// The block of `check`; nothing where no plates are held against each other.
pub(super) fn room(report: &CheckReport, width: usize) -> Vec<String> {
    let Some(room) = &report.room else {
        return Vec::new();
    };
    let mut lines = vec!["Room to move, open to shut".to_owned()];
    let mut say = |text: String| lines.extend(wrap("  ", &text, width, 4));
    for pair in &room.pairs {
        say(apart(pair, report));
    }
    let caught: Vec<&PinchLine> = room.pinches.iter().filter(|pinch| pinch.pinches).collect();
    for pinch in &caught {
        say(beside(pinch, room.finger, report));
    }
    if caught.is_empty() && !room.pinches.is_empty() {
        let finger = length(room.finger, &report.units);
        let unit = report.units.length;
        say(format!(
            "no place beside a handle narrows through a finger's {finger} {unit}"
        ));
    }
    if !room.left_out.is_empty() {
        let names = clean(&room.left_out.join(", "));
        say(format!(
            "held against none, without outline or layers: {names}"
        ));
    }
    lines
}

fn place([x, y]: [f64; 2], report: &CheckReport) -> String {
    let show = |v: f64| length(v, &report.units);
    format!("({}, {})", show(x), show(y))
}

fn apart(pair: &PairLine, report: &CheckReport) -> String {
    let [a, b] = pair.parts.each_ref().map(|name| clean(name));
    let share = (100.0 * pair.share).round();
    let at = place(pair.at, report);
    if pair.touches {
        return format!(
            "{a} and {b} TOUCH in one layer, first at {share} % of the stroke, at {at}"
        );
    }
    let unit = report.units.length;
    format!(
        "{a} and {b}, in one layer: {} {unit} apart at least, at {share} % of the stroke, at {at}",
        length(pair.distance, &report.units)
    )
}

fn beside(pinch: &PinchLine, finger: f64, report: &CheckReport) -> String {
    let [handle, other] = pinch.parts.each_ref().map(|name| clean(name));
    let [open, shut] = pinch.widths.map(|width| length(width, &report.units));
    let unit = report.units.length;
    let way = format!(
        "beside {handle} at {} of it, the way to {other} goes from {open} to {shut} {unit}",
        place(pinch.at, report)
    );
    format!(
        "PINCH: {way}, through a finger's {} {unit}",
        length(finger, &report.units)
    )
}
