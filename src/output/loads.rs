//! `loads` for the terminal: sheets that a reviewer can check with a pocket calculator, factors
//! with the numbers put in.

use super::text::{clean, figures, length, right, trimmed, wrap};
use crate::report::{CaseReport, FactorReport, LoadsReport, SheetReport};

/// Loads as text, 80 columns wide. `part`: only that part's sheets.
#[must_use]
pub fn loads_text(report: &LoadsReport, part: Option<&str>) -> String {
    let mut lines = vec![clean(&report.tool), clean(&report.file)];
    for case in &report.cases {
        lines.push(String::new());
        self::case(report, case, part, &mut lines);
    }
    if part.is_none() {
        factors(report, &mut lines);
        for note in &report.notes {
            lines.extend(wrap("Note: ", &clean(note), 80, 6));
        }
    }
    for caution in &report.cautions {
        lines.extend(wrap("Caution: ", caution, 80, 9));
    }
    lines.push(String::new());
    lines.join("\n")
}

fn case(report: &LoadsReport, case: &CaseReport, part: Option<&str>, lines: &mut Vec<String>) {
    let (l, f) = (report.units.length, report.units.force);
    let span = case.span.map_or_else(String::new, |s| {
        format!(", span {} {l}", length(s, &report.units))
    });
    lines.extend(wrap(
        "",
        &format!(
            "Handle {:.2} deg, gap {} {l}; hand {} {f} at grip {} {l}{span}: jaw {} {f}",
            case.handle,
            length(case.gap, &report.units),
            figures(case.hand_force),
            trimmed(case.grip),
            figures(case.jaw_force)
        ),
        80,
        2,
    ));
    if part.is_none() {
        lines.push(String::new());
        lines.push(format!("Pin forces, {f} (x to the right, y up)"));
        for pin in &case.pins {
            lines.push(clean_line(&format!(
                "  {:<14}{} {} {}   on {} by {}",
                pin.pin,
                right(&figures(pin.x), 9),
                right(&figures(pin.y), 9),
                right(&figures(pin.size), 9),
                pin.on,
                pin.by
            )));
        }
        for link in &case.links {
            let sense = if link.axial < 0.0 {
                "compression"
            } else {
                "tension"
            };
            lines.push(clean_line(&format!(
                "  link {}: {} {f} {sense}",
                link.part,
                figures(link.axial.abs())
            )));
        }
    }
    let wanted = |s: &&SheetReport| part.is_none_or(|p| s.part == p) && !s.forces.is_empty();
    for sheet in case.sheets.iter().filter(wanted) {
        lines.push(String::new());
        self::sheet(report, sheet, lines);
    }
    if part.is_none() {
        give(report, case, lines);
    }
    lines.push(String::new());
    lines.push(format!(
        "Moving parts balance to {:.0e} of the greatest force.",
        case.residual
    ));
}

/// How far the tool gives, and a rigid piece pressed.
fn give(report: &LoadsReport, case: &CaseReport, lines: &mut Vec<String>) {
    let (l, f) = (report.units.length, report.units.force);
    lines.push(String::new());
    match &case.give {
        None => lines.push("Give: statics cannot tell it here.".to_owned()),
        Some(give) => {
            let shares: Vec<String> = give
                .shares
                .iter()
                .map(|(name, share)| format!("{name} {:.0} %", 100.0 * share))
                .collect();
            let whole = if give.shares.is_empty() {
                "no part has a section with a modulus: the tool is taken as rigid".to_owned()
            } else {
                format!(
                    "the jaws spread {} {l} per 1000 {f}, with the hand held: {} {l} at this force, gap {} {l}; \
                     from {}",
                    figures(give.per_thousand),
                    figures(give.spread),
                    length(give.gap, &report.units),
                    shares.join(", ")
                )
            };
            lines.extend(wrap("Give: ", &clean(&whole), 80, 6));
            if !give.rigid.is_empty() && !give.shares.is_empty() {
                lines.extend(wrap(
                    "  taken as rigid: ",
                    &clean(&give.rigid.join("; ")),
                    80,
                    4,
                ));
            }
        }
    }
    if let Some(press) = &case.press {
        lines.extend(wrap("Press: ", &clean(&press.text), 80, 7));
    }
}

