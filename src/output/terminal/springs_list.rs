//! `springs` for the terminal: what can be bought for each place of a spring.

use crate::output::sentences::springs::{size, spring_sentence, unconfirmed};
use crate::output::text::{aligned, clean, figures, fixed, joined, length, wrap};
use crate::report::{SpringChoices, SpringsReport, UnitNames, WoundReport};

/// The springs that can be bought, as terminal text: tables, and sentences at most `width` columns wide.
#[must_use]
pub fn springs_text(report: &SpringsReport, width: usize) -> String {
    let mut lines = wrap("", &clean(&report.tool), width, 2);
    lines.extend(wrap("", &clean(&report.file), width, 2));
    if report.springs.is_empty() {
        lines.push(String::new());
        let text =
            "The tool has no springs: give one in [[springs]] with the rate that it should have.";
        lines.extend(wrap("", text, width, 0));
        return joined(&lines);
    }
    for spring in &report.springs {
        lines.push(String::new());
        one(spring, &report.units, width, &mut lines);
    }
    lines.push(String::new());
    let mut marked = report
        .springs
        .iter()
        .map(|spring| unconfirmed(&spring.choices));
    if let Some(text) = marked.find_map(|mark| mark) {
        lines.extend(wrap("", text, width, 2));
    }
    for note in &report.notes {
        lines.extend(wrap("", note, width, 2));
    }
    joined(&lines)
}

fn one(spring: &SpringChoices, units: &UnitNames, width: usize, lines: &mut Vec<String>) {
    let name = match &spring.name {
        Some(name) => clean(name),
        None => spring.spring.to_string(),
    };
    let at = |v: f64| match spring.range_unit == units.length {
        true => length(v, units),
        false => fixed(v, 2),
    };
    let [low, high] = spring.range.map(at);
    let [first, last] = spring.pull.map(|pull| figures(pull.abs()));
    let (unit, force) = (spring.range_unit, spring.pull_unit);
    let text = format!(
        "Spring {name}: {} {}, slack at {} {unit}; {first} {force} at {low} {unit}, {last} {force} at {high} {unit}",
        figures(spring.rate),
        spring.rate_unit,
        at(spring.free)
    );
    lines.extend(wrap("", &text, width, 2));
    if let Some(bought) = &spring.bought {
        lines.extend(wrap(
            "  In the file: ",
            &spring_sentence(bought, units),
            width,
            4,
        ));
        for fault in &bought.faults {
            lines.extend(wrap("  NOT possible: ", &clean(fault), width, 4));
        }
    }
    if let Some(none) = &spring.none {
        lines.extend(wrap("  Nothing to buy: ", none, width, 4));
        return;
    }
    let mut rows = vec![head(&spring.choices, units)];
    rows.extend(spring.choices.iter().map(|choice| row(choice, units)));
    lines.extend(
        aligned(&rows, &[0])
            .into_iter()
            .map(|line| format!("  {line}")),
    );
}

/// Whether it has a solid length is the same for all choices of a place, and whether a repeated load was checked.
fn head(choices: &[WoundReport], units: &UnitNames) -> Vec<String> {
    let l = units.length;
    let stress = choices.first().map_or("", |choice| choice.stress_unit);
    let words = [
        format!("wire, {l}"),
        format!("outside, {l}"),
        "turns".to_owned(),
        format!("solid, {l}"),
        format!("stress, {stress}"),
        "steady".to_owned(),
        "repeated".to_owned(),
        "kind".to_owned(),
    ];
    words.to_vec()
}

fn row(choice: &WoundReport, units: &UnitNames) -> Vec<String> {
    let dash = || "-".to_owned();
    let factor = |repeated: bool| {
        let all = choice.checks.iter();
        let of = all.filter(|check| check.check.ends_with("times") == repeated);
        of.map(|check| check.factor)
            .reduce(f64::min)
            .map_or_else(dash, |f| fixed(f, 2))
    };
    vec![
        size(choice.wire),
        length(choice.outside, units),
        fixed(choice.turns, 2),
        choice.solid.map_or_else(dash, |solid| length(solid, units)),
        figures(choice.stress),
        factor(false),
        factor(true),
        match choice.ends {
            Some(ends) => format!("{}, {ends}", choice.made_of),
            None => choice.made_of.to_owned(),
        },
    ]
}
