//! Measures as a report says them: "load of pin knee, peak" where a file says `pin_load.knee` and "peak".

use crate::output::text::clean;
use crate::report::UnitNames;

/// A measure and its position, both as a file says them. What is no measure of a file stays as it is.
pub(in crate::output) fn phrase(measure: &str, at: Option<&str>, units: &UnitNames) -> String {
    let (word, of) = match measure.split_once('.') {
        Some((word, of)) => (word, Some(of)),
        None => (measure, None),
    };
    let mut text = match (word, of) {
        ("pin_load", Some(pin)) => format!("load of pin {pin}"),
        ("safety", Some(of)) => format!("strength factor of {of}"),
        ("stop_load", Some(stop)) => format!("load of stop {stop}"),
        ("contact", Some(of)) => format!("contact force of {of}"),
        ("pressure_angle", Some(cam)) => format!("pressure angle of {cam}"),
        ("safety", None) => "strength factor".to_owned(),
        ("effort", None) => "effort, share of the hand's strength".to_owned(),
        ("effort", Some(jaw)) => format!("effort for {jaw}, share of the hand's strength"),
        ("acceptable_force", None) => "acceptable hand force, repeated".to_owned(),
        ("hal", None) => "hand activity level".to_owned(),
        ("strain_index", None) => "Revised Strain Index".to_owned(),
        ("strain_index", Some(jaw)) => format!("Revised Strain Index for {jaw}"),
        ("hand_share", None) => "share of the hand's limit".to_owned(),
        ("toggle_margin", None) => "margin to the toggle, handle".to_owned(),
        ("toggle_margin", Some("gap")) => "margin to the toggle, gap".to_owned(),
        ("spring_safety", None) => "strength factor of the springs".to_owned(),
        ("spring_stress", None) => "stress in the springs".to_owned(),
        ("ratchet", Some("step")) => "greatest back-step of the ratchet".to_owned(),
        ("ratchet", Some("free_gap")) => "gap at which the ratchet lets go".to_owned(),
        ("yield", None) => "yield, share of the made tools".to_owned(),
        ("mass", None) => "mass of plates and pins".to_owned(),
        ("clearance", None) => "least clearance of plates in a layer".to_owned(),
        ("clearance", Some(pair)) => format!("clearance of {}", pair.replacen('.', " and ", 1)),
        ("pinch", None) => "least width beside a handle".to_owned(),
        ("stress", Some(part)) => format!("stress of {part}"),
        ("offset", None) => "sideways offset of the jaw".to_owned(),
        ("hand_work", None) => "work of the hand".to_owned(),
        ("jaw_work", None) => "work at the jaw".to_owned(),
        ("jaw_force" | "hand_force", None) => word.replace('_', " "),
        ("hand_force", Some(jaw)) => format!("hand force for {jaw}"),
        ("hand_share", Some(jaw)) => format!("share of the hand's limit for {jaw}"),
        ("hand_work", Some(jaw)) => format!("work of the hand for {jaw}"),
        ("jaw_work", Some(jaw)) => format!("work at {jaw}"),
        ("offset", Some(jaw)) => format!("sideways offset of {jaw}"),
        ("jaw_force", Some(jaw)) => format!("jaw force of {jaw}"),
        ("gap" | "ratio" | "efficiency", Some(jaw)) => format!("{word} of {jaw}"),
        _ => measure.to_owned(),
    };
    match at.map(|at| (at, at.split_once('='))) {
        None => {}
        Some(("peak", _)) => text.push_str(", peak"),
        Some(("least", _)) => text.push_str(", least"),
        Some((at, None)) => text.push_str(&format!(" at {at}")),
        Some((_, Some((what, value)))) => {
            if what == "stop" {
                return clean(&format!("{text} at stop {value}"));
            }
            let unit = if what == "handle" {
                units.angle
            } else {
                units.length
            };
            text.push_str(&format!(" at {what} {value} {unit}"));
        }
    }
    clean(&text)
}

/// The same of a measure whose position and grip stand behind it: `jaw_force at gap=1, grip 90 mm`.
pub(in crate::output) fn phrase_of(name: &str, units: &UnitNames) -> String {
    let (rest, grip) = match name.split_once(", grip ") {
        Some((rest, grip)) => (rest, Some(grip)),
        None => (name, None),
    };
    let (measure, at) = match rest.split_once(" at ") {
        Some((measure, at)) => (measure, Some(at)),
        None => (rest, None),
    };
    let mut text = phrase(measure, at, units);
    if let Some(grip) = grip {
        text.push_str(&format!(", grip {}", clean(grip)));
        if !grip.ends_with(units.length) {
            text.push_str(&format!(" {}", units.length));
        }
    }
    text
}

/// A sentence that names measures as a file does, between backticks, with plain words in their place.
pub(in crate::output) fn plain(sentence: &str, units: &UnitNames) -> String {
    let mut out = String::new();
    for (k, piece) in clean(sentence).split('`').enumerate() {
        match (k % 2 == 1).then(|| phrase_of(piece, units)) {
            None => out.push_str(piece),
            // No measure, or one that is its own plain word.
            Some(said) if said == piece => out.push_str(&format!("`{piece}`")),
            Some(said) => out.push_str(&said),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand.
    #[test]
    fn a_report_says_measures_in_plain_words() {
        let units = UnitNames {
            length: "mm",
            force: "N",
            angle: "deg",
        };
        for (name, plain) in [
            (
                "jaw_force at gap=1, grip 90 mm",
                "jaw force at gap 1 mm, grip 90 mm",
            ),
            ("pin_load.knee at peak", "load of pin knee, peak"),
            ("ratio at shut", "ratio at shut"),
            ("span at handle=12.5", "span at handle 12.5 deg"),
            ("ratio.far at shut", "ratio of far at shut"),
            ("hand_force.far at peak", "hand force for far, peak"),
            ("safety", "strength factor"),
            ("spring_safety", "strength factor of the springs"),
            ("stop_load.lug", "load of stop lug"),
            ("gap at stop=lug", "gap at stop lug"),
            ("safety.ram", "strength factor of ram"),
            ("hand_work, grip 60 mm", "work of the hand, grip 60 mm"),
            ("hand_work, grip 60", "work of the hand, grip 60 mm"),
        ] {
            assert_eq!(phrase_of(name, &units), plain);
        }
    }

    /// By hand: what is no measure stays as it is typed.
    #[test]
    fn measures_in_a_sentence_are_said_in_plain_words() {
        let units = UnitNames {
            length: "mm",
            force: "N",
            angle: "deg",
        };
        assert_eq!(
            plain(
                "left out: `pin_load.knee at gap=0.4`: one; `--set` does more",
                &units
            ),
            "left out: load of pin knee at gap 0.4 mm: one; `--set` does more"
        );
    }
}
