//! `check` in words: what the file describes, from the parts to the ends of the motion.

use crate::output::sentences::cams::{cam_findings, cam_sentence};
use crate::output::sentences::gears::{gears_findings, gears_sentence, turned_sentence};
use crate::output::sentences::ratchet::ratchet_sentences;
use crate::output::sentences::stops::stop_sentences;
use crate::output::sentences::verdict::first_lines;
use crate::output::text::{
    self, aligned, clean, columns, figures, fixed, grip_number, joined, left, right, wrap,
};
use crate::report::{CheckReport, PartLine, RatchetLine};

use super::motion::motion;
use super::room::room;
use super::springs::wound;

/// What a file describes, at most `width` columns wide where words and numbers allow it. `all`: with what the motion
/// holds far from the stroke.
#[must_use]
pub fn check_text(report: &CheckReport, width: usize, all: bool) -> String {
    let mut lines = wrap("", &clean(&report.tool), width, 2);
    lines.extend(wrap(
        "",
        &format!("{}: {}", clean(&report.file), headline(report)),
        width,
        2,
    ));
    for sentence in first_lines(&report.verdict, &report.units) {
        lines.extend(wrap("", &sentence.painted(), width, 2));
    }
    if report.unread_demands > 0 {
        let text = format!(
            "Demands: {} not read here; ask for them with --demands.",
            report.unread_demands
        );
        lines.extend(wrap("", &text, width, 2));
    }
    for block in [
        parts(report, width),
        stroke(report),
        stops(report, width),
        ratchet(report, width),
        adjusters(report, width),
        gears(report, width),
        springs(report, width),
        wound(&report.wound, &report.units, width),
        pins(report),
        plates(report, width),
        room(report, width),
        motion(report, width, all),
        sentences("Assumed, since the file is silent", &report.assumed, width),
        sentences("Worth a look", &worth(report), width),
    ] {
        if !block.is_empty() {
            lines.push(String::new());
            lines.extend(block);
        }
    }
    joined(&lines)
}

/// Findings, those on tooth sectors and cams first.
fn worth(report: &CheckReport) -> Vec<String> {
    let gears = report.gears.iter();
    let found = gears.flat_map(|gears| gears_findings(gears, &report.units));
    let cams = report.cam_contacts.iter();
    let cams = cams.flat_map(|cam| cam_findings(cam, &report.units));
    found
        .chain(cams)
        .chain(report.advice.iter().cloned())
        .collect()
}

/// What the file comes to, in a line.
fn headline(report: &CheckReport) -> &'static str {
    match (report.dies_meet, report.handles_touch) {
        (false, false) => "file is valid; linkage assembles and moves",
        (true, false) => {
            "file is valid; linkage assembles and moves, but dies meet before it is shut"
        }
        (false, true) => {
            "file is valid; linkage assembles and moves, but its handles touch on the way"
        }
        (true, true) => {
            "file is valid; linkage assembles and moves, but dies meet and handles touch before it is shut"
        }
    }
}

/// The parts, one a line, and what joins them.
fn parts(report: &CheckReport, width: usize) -> Vec<String> {
    let names = report.parts.iter().map(|part| columns(&clean(&part.name)));
    let longest = names.max().unwrap_or(0);
    let mut lines = vec!["Parts".to_owned()];
    for part in &report.parts {
        lines.extend(wrap(
            &format!("  {}  ", left(&clean(&part.name), longest)),
            &joins(part),
            width,
            longest + 6,
        ));
    }
    let many = |n: usize, one: &str| match n {
        1 => format!("1 {one}"),
        n => format!("{n} {one}s"),
    };
    let cams = report
        .cams
        .map_or(String::new(), |n| format!(", {}", many(n, "cam")));
    let mut text = format!(
        "{}, {}, {}{cams}",
        many(report.parts.len(), "part"),
        many(report.pin_joints, "pin joint"),
        many(report.slots, "slot")
    );
    if !report.gears.is_empty() {
        text.push_str(&format!(", {} of gears", many(report.gears.len(), "pair")));
    }
    text.push_str(": ");
    text.push_str(match report.freedom {
        1 => "one degree of freedom, as a tool needs.",
        _ => "not one degree of freedom.",
    });
    if report.redundant > 0 {
        text.push_str(
            " It has more bars than the motion needs, so statics alone cannot tell some of the pin loads.",
        );
    }
    lines.extend(wrap("", &text, width, 2));
    lines
}

