//! `parts` for the terminal: the parts list.

use crate::output::text::{aligned, clean, figures, joined, trimmed, wrap};
use crate::report::{PartRow, PartsReport};

/// The parts list, as terminal text: a table as wide as its names, and below it sentences at most `width` columns
/// wide.
#[must_use]
pub fn parts_text(report: &PartsReport, width: usize) -> String {
    let mut lines = vec![clean(&report.tool)];
    lines.extend(wrap("", &clean(&report.file), width, 2));
    lines.push(String::new());
    if report.parts.is_empty() {
        let text =
            "No part has an outline, so there is nothing to cut: give borders in [outlines.PART].";
        lines.extend(wrap("", text, width, 0));
        return joined(&lines);
    }
    table(report, &mut lines);
    lines.push(String::new());
    let (l, a, m) = (report.units.length, report.area_unit, report.mass_unit);
    for row in &report.parts {
        let openings = openings(row, l);
        if !openings.is_empty() {
            lines.extend(wrap(
                "",
                &format!("{}: {openings}", clean(&row.part)),
                width,
                2,
            ));
        }
    }
    for sheet in &report.sheets {
        let text = format!(
            "sheet of {} {l}: {} plate{}, {} {a} of upright rectangles{}",
            trimmed(sheet.thickness),
            sheet.plates,
            if sheet.plates == 1 { "" } else { "s" },
            figures(sheet.area),
            if report.margin > 0.0 {
                " with what is kept between them"
            } else {
                ""
            },
        );
        lines.extend(wrap("", &text, width, 2));
    }
    match report.mass {
        Some(mass) => lines.push(format!("All plates together: {} {m}, without pins", figures(mass))),
        None => lines.extend(wrap(
            "",
            "Not all plates are weighed: that takes a thickness in [sections] and a density in [materials].",
            width,
            2,
        )),
    }
    if let Some(price) = report.price {
        let text = format!(
            "Their material comes to {} by mass, offcuts not counted",
            trimmed(price)
        );
        lines.extend(wrap("", &text, width, 2));
    }
    if !report.without.is_empty() {
        let names: Vec<String> = report.without.iter().map(|name| clean(name)).collect();
        let text = format!("Without an outline, and so not here: {}", names.join(", "));
        lines.extend(wrap("", &text, width, 2));
    }
    for note in &report.notes {
        lines.extend(wrap("Note: ", &clean(note), width, 6));
    }
    let text =
        "Borders are at finished size: kerf, bending and press fits are for the shop to allow for.";
    lines.extend(wrap("", text, width, 2));
    joined(&lines)
}

fn table(report: &PartsReport, lines: &mut Vec<String>) {
    let (l, a, m) = (report.units.length, report.area_unit, report.mass_unit);
    let head = |name: &str, unit: &str| format!("{name} {unit}").trim_end().to_owned();
    let mut rows = vec![[
        "part".to_owned(),
        "plates".to_owned(),
        "material".to_owned(),
        head("thick", l),
        head("area", a),
        head("width", l),
        head("height", l),
        head("mass", m),
    ]];
    let show = |value: Option<f64>| value.map_or("-".to_owned(), figures);
    for row in &report.parts {
        rows.push([
            clean(&row.part),
            row.plates.to_string(),
            row.material
                .as_ref()
                .map_or("-".to_owned(), |name| clean(name)),
            show(row.thickness),
            figures(row.area),
            figures(row.rectangle[0]),
            figures(row.rectangle[1]),
            show(row.mass),
        ]);
    }
    lines.extend(aligned(&rows, &[0, 2]));
}

/// Holes and slots of a part in words.
fn openings(row: &PartRow, unit: &str) -> String {
    let holes = row.holes.iter();
    let mut all: Vec<String> = holes
        .map(|(diameter, count)| {
            format!(
                "{count} hole{} of {} {unit}",
                plural(*count),
                trimmed(*diameter)
            )
        })
        .collect();
    if row.slots > 0 {
        all.push(format!("{} other opening{}", row.slots, plural(row.slots)));
    }
    all.join(", ")
}

fn plural(count: u32) -> &'static str {
    if count == 1 { "" } else { "s" }
}
