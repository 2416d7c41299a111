//! Stops in sentences: where they are met, what is left on the way there, what they carry.

use super::emphasis::{Sentence, Tone};
use crate::output::text::{clean, figures, fixed, grip, length};
use crate::report::{Meeting, StopLine, StopLoadLine, UnitNames};

/// Handle angles nearer than this are one, degrees.
const SAME: f64 = 5e-3;

/// What is to be said of a stop, one sentence each.
pub(in crate::output) fn stop_sentences(stop: &StopLine, units: &UnitNames) -> Vec<String> {
    let name = clean(&stop.name);
    let (Some(handle), Some(gap), Some(left)) = (stop.handle, stop.gap, stop.left) else {
        return vec![format!(
            "Stop {name}: the motion does not come to it, so that it ends nothing."
        )];
    };
    let place = format!(
        "at handle {} deg, gap {} {}",
        fixed(handle, 2),
        length(gap, units),
        units.length
    );
    let deg = |angle: f64| format!("{} deg", fixed(angle.abs(), 2));
    let mut text = match (stop.ends, stop.met) {
        ("open", true) => format!("Stop {name}: the stroke begins there, {place}"),
        ("open", false) => format!(
            "Stop {name}: met {place}, {} before the stroke is open",
            deg(left)
        ),
        (_, true) if left.abs() < SAME => {
            format!("Stop {name}: the stroke is shut there, {place}")
        }
        (_, true) => format!("Stop {name}: met {place}, {} before shut", deg(left)),
        (_, false) if left < -SAME => format!("Stop {name}: it would be met {place}"),
        (_, false) => format!(
            "Stop {name}: over-travel of {} from shut to it, {place}",
            deg(left)
        ),
    };
    match stop.dies {
        Some(dies) if dies > SAME => {
            text.push_str(&format!("; the dies would meet {} later", deg(dies)));
        }
        Some(dies) if dies < -SAME => {
            text.push_str(&format!("; the dies meet {} before", deg(dies)))
        }
        Some(_) => text.push_str("; the dies meet with it"),
        None => {}
    }
    let mut out = vec![format!("{text}.")];
    if stop.met {
        out.extend(stop.loads.iter().map(|load| carries(stop, load, units)));
    }
    out
}

fn carries(stop: &StopLine, load: &StopLoadLine, units: &UnitNames) -> String {
    let name = clean(&stop.name);
    let at = grip(load.grip, units);
    let force = |v: f64| format!("{} {}", figures(v), units.force);
    match (load.stop, load.hand, load.jaw) {
        (Some(on), _, _) if stop.ends == "open" => format!(
            "Stop {name} carries {} at open with the hand off.",
            force(on)
        ),
        (Some(on), Some(hand), Some(jaw)) => {
            let mut text = format!(
                "Stop {name} carries {} at grip {at}: {} of hand force, less the {} that the work takes.",
                force(on),
                force(hand),
                force(jaw)
            );
            if let Some(of) = &load.shared {
                text.push_str(&format!(
                    " As its faces give, {} % of what the hand gives beyond the work go on into the jaw: {} there, {} on \
                     the stop.",
                    fixed(100.0 * of.share, 1),
                    force(of.jaw),
                    force(of.stop)
                ));
            }
            text
        }
        _ => format!(
            "Stop {name} carries nothing at grip {at}: {}.",
            load.why.unwrap_or_default()
        ),
    }
}

/// Where a stop, or the end of a cam's face, ends the stroke for the forces, before it is shut.
pub(in crate::output) fn stop_met(
    meeting: &Meeting,
    travel: Option<f64>,
    units: &UnitNames,
) -> Sentence {
    let whole = travel.unwrap_or(0.0);
    let what = match meeting.cam {
        Some(_) => "FACE OF CAM ENDS",
        None => "STOP MET",
    };
    Sentence::toned(Tone::Warning, what).and(format!(
        ": {} at handle {} deg, gap {} {}: the stroke ends there, of {} deg travel {} are left.",
        clean(meeting.name()),
        fixed(meeting.handle, 2),
        length(meeting.gap, units),
        units.length,
        fixed(whole, 2),
        fixed(whole - meeting.travel, 2),
    ))
}