/// What a part has to be joined by.
fn joins(part: &PartLine) -> String {
    let list = |names: &[String]| clean(&names.join(", "));
    let mut text = if part.fixed {
        "fixed; ".to_owned()
    } else {
        String::new()
    };
    match part.pins.as_slice() {
        [] => text.push_str("no pins"),
        pins => text.push_str(&format!("pins {}", list(pins))),
    }
    if !part.marks.is_empty() {
        text.push_str(&format!("; marks {}", list(&part.marks)));
    }
    text
}

/// Handle, gaps and spans at both ends of the stroke.
fn stroke(report: &CheckReport) -> Vec<String> {
    let units = &report.units;
    let show = |v: f64| text::length(v, units);
    let mut rows = vec![(
        "handle angle".to_owned(),
        report.handle.map(|v| fixed(v, 2)),
        units.angle,
    )];
    for (jaw, gap) in &report.gaps {
        rows.push((
            format!("gap of {}", clean(jaw)),
            gap.map(show),
            units.length,
        ));
    }
    for grip in &report.spans {
        if let (Some(open), Some(shut)) = (grip.open, grip.shut) {
            rows.push((
                format!("span at grip {}", grip_number(grip.at, units)),
                [show(open), show(shut)],
                units.length,
            ));
        }
    }
    let width = rows.iter().map(|r| columns(&r.0)).max().unwrap_or(0) + 2;
    let row = |name: &str, [open, shut]: [&str; 2], unit: &str| {
        let pad = " ".repeat(width.saturating_sub(columns(name)));
        format!("{name}{pad}{}{}  {unit}", right(open, 10), right(shut, 10))
    };
    let mut lines = vec![row("Stroke", ["open", "shut"], "")];
    lines.extend(
        (rows.iter())
            .map(|(name, [open, shut], unit)| row(&format!("  {name}"), [open, shut], unit)),
    );
    lines
}

/// Where stops are met, and what they carry.
fn stops(report: &CheckReport, width: usize) -> Vec<String> {
    let of = |stop| stop_sentences(stop, &report.units);
    let all = report.stops.iter().flat_map(of);
    all.flat_map(|text| wrap("", &text, width, 2)).collect()
}

/// The teeth of the ratchet one by one, and what is to be said of them.
fn ratchet(report: &CheckReport, width: usize) -> Vec<String> {
    let Some(line) = &report.ratchet else {
        return Vec::new();
    };
    let mut out = teeth(line, report);
    for sentence in ratchet_sentences(line, &report.units) {
        out.extend(wrap("", &sentence.to_string(), width, 2));
    }
    out
}

fn teeth(line: &RatchetLine, report: &CheckReport) -> Vec<String> {
    if line.teeth.is_empty() {
        return Vec::new();
    }
    let units = &report.units;
    let mut rows = vec![[
        "Ratchet".to_owned(),
        format!("gap {}", units.length),
        "handle deg".to_owned(),
        format!("back by {}", units.length),
        format!("pawl {}", units.force),
        format!("hand for work {}", units.force),
    ]];
    for (k, tooth) in line.teeth.iter().enumerate() {
        let hand = tooth.hand_force.first().copied().flatten();
        rows.push([
            format!("  tooth {}", k + 1),
            text::length(tooth.gap, units),
            fixed(tooth.handle, 2),
            tooth
                .step
                .map_or_else(|| "free".to_owned(), |step| text::length(step, units)),
            figures(tooth.pawl),
            hand.map_or_else(|| "-".to_owned(), figures),
        ]);
    }
    aligned(&rows, &[0])
}

