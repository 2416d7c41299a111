//! Tooth sectors in sentences: what they are, whether enough is cut, what they carry.

use crate::output::text::{clean, figures, fixed, length};
use crate::report::{GearsLine, GearsReport, ToothedLine, UnitNames};

/// What a pair is.
pub(in crate::output) fn gears_sentence(gears: &GearsLine, units: &UnitNames) -> String {
    let [first, second] = &gears.sides;
    let l = units.length;
    let name = clean(&gears.name);
    let parts = format!("{} and {}", clean(&first.part), clean(&second.part));
    let between = match gears.mesh {
        "rack" => format!(
            "pinion and rack, the pitch line {} {l} from the pin",
            length(gears.centres, units)
        ),
        "internal" => format!(
            "wheel and ring, pins {} {l} apart",
            length(gears.centres, units)
        ),
        _ => format!("pins {} {l} apart", length(gears.centres, units)),
    };
    let teeth = |side: &ToothedLine| side.teeth.map(|z| z.to_string());
    let teeth: Vec<String> = [teeth(first), teeth(second)]
        .into_iter()
        .flatten()
        .collect();
    let mut text = format!(
        "Gears {name}: {parts}, {} teeth of module {} {l}, {between}; contact ratio {} at full depth",
        teeth.join(" and "),
        figures(gears.module),
        fixed(gears.contact_ratio, 2)
    );
    if gears.efficiency < 1.0 {
        text.push_str(&format!(
            "; friction lets {} % of the work through",
            fixed(100.0 * gears.efficiency, 2)
        ));
    }
    text.push('.');
    text
}

/// How far each of the two turns, and what must be cut for that.
pub(in crate::output) fn turned_sentence(side: &ToothedLine, units: &UnitNames) -> String {
    let rack = side.teeth.is_none();
    let show = |v: f64| match rack {
        true => length(v, units),
        false => fixed(v, 2),
    };
    let unit = if rack { units.length } else { "deg" };
    let [low, high] = side.turned;
    let mut text = format!(
        "{} goes from {} to {} {unit} past where the marks meet: {} {unit} must be cut",
        clean(&side.part),
        show(low),
        show(high),
        show(side.needed)
    );
    match side.cut {
        Some(cut) => text.push_str(&format!(", {} {unit} are.", show(cut))),
        None => text.push_str("; the file does not say how much is (`sector`)."),
    }
    text
}

/// A pressure angle that differs from the stated one by more than this is told, deg.
const OTHER_ANGLE: f64 = 0.02;

/// What is wrong with a pair, or worth a look.
pub(in crate::output) fn gears_findings(gears: &GearsLine, units: &UnitNames) -> Vec<String> {
    let name = clean(&gears.name);
    let mut found = Vec::new();
    for side in &gears.sides {
        let rack = side.teeth.is_none();
        let unit = if rack { units.length } else { "deg" };
        if side.too_short == Some(true) {
            found.push(format!(
                "gears {name}: the teeth of {} run out within the stroke: cut {} {unit} of it or more",
                clean(&side.part),
                fixed(side.needed, 2)
            ));
        }
        if side.undercut {
            found.push(format!(
                "gears {name}: {} teeth on {} are so few that a hob cuts away their foot; fewer than 2/sin^2 of \
                 the pressure angle need shifted teeth",
                side.teeth.unwrap_or(0),
                clean(&side.part)
            ));
        }
    }
    if (gears.pressure_angle - gears.stated_angle).abs() > OTHER_ANGLE {
        found.push(format!(
            "gears {name}: the pins stand {} {} apart, where the pressure angle is {} deg in place of {}; forces are \
             for that, contact ratio and efficiency for the stated one",
            length(gears.centres, units),
            units.length,
            fixed(gears.pressure_angle, 2),
            fixed(gears.stated_angle, 2)
        ));
    }
    if gears.contact_ratio < 1.0 {
        found.push(format!(
            "gears {name}: contact ratio {} is below 1: one pair of teeth lets go before the next takes over",
            fixed(gears.contact_ratio, 2)
        ));
    }
    found
}

/// What the teeth carry.
pub(in crate::output) fn tooth_sentence(
    teeth: &GearsReport,
    units: &UnitNames,
    moment_unit: &str,
) -> String {
    let f = units.force;
    let mut text = format!(
        "{} on {} by {}: teeth {} {f} along the pressure line, {} {f} along the pitch circle, {} {f} along \
         the line of centres",
        teeth.gears,
        teeth.on,
        teeth.by,
        figures(teeth.tooth),
        figures(teeth.pitch_line),
        figures(teeth.separating)
    );
    if teeth.friction != 0.0 {
        text.push_str(&format!(
            ", friction {} {moment_unit}",
            figures(teeth.friction)
        ));
    }
    text
}