/// One part's free-body sheet.
fn sheet(report: &LoadsReport, sheet: &SheetReport, lines: &mut Vec<String>) {
    let (l, f, m) = (report.units.length, report.units.force, report.moment_unit);
    let held = if sheet.fixed {
        ", fixed: held from outside"
    } else {
        ""
    };
    lines.push(clean_line(&format!(
        "Free body: {}{held}; moments about {} ({}, {})",
        sheet.part,
        sheet.about.0,
        length(sheet.about.1, &report.units),
        length(sheet.about.2, &report.units)
    )));
    let row = |what: &str, cells: [String; 5]| {
        let [x, y, fx, fy, moment] = cells;
        clean_line(&format!(
            "  {what:<22}{} {} {} {} {}",
            right(&x, 9),
            right(&y, 9),
            right(&fx, 10),
            right(&fy, 10),
            right(&moment, 12)
        ))
    };
    lines.push(row("", ["x", "y", "Fx", "Fy", "moment"].map(str::to_owned)));
    lines.push(row("", [l, l, f, f, m].map(str::to_owned)));
    let two = |v: f64| format!("{:.2}", if v.abs() < 0.005 { 0.0 } else { v });
    for force in &sheet.forces {
        lines.push(row(
            &force.what,
            [
                length(force.at[0], &report.units),
                length(force.at[1], &report.units),
                two(force.force[0]),
                two(force.force[1]),
                two(force.moment),
            ],
        ));
        if force.couple != 0.0 {
            lines.push(format!(
                "    with a couple of {} {m} (friction, key or spring)",
                two(force.couple)
            ));
        }
    }
    let [x, y, moment] = sheet.sums;
    lines.push(row(
        "sum",
        [String::new(), String::new(), two(x), two(y), two(moment)],
    ));
}

fn factors(report: &LoadsReport, lines: &mut Vec<String>) {
    lines.push(String::new());
    if report.factors.is_empty() {
        lines.push("No strength factors.".to_owned());
        return;
    }
    lines.push("Strength factors over the stroke, least first".to_owned());
    for factor in &report.factors {
        lines.extend(factor_lines(report, factor));
    }
    lines.push(String::new());
}

fn factor_lines(report: &LoadsReport, factor: &FactorReport) -> Vec<String> {
    let (l, f) = (report.units.length, report.units.force);
    let place = factor
        .place
        .as_deref()
        .map_or_else(String::new, |p| format!(" {p}"));
    let mut lines = wrap(
        &format!("  {:>6.2}  ", factor.factor),
        &clean(&format!(
            "{}, {}{place}: {} {} against {} {} ({}); {}, {} {f} at grip {} {l}, gap {} {l}",
            factor.subject,
            factor.check,
            figures(factor.value),
            factor.unit,
            figures(factor.allowable),
            factor.unit,
            factor.against,
            factor.case,
            figures(factor.hand_force),
            trimmed(factor.grip),
            length(factor.gap, &report.units)
        )),
        80,
        10,
    );
    let inputs: Vec<String> = factor
        .inputs
        .iter()
        .map(|(symbol, value, unit)| {
            format!("{symbol} = {} {unit}", figures(*value))
                .trim_end()
                .to_owned()
        })
        .collect();
    lines.extend(wrap("          ", &factor.formula, 80, 10));
    lines.extend(wrap("          with ", &inputs.join(", "), 80, 15));
    lines.extend(wrap("          ", &format!("[{}]", factor.source), 80, 10));
    lines
}

/// A line whose indentation is kept and whose names cannot drive a terminal.
fn clean_line(text: &str) -> String {
    let start = text.trim_start();
    format!("{}{}", &text[..text.len() - start.len()], clean(start))
        .trim_end()
        .to_owned()
}