/// What the setter turns.
fn adjusters(report: &CheckReport, width: usize) -> Vec<String> {
    let all = report.adjusters.iter();
    let line = |text: &String| wrap("", &format!("adjuster {}", clean(text)), width, 2);
    all.flat_map(line).collect()
}

/// What tooth sectors are, and whether enough of them is cut; how cams push.
fn gears(report: &CheckReport, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for gears in &report.gears {
        lines.extend(wrap("", &gears_sentence(gears, &report.units), width, 2));
        for side in &gears.sides {
            let text = turned_sentence(side, &report.units);
            lines.extend(wrap("  ", &text, width, 4));
        }
    }
    for cam in &report.cam_contacts {
        lines.extend(wrap("", &cam_sentence(cam, &report.units), width, 2));
    }
    lines
}

/// What the springs do at both ends of the stroke, and whether they open the tool.
fn springs(report: &CheckReport, width: usize) -> Vec<String> {
    if report.springs.is_empty() {
        return Vec::new();
    }
    let pad = report.springs.iter().map(|s| columns(&s.name)).max();
    let pad = pad.unwrap_or(0) + 10;
    let row = |name: &str, pair: [String; 2], unit: &str| {
        let [open, shut] = pair.map(|text| right(&text, 10));
        format!("{}{open}{shut}  {unit}", left(name, pad))
    };
    let mut lines = vec![row("Springs", ["open".to_owned(), "shut".to_owned()], "")];
    for spring in &report.springs {
        let (what, does) = match (spring.unit == report.units.length, spring.pull) {
            (true, [a, b]) if a <= 0.0 && b <= 0.0 => ("length", "pushes"),
            (true, _) => ("length", "pulls"),
            (false, _) => ("angle", "turns"),
        };
        let sign = if does == "pushes" { -1.0 } else { 1.0 };
        let length = |v: f64| match spring.unit == report.units.length {
            true => text::length(v, &report.units),
            false => fixed(v, 2),
        };
        let first = format!("  {}  {what}", clean(&spring.name));
        lines.push(row(&first, spring.at.map(length), spring.unit));
        let second = format!("  {}  {does}", " ".repeat(columns(&clean(&spring.name))));
        let pull = spring.pull.map(|v| figures(sign * v + 0.0));
        lines.push(row(&second, pull, spring.pull_unit));
    }
    lines.extend(wrap("", &opens(report), width, 2));
    lines
}

/// Whether the springs open the tool from shut against friction, in a sentence.
fn opens(report: &CheckReport) -> String {
    let units = &report.units;
    let named = |grip: f64| format!("grip {}", text::grip(grip, units));
    let known = |wanted: bool| {
        let all = report.opens.iter();
        all.filter(move |at| at.hand_force.is_some_and(|force| (force > 0.0) == wanted))
    };
    let yes: Vec<String> = known(true)
        .map(|at| {
            let force = figures(at.hand_force.unwrap_or(0.0));
            format!("{force} {} at {}", units.force, named(at.grip))
        })
        .collect();
    let no: Vec<String> = known(false).map(|at| named(at.grip)).collect();
    match (yes.is_empty(), no.is_empty()) {
        (false, true) => format!("Opens by itself from shut: yes, with {}.", yes.join(", ")),
        (true, false) => "Opens by itself from shut: no.".to_owned(),
        (false, false) => format!(
            "Opens by itself from shut: yes, with {}; no at {}.",
            yes.join(", "),
            no.join(", ")
        ),
        (true, true) => {
            "Opens by itself from shut: not known, the jaw stands still there.".to_owned()
        }
    }
}

