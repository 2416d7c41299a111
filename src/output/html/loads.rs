//! Loads, strength factors and give on the page.

use crate::output::sentences::life::{life_formula, place_words};
use crate::output::sentences::loads::{FactorWords, factor_words, give_words, source};
use crate::output::sentences::springs::{check_words, room_words, spring_sentence};
use crate::output::text::{clean, figures, fixed, grip, length};
use crate::report::{LoadsReport, StrokeReport, WoundReport};

/// The greatest load of a pin over the stroke.
pub(super) struct PinRow {
    pub(super) name: String,
    pub(super) load: String,
    pub(super) grip: String,
    pub(super) gap: String,
}

pub(super) struct Factor {
    pub(super) factor: String,
    /// Below one: it does not hold.
    pub(super) low: bool,
    pub(super) what: String,
    pub(super) value: String,
    pub(super) allowable: String,
    /// What set the load, and where.
    pub(super) case: String,
}

/// A spring of wire.
pub(super) struct SpringView {
    pub(super) what: String,
    pub(super) lines: Vec<String>,
}

/// How long the tool lasts, place by place.
pub(super) fn life(loads: &LoadsReport) -> Vec<String> {
    let Some(life) = &loads.life else {
        return Vec::new();
    };
    let places = life.places.iter().map(|line| {
        let (factor, words) = place_words(life, line);
        format!("factor {factor}, {words}")
    });
    let mut out: Vec<String> = places.collect();
    out.push(life_formula(life));
    out.extend(life.notes.iter().cloned());
    out
}

pub(super) fn springs(loads: &LoadsReport) -> Vec<SpringView> {
    let units = &loads.units;
    let view = |spring: &WoundReport| {
        let checks = spring.checks.iter().map(|check| {
            let (factor, words) = check_words(spring, check);
            format!("factor {factor}, {words}")
        });
        SpringView {
            what: spring_sentence(spring, units),
            lines: checks.chain(room_words(spring, units)).collect(),
        }
    };
    loads.springs.iter().map(view).collect()
}

pub(super) fn pins_caption(stroke: &StrokeReport) -> String {
    format!(
        "Greatest load of each pin over the stroke, at {} {} hand force (H), first jaw",
        figures(stroke.hand_force),
        stroke.units.force
    )
}

pub(super) fn greatest_pins(stroke: &StrokeReport) -> Vec<PinRow> {
    let units = &stroke.units;
    let names = stroke.positions.first().and_then(|p| p.grips.first());
    let names = names.map_or_else(Vec::new, |g| g.pin_loads.keys().cloned().collect());
    let row = |name: String| {
        let mut most: Option<(f64, f64, f64)> = None;
        for position in &stroke.positions {
            let gap = stroke.jaws.first().and_then(|jaw| position.jaws.get(jaw));
            for held in &position.grips {
                if let (Some(Some(load)), Some(jaw)) = (held.pin_loads.get(&name), gap)
                    && most.is_none_or(|(known, ..)| *load > known)
                {
                    most = Some((*load, held.at, jaw.gap));
                }
            }
        }
        let or_none = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
        PinRow {
            load: or_none(most.map(|m| figures(m.0))),
            grip: or_none(most.map(|m| grip(m.1, units))),
            gap: or_none(most.map(|m| format!("{} {}", length(m.2, units), units.length))),
            name: clean(&name),
        }
    };
    names.into_iter().map(row).collect()
}

/// Every factor, and the load of most with its place: they stand once, and in a row only what is another there.
/// Neither the words of a load nor its numbers have a comma in them, so that they can be told piece by piece.
pub(super) fn factors(loads: &LoadsReport) -> (Vec<Factor>, Option<String>) {
    let view = |factor| {
        let words = factor_words(loads, factor);
        Factor {
            factor: fixed(factor.factor, 2),
            low: factor.factor < 1.0,
            what: words.what,
            case: words.case,
            value: format!("{} {}", figures(factor.value), factor.unit),
            allowable: format!(
                "{} {} ({})",
                figures(factor.allowable),
                factor.unit,
                factor.against
            ),
        }
    };
    let mut rows: Vec<Factor> = loads.factors.iter().map(view).collect();
    let count = |case: &str| rows.iter().filter(|row| row.case == case).count();
    let usual = rows
        .iter()
        .map(|row| &row.case)
        .max_by_key(|case| count(case));
    let usual = usual.filter(|case| count(case) > 1).cloned();
    let same: Vec<&str> = usual.iter().flat_map(|case| case.split(", ")).collect();
    for row in &mut rows {
        let pieces = row.case.split(", ").filter(|piece| !same.contains(piece));
        row.case = pieces.collect::<Vec<_>>().join(", ");
    }
    (rows, usual)
}

/// The numbers of the least factor, to be checked by hand.
pub(super) fn least(loads: &LoadsReport) -> String {
    loads.factors.first().map_or_else(String::new, |factor| {
        let FactorWords { what, inputs, .. } = factor_words(loads, factor);
        format!(
            "Lowest factor: {what}: {} with {inputs}. The command `loads` gives the numbers of all.",
            factor.formula
        )
    })
}

/// Every formula once, with its source.
pub(super) fn formulas(loads: &LoadsReport) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for factor in &loads.factors {
        let text = format!("{}: {} {}", factor.check, factor.formula, source(factor));
        if !out.contains(&text) {
            out.push(text);
        }
    }
    out
}

/// How far the tool gives at the worst position.
pub(super) fn give(loads: &LoadsReport) -> Vec<String> {
    let Some(case) = loads.cases.first() else {
        return Vec::new();
    };
    give_words(loads, case)
}
