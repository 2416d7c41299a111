//! `loads` for the terminal: sheets that a reviewer can check with a pocket calculator, factors
//! with the numbers put in.

use super::factors::{factors, give};
use super::life::life;
use super::springs::wound;
use crate::output::sentences::Tone;
use crate::output::sentences::gears::tooth_sentence;
use crate::output::sentences::loads::{balance, force_name};
use crate::output::text::{
    clean, columns, figures, fixed, grip, joined, left, length, length_decimals, right, wrap,
};
use crate::report::{
    BaseReport, CamReport, CaseReport, LoadsReport, PinReport, SheetReport, SlotReport,
    SpringReport,
};

/// Loads as terminal text; sentences are at most `width` columns wide where words allow it, the sheets as
/// wide as their numbers, 78 columns. `part`: only that part's sheets.
#[must_use]
pub fn loads_text(report: &LoadsReport, part: Option<&str>, width: usize) -> String {
    let mut lines = wrap("", &clean(&report.tool), width, 2);
    lines.extend(wrap("", &clean(&report.file), width, 2));
    for case in &report.cases {
        lines.push(String::new());
        self::case(report, case, part, width, &mut lines);
    }
    if part.is_none() {
        factors(report, width, &mut lines);
        if !report.springs.is_empty() {
            lines.extend(wound(&report.springs, &report.units, width));
            lines.push(String::new());
        }
        if let Some(life) = &report.life {
            lines.extend(self::life(life, width));
            lines.push(String::new());
        }
        for note in &report.notes {
            lines.extend(wrap("Note: ", &clean(note), width, 6));
        }
    }
    let caution_word = format!("{} ", Tone::Warning.paint("Caution:"));
    for caution in &report.cautions {
        lines.extend(wrap(&caution_word, caution, width, 9));
    }
    joined(&lines)
}

fn case(
    report: &LoadsReport,
    case: &CaseReport,
    part: Option<&str>,
    width: usize,
    lines: &mut Vec<String>,
) {
    let (l, f) = (report.units.length, report.units.force);
    let span = case.span.map_or_else(String::new, |s| {
        format!(", span {} {l}", length(s, &report.units))
    });
    lines.extend(wrap(
        "",
        &format!(
            "Handle {} deg, travel {} deg, gap {} {l}; hand {} {f} at grip {}{span}, {}: jaw {} {f}",
            fixed(case.handle, 2),
            fixed(case.travel, 2),
            length(case.gap, &report.units),
            figures(case.hand_force),
            grip(case.grip, &report.units),
            case.case,
            figures(case.jaw_force)
        ),
        width,
        2,
    ));
    if part.is_none() {
        lines.push(String::new());
        lines.push(format!("Pin forces, {f} (x to the right, y up)"));
        lines.extend(case.pins.iter().map(pin));
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
        if case.pins.iter().any(|pin| pin.size.is_none()) {
            let why = "a redundant bar shares the load there, and statics alone cannot tell how.";
            lines.extend(wrap("  -: ", why, width, 5));
        }
        for slot in &case.slots {
            lines.extend(self::slot(report, slot, width));
        }
        for cam in &case.cams {
            lines.extend(self::cam(report, cam, width));
        }
        for teeth in &case.gears {
            let text = tooth_sentence(teeth, &report.units, report.moment_unit);
            lines.extend(wrap("  ", &clean(&text), width, 4));
        }
        for spring in &case.springs {
            lines.extend(self::spring(report, spring, width));
        }
    }
    let wanted = |s: &&SheetReport| part.is_none_or(|p| s.part == p) && !s.forces.is_empty();
    lines.push(String::new());
    lines.extend(wrap(
        "",
        "Free bodies: forces on each part by the others, x to the right, y up, counter-clockwise \
         positive. moment = (x - x0) Fy - (y - y0) Fx + couple, with x0, y0 the place named.",
        width,
        0,
    ));
    for sheet in case.sheets.iter().filter(wanted) {
        lines.push(String::new());
        self::sheet(report, sheet, width, lines);
    }
    if part.is_none() {
        give(report, case, width, lines);
    }
    lines.push(String::new());
    lines.extend(wrap("Numerical checks: ", &balance(case), width, 2));
}

/// The force at a pin joint.
fn pin(pin: &PinReport) -> String {
    let cell = |v: Option<f64>| right(&v.map_or_else(|| "-".to_owned(), figures), 9);
    clean_line(&format!(
        "  {}{} {} {}   on {} by {}",
        left(&clean(&pin.pin), 14),
        cell(pin.x),
        cell(pin.y),
        cell(pin.size),
        pin.on,
        pin.by
    ))
}

/// The force in a sliding joint.
fn slot(report: &LoadsReport, slot: &SlotReport, width: usize) -> Vec<String> {
    let (f, m) = (report.units.force, report.moment_unit);
    let way = match slot.radius {
        Some(radius) => format!(
            "arc of radius {} {}: {} {f} away from its centre",
            figures(radius),
            report.units.length,
            figures(slot.normal)
        ),
        None => format!(
            "centre line at {} deg: {} {f} across (to the left of it)",
            fixed(slot.angle, 2),
            figures(slot.normal)
        ),
    };
    let mut text = format!(
        "{} on {} by {}, {way}, {} {f} along ({})",
        slot.point,
        slot.on,
        slot.by,
        figures(slot.friction),
        if slot.rolls {
            "friction of the roller on its pin"
        } else {
            "friction"
        }
    );
    if let Some(moment) = slot.key_moment {
        text.push_str(&format!(", key {} {m}", figures(moment)));
    }
    if let Some([far, near]) = slot.edges {
        text.push_str(&format!(
            "; edges of the guide {} {f} at its far end, {} {f} at its near end",
            figures(far),
            figures(near)
        ));
    }
    wrap("  slot: ", &clean(&text), width, 4)
}

