//! Room to move and places where fingers are caught, in sentences.

use crate::output::text::{clean, length};
use crate::report::{PairLine, PinchLine, RoomReport, UnitNames};

/// How plates come near each other, a sentence each; empty where nothing is to be said.
pub(in crate::output) fn room(room: &RoomReport, units: &UnitNames) -> Vec<String> {
    let mut said: Vec<String> = room.pairs.iter().map(|pair| apart(pair, units)).collect();
    let caught = room.pinches.iter().filter(|pinch| pinch.pinches);
    let caught: Vec<String> = caught
        .map(|pinch| beside(pinch, room.finger, units))
        .collect();
    if caught.is_empty() && !room.pinches.is_empty() {
        let (finger, unit) = (length(room.finger, units), units.length);
        said.push(format!(
            "no place beside a handle narrows through a finger's {finger} {unit}"
        ));
    }
    said.extend(caught);
    if !room.left_out.is_empty() {
        let names = clean(&room.left_out.join(", "));
        said.push(format!(
            "held against none, without outline or layers: {names}"
        ));
    }
    said
}

fn place([x, y]: [f64; 2], units: &UnitNames) -> String {
    format!("({}, {})", length(x, units), length(y, units))
}

fn apart(pair: &PairLine, units: &UnitNames) -> String {
    let [a, b] = pair.parts.each_ref().map(|name| clean(name));
    let share = (100.0 * pair.share).round();
    let at = place(pair.at, units);
    if pair.touches {
        return format!(
            "{a} and {b} TOUCH in one layer, first at {share} % of the stroke, at {at}"
        );
    }
    format!(
        "{a} and {b}, in one layer: {} {} apart at least, at {share} % of the stroke, at {at}",
        length(pair.distance, units),
        units.length
    )
}

fn beside(pinch: &PinchLine, finger: f64, units: &UnitNames) -> String {
    let [handle, other] = pinch.parts.each_ref().map(|name| clean(name));
    let [open, shut] = pinch.widths.map(|width| length(width, units));
    format!(
        "PINCH: beside {handle} at {} of it, the way to {other} goes from {open} to {shut} {}, through a finger's {} {}",
        place(pinch.at, units),
        units.length,
        length(finger, units),
        units.length
    )
}
