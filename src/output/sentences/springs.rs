//! Springs of wire in sentences.

use crate::output::text::{clean, figures, fixed, length, trimmed};
use crate::report::{UnitNames, WoundCheck, WoundReport};

/// What is bought, and what it goes through.
pub(in crate::output) fn spring_sentence(spring: &WoundReport, units: &UnitNames) -> String {
    let l = units.length;
    let name = match &spring.name {
        Some(name) => clean(name),
        None => spring.spring.to_string(),
    };
    let ends = spring.ends.map_or(String::new(), |ends| match ends {
        "hooks" => ", hooks".to_owned(),
        _ => format!(", ends {ends}"),
    });
    let [least, most] = spring.loads;
    format!(
        "Spring {name}: {} {} {l}, coils {} {l} mean and {} {l} outside, {} turns{ends}: {} {}; {} to {} {}, most at gap \
         {} {l}, stress there {} {}",
        spring.made_of,
        size(spring.wire),
        size(spring.coil),
        size(spring.outside),
        size(spring.turns),
        figures(spring.rate),
        spring.rate_unit,
        figures(least),
        figures(most),
        spring.load_unit,
        length(spring.gap, units),
        figures(spring.stress),
        spring.stress_unit
    )
}

/// A size as makers list it: four decimals at most, as many as it has.
pub(in crate::output) fn size(value: f64) -> String {
    trimmed((1e4 * value).round() / 1e4)
}

/// One check: its factor, and the rest of its line.
pub(in crate::output) fn check_words(spring: &WoundReport, check: &WoundCheck) -> (String, String) {
    let unit = spring.stress_unit;
    let limit = format!(
        "{} % of {} {unit}",
        trimmed((1000.0 * check.share).round() / 10.0),
        figures(spring.ultimate)
    );
    let mark = if check.unconfirmed { "*" } else { "" };
    let words = format!(
        "{}: {} against {} {unit} ({limit}) [{}{mark}]",
        check.check,
        figures(check.stress),
        figures(check.allowable),
        check.source
    );
    (fixed(check.factor, 2), words)
}

/// Whether it has room, a sentence each.
pub(in crate::output) fn room_words(spring: &WoundReport, units: &UnitNames) -> Vec<String> {
    let l = units.length;
    let mut said = Vec::new();
    if let (Some(solid), Some("hooks")) = (spring.solid, spring.ends) {
        said.push(format!(
            "with its coils closed {} {l} between the insides of its hooks",
            length(solid, units)
        ));
    } else if let (Some(solid), Some(shortest)) = (spring.solid, spring.shortest) {
        let buckles = match spring.buckles_at {
            Some(at) => format!("buckles below {} {l} unless guided", length(at, units)),
            None => "does not buckle".to_owned(),
        };
        said.push(format!(
            "shortest {} {l}, solid at {} {l}; {buckles}",
            length(shortest, units),
            length(solid, units)
        ));
    }
    if let Some(clearance) = spring.clearance {
        let play = length(clearance, units);
        said.push(match spring.about_pin {
            true => {
                format!("play on its mandrel where it is wound up most: {play} {l} to each side")
            }
            false => format!("least play in its guide: {play} {l} on the diameter"),
        });
    }
    if spring.loose {
        said.push("lies loose with the tool open: it may rattle or fall out".to_owned());
    }
    if let Some(why) = spring.not_checked {
        said.push(format!("repeated load not checked: {why}"));
    }
    said.extend(
        spring
            .faults
            .iter()
            .map(|fault| format!("NOT possible: {}", clean(fault))),
    );
    said
}

/// What the mark of a figure means, if there is one.
pub(in crate::output) fn unconfirmed(springs: &[WoundReport]) -> Option<&'static str> {
    let mut checks = springs.iter().flat_map(|spring| &spring.checks);
    (checks.any(|check| check.unconfirmed))
        .then_some("*: unconfirmed figure; verify it against the source.")
}
