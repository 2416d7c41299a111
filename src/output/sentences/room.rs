//! Room to move and places where fingers are caught, in sentences.

use crate::output::text::{clean, length};
use crate::report::{PairLine, PinchLine, RoomReport, UnitNames};
use crate::units::trimmed as number;

/// How plates come near each other, a sentence each; empty where nothing is to be said.
pub(in crate::output) fn room(room: &RoomReport, units: &UnitNames) -> Vec<String> {
    let mut said: Vec<String> = (room.pairs.iter())
        .map(|pair| apart(pair, room.apart, units))
        .collect();
    let caught = room.pinches.iter().filter(|pinch| pinch.pinches);
    let caught: Vec<String> = caught
        .map(|pinch| beside(pinch, room.finger, units))
        .collect();
    if caught.is_empty() && !room.pinches.is_empty() {
        let (finger, unit) = (length(room.finger, units), units.length);
        said.push(format!(
            "no place {} narrows through a finger's {finger} {unit}",
            if room.everywhere {
                "between parts"
            } else {
                "beside a handle"
            }
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

fn apart(pair: &PairLine, asked: Option<f64>, units: &UnitNames) -> String {
    let [a, b] = pair.parts.each_ref().map(|name| clean(name));
    let share = (100.0 * pair.share).round();
    let at = clean(&pair.spot);
    let (handle, unit) = (number(pair.handle, 1), units.length);
    let said = if pair.touches {
        format!(
            "{a} and {b} TOUCH in one layer, first at {share} % of the stroke (handle at {handle}\u{b0}), {at}"
        )
    } else {
        let less = match asked.filter(|_| pair.too_near) {
            Some(asked) => format!(", LESS than the {} {unit} asked for", length(asked, units)),
            None => String::new(),
        };
        format!(
            "{a} and {b}, in one layer: {} {unit} apart at least{less}, at {share} % of the stroke, {at}",
            length(pair.distance, units),
        )
    };
    match &pair.beyond {
        None => said,
        Some(beyond) => {
            let by = beyond.opened.map_or(String::new(), |angle| {
                format!(" by {}\u{b0}", number(angle, 1))
            });
            let at = clean(&beyond.spot);
            format!("{said}; opened farther{by} they touch {at}")
        }
    }
}

fn beside(pinch: &PinchLine, finger: f64, units: &UnitNames) -> String {
    let [handle, other] = pinch.parts.each_ref().map(|name| clean(name));
    let [open, shut] = pinch.widths.map(|width| length(width, units));
    format!(
        "PINCH: {} {handle}, {}, the way to {other} goes from {open} to {shut} {}, through a finger's {} {}",
        if pinch.beside_handle { "beside" } else { "at" },
        clean(&pinch.spot),
        units.length,
        length(finger, units),
        units.length
    )
}
