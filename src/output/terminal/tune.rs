//! `tune` for the terminal: before and after.

use crate::output::sentences::Tone;
use crate::output::sentences::verdict::first_lines;
use crate::output::text::{alike, clean, figures, grip_number, joined, left, range, right, wrap};
use crate::report::{DemandChange, TuneReport};
use std::fmt::Write;

/// Before and after, as terminal text: a table as wide as its names, and below it sentences at most `width` columns
/// wide.
#[must_use]
pub fn tune_text(report: &TuneReport, width: usize) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "{}", clean(&report.tool));
    let _ = writeln!(out, "{} combinations tried", report.judged);
    for sentence in first_lines(&report.verdict, &report.units) {
        out.push_str(&joined(&wrap("", &sentence.painted(), width, 2)));
    }
    let _ = writeln!(
        out,
        "\n{:<34}{} {}",
        "",
        right("before", 12),
        right("after", 12)
    );
    let dash = || "-".to_owned();
    for (change, unit) in report.dimensions.iter().zip(&report.dimension_units) {
        let values = [change.before, change.after];
        let known: Vec<f64> = values.into_iter().flatten().collect();
        let mut texts = alike(&known).into_iter();
        let [before, after] = values.map(|v| v.and_then(|_| texts.next()).unwrap_or_else(dash));
        row(&mut out, &change.name, &before, &after, unit, "");
    }
    let show = |v: Option<f64>| v.map_or_else(dash, figures);
    let place = |at: &Option<String>, grip: Option<f64>| {
        let at = at.as_ref().map_or(String::new(), |at| format!(" at {at}"));
        let grip = grip.map_or(String::new(), |g| {
            format!(", grip {}", grip_number(g, &report.units))
        });
        at + &grip
    };
    let aim = &report.aim;
    row(
        &mut out,
        &format!(
            "aim: {}{}",
            aim.name,
            place(&report.aim_at, report.aim_grip)
        ),
        &show(aim.before),
        &show(aim.after),
        &report.aim_unit,
        "",
    );
    let _ = writeln!(out, "\nDemands");
    for d in &report.demands {
        let wanted = range(d.min, d.max, figures).unwrap_or_default();
        let word = match d.met {
            [true, true] => "met".to_owned(),
            [false, true] => "now met".to_owned(),
            [true, false] => Tone::Bad.paint("NO LONGER MET"),
            [false, false] => Tone::Bad.paint("NOT MET"),
        };
        let why = (d.why).map_or(String::new(), |why| format!(", no value: {}", clean(why)));
        let name = format!("{}{}", d.measure, place(&d.at, d.grip));
        row(
            &mut out,
            &name,
            &show(d.before),
            &show(d.after),
            &d.unit,
            &format!("{word}, {wanted}{why}"),
        );
    }
    if let Some(sentence) = nearest(report, &place) {
        out.push('\n');
        out.push_str(&joined(&wrap("", &sentence, width, 2)));
    }
    if !report.at_end.is_empty() {
        let names: Vec<String> = report.at_end.iter().map(|n| clean(n)).collect();
        let sentence = format!(
            "At an end of its range: {}. A wider range may do better.",
            names.join(", ")
        );
        out.push('\n');
        out.push_str(&joined(&wrap("", &sentence, width, 2)));
    }
    if let Some(demand) = &report.in_the_way {
        out.push('\n');
        for sentence in [
            format!(
                "Nothing in the ranges meets all demands; most in the way is `{}`.",
                clean(demand)
            ),
            "Widen the ranges of [[tune]], add a dimension to them, or ask for less.".to_owned(),
        ] {
            out.push_str(&joined(&wrap("", &sentence, width, 2)));
        }
    }
    out
}

/// The demand that is met with the least to spare: what keeps the aim from going further, if nothing else does.
fn nearest(
    report: &TuneReport,
    place: &dyn Fn(&Option<String>, Option<f64>) -> String,
) -> Option<String> {
    let spare = |d: &DemandChange| -> Option<(f64, String)> {
        let after = d.after.filter(|_| d.met[1])?;
        let bounds = [(d.min, "at least"), (d.max, "at most")];
        let bounds = bounds.iter().filter_map(|(bound, word)| {
            let bound = (*bound)?;
            let size = bound.abs().max(1e-9);
            Some((
                (after - bound).abs() / size,
                format!("{word} {}", figures(bound)),
            ))
        });
        bounds.min_by(|a, b| a.0.total_cmp(&b.0))
    };
    let all = report.demands.iter().filter_map(|d| Some((d, spare(d)?)));
    let (demand, (share, bound)) = all.min_by(|a, b| a.1.0.total_cmp(&b.1.0))?;
    let head = if share < AT_LIMIT {
        "Now at its limit"
    } else {
        "Nearest to its limit"
    };
    let name = format!(
        "{}{}",
        clean(&demand.measure),
        place(&demand.at, demand.grip)
    );
    let value = figures(demand.after?);
    Some(format!("{head}: {name}, {value} {} of {bound}.", demand.unit).replace("  ", " "))
}

/// Closer to a limit than this share of it, there is nothing to spare.
const AT_LIMIT: f64 = 2e-3;

fn row(out: &mut String, name: &str, before: &str, after: &str, unit: &str, end: &str) {
    let line = format!(
        "  {}{} {} {unit}  {end}",
        left(&clean(name), 32),
        right(before, 12),
        right(after, 12)
    );
    let _ = writeln!(out, "{}", line.trim_end());
}