/// The force between a cam and what it pushes.
fn cam(report: &LoadsReport, cam: &CamReport, width: usize) -> Vec<String> {
    let f = report.units.force;
    let text = format!(
        "{}, of {} on the {} of {}: pushes with {} {f} at {} deg, {} {f} across (friction{})",
        cam.cam,
        cam.by,
        if cam.rolls { "roller" } else { "flat" },
        cam.on,
        figures(cam.normal),
        fixed(cam.angle, 2),
        figures(cam.friction),
        if cam.rolls {
            " of the roller on its pin"
        } else {
            ""
        }
    );
    wrap("  cam ", &clean(&text), width, 4)
}

fn spring(report: &LoadsReport, spring: &SpringReport, width: usize) -> Vec<String> {
    let mut text = format!("{} between {}", spring.spring, spring.between);
    if let Some(at) = spring.length {
        let unit = report.units.length;
        text.push_str(&format!(", {} {unit} long", length(at, &report.units)));
    }
    if let Some(force) = spring.force {
        let sense = if force < 0.0 {
            "compression"
        } else {
            "tension"
        };
        text.push_str(&format!(
            ": {} {} {sense}",
            figures(force.abs()),
            report.units.force
        ));
    }
    if let Some(moment) = spring.moment {
        let unit = report.moment_unit;
        text.push_str(&format!(": {} {unit} on the second", figures(moment)));
    }
    wrap("  spring ", &clean(&text), width, 4)
}

/// One part's free-body sheet.
fn sheet(report: &LoadsReport, sheet: &SheetReport, width: usize, lines: &mut Vec<String>) {
    let (l, f, m) = (report.units.length, report.units.force, report.moment_unit);
    let held = match (sheet.fixed, sheet.bench.is_some() || sheet.base.is_some()) {
        (true, true) => ", fixed: on a bench",
        (true, false) => ", fixed",
        (false, _) => "",
    };
    let place = |v: f64| fixed(v, length_decimals(&report.units) + 1);
    lines.extend(wrap(
        "Free body: ",
        &clean(&format!(
            "{}{held}; moments about {} ({}, {})",
            sheet.part,
            force_name(&sheet.about.0),
            place(sheet.about.1),
            place(sheet.about.2)
        )),
        width,
        2,
    ));
    let row = |what: &str, cells: [String; 5]| {
        let [x, y, fx, fy, moment] = cells;
        clean_line(&format!(
            "  {}{} {} {} {} {}",
            left(&cut(&clean(what), 22), 22),
            right(&x, 9),
            right(&y, 9),
            right(&fx, 10),
            right(&fy, 10),
            right(&moment, 12)
        ))
    };
    lines.push(row("", ["x", "y", "Fx", "Fy", "moment"].map(str::to_owned)));
    lines.push(row("", [l, l, f, f, m].map(str::to_owned)));
    let two = |v: Option<f64>| v.map_or_else(|| "-".to_owned(), |v| fixed(v, 2));
    for force in &sheet.forces {
        let [x, y] = force.at.map(place);
        let what = match &force.point {
            Some(point) if force.what.starts_with("spring") => {
                format!("{} at {point}", force.what)
            }
            _ => force_name(&force.what),
        };
        let parts = force.force;
        let cells = [
            x,
            y,
            two(parts.map(|f| f[0])),
            two(parts.map(|f| f[1])),
            two(force.moment),
        ];
        lines.push(row(&what, cells));
        if let Some(couple) = force.couple.filter(|&c| c != 0.0) {
            let whence = match force.what.as_str() {
                "hand reaction" => "the push goes past this place",
                _ => "friction, key or spring",
            };
            let text = format!("with a couple of {} {m} ({whence})", fixed(couple, 2));
            lines.extend(wrap("    ", &text, width, 4));
        }
    }
    let sums = sheet.sums;
    let cells = [
        String::new(),
        String::new(),
        two(sums.map(|s| s[0])),
        two(sums.map(|s| s[1])),
        two(sums.map(|s| s[2])),
    ];
    lines.push(row("sum", cells));
    if let Some([v, n, moment]) = sheet.bench {
        let text = format!(
            "V {} {f} along x, N {} {f} along y, M {} {m} about {}",
            fixed(v, 2),
            fixed(n, 2),
            fixed(moment, 2),
            clean(&sheet.about.0)
        );
        lines.extend(wrap("  from the bench: ", &text, width, 4));
    }
    if let Some(carried) = &sheet.base {
        lines.extend(wrap("  at the base: ", &base(report, carried), width, 4));
    }
}

/// What the base carries, in a line.
fn base(report: &LoadsReport, base: &BaseReport) -> String {
    let (f, m) = (report.units.force, report.moment_unit);
    let [x, y] = base.at.map(|v| fixed(v, length_decimals(&report.units)));
    let way = match base.axial > 0.0 {
        true => "the tool pulls at the bench",
        false => "pressed on to the bench",
    };
    format!(
        "N {} {f} ({way}), V {} {f} along it, M {} {m} about its middle ({x}, {y})",
        fixed(base.axial, 2),
        fixed(base.shear, 2),
        fixed(base.moment, 2)
    )
}

/// The text, or as much of it as fits in a column, with a mark.
fn cut(text: &str, width: usize) -> String {
    let mut cut = text.to_owned();
    while columns(&cut) > width {
        cut.pop();
        cut.pop();
        cut.push('…');
    }
    cut
}

/// A line whose indentation is kept and whose names cannot drive a terminal.
fn clean_line(text: &str) -> String {
    let start = text.trim_start();
    format!("{}{}", &text[..text.len() - start.len()], clean(start))
        .trim_end()
        .to_owned()
}