/// Where the pins are at both ends of the stroke.
fn pins(report: &CheckReport) -> Vec<String> {
    let show = |v: f64| text::length(v, &report.units);
    let names = report.open.keys().map(|pin| columns(&clean(pin)));
    let width = names.max().unwrap_or(0).max(2);
    let mut lines = vec![format!(
        "{}{}{}  {}",
        left("Pins", width + 2),
        right("open x, y", 20),
        right("shut x, y", 20),
        report.units.length
    )];
    for (pin, open) in &report.open {
        let Some(shut) = report.shut.get(pin) else {
            continue;
        };
        let numbers = [open.x, open.y, shut.x, shut.y].map(|v| right(&show(v), 10));
        lines.push(format!(
            "  {}{}",
            left(&clean(pin), width),
            numbers.concat()
        ));
    }
    lines
}

/// The plates, and what all of them weigh together.
fn plates(report: &CheckReport, width: usize) -> Vec<String> {
    let Some(plates) = &report.plates else {
        return Vec::new();
    };
    let units = &report.units;
    let show = |v: f64| text::length(v, units);
    let names = plates
        .parts
        .iter()
        .map(|plate| columns(&clean(&plate.part)));
    let longest = names.max().unwrap_or(0).max(4);
    let row = |name: &str, cells: [&str; 4]| {
        let [count, area, mass, at] = cells;
        format!(
            "{}{}{}{}{}",
            left(name, longest + 2),
            right(count, 11),
            right(area, 10),
            right(mass, 10),
            right(at, 16)
        )
    };
    let head = [
        "",
        &format!("area, {}", plates.area_unit),
        &format!("mass, {}", plates.mass_unit),
        &format!("centre, {}", units.length),
    ];
    let mut lines = vec![row("Plates", head)];
    for plate in &plates.parts {
        let count = match (plate.plates, plate.thickness) {
            (Some(count), Some(thickness)) => format!("{count} x {}", show(thickness)),
            _ => "-".to_owned(),
        };
        let mass = plate.mass.map_or_else(|| "-".to_owned(), figures);
        let at = plate.centre.map(|v| right(&show(v), 8)).concat();
        let name = format!("  {}", clean(&plate.part));
        lines.push(row(&name, [&count, &figures(plate.area), &mass, &at]));
    }
    let sentence = match &plates.together {
        None => {
            "No masses: they need `density` in [materials] and a table in [sections].".to_owned()
        }
        Some(all) => {
            let [open, shut] =
                [all.open, all.shut].map(|[x, y]| format!("({}, {})", show(x), show(y)));
            let pins = match all.pins > 0.0 {
                true => format!(", pins {} {} of it", figures(all.pins), plates.mass_unit),
                false => String::new(),
            };
            let heavy = match all.mass > all.advised {
                true => format!(
                    " That is more than {} {}, the most that is advised for one hand.",
                    figures(all.advised),
                    plates.mass_unit
                ),
                false => String::new(),
            };
            let held = all.grip_moments.map_or(String::new(), |moments| {
                let most = moments.into_iter().fold(0.0, f64::max);
                format!(
                    " Its weight turns it about the middle of the grip by {} {} at most.",
                    figures(most),
                    all.moment_unit
                )
            });
            let without = match all.left_out.is_empty() {
                true => String::new(),
                false => format!(" Not weighed: {}.", clean(&all.left_out.join(", "))),
            };
            format!(
                "Together {} {}{pins}; centre of mass open {open}, shut {shut} {}.{held}{heavy}{without}",
                figures(all.mass),
                plates.mass_unit,
                units.length
            )
        }
    };
    lines.extend(wrap("", &sentence, width, 2));
    lines
}

fn sentences(title: &str, texts: &[String], width: usize) -> Vec<String> {
    if texts.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![title.to_owned()];
    for text in texts {
        lines.extend(wrap("  - ", &clean(text), width, 4));
    }
    lines
}
