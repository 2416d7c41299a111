//! Two-pin links: sections in tension and compression, tear-out, buckling.

use super::cases::Case;
use super::formulas::column::{self, Column, rectangle_radius};
use super::formulas::plate;
use super::holes::{Hole, Plates};
use super::ledger::{Finding, Ledger, force, length, number, stress};
use super::result::{Place, Subject};
use crate::units::Quantity;

/// Axial force of a link, N, tension positive: the pin force at the second hole along the line
/// from the first.
fn axial(plates: &Plates<'_>, case: &Case<'_>) -> Option<f64> {
    let [first, second] = &plates.holes[..] else {
        return None;
    };
    let along = second.local - first.local;
    let length = (first.local - second.local).length();
    let turn = case.sheet.turn.get(plates.part.index())?;
    let u = along.turned(*turn) / length;
    Some(plates.pin_force(case.sheet, second).dot(u))
}

/// All checks of a link in one load case, but for bearing. Returns its axial force.
pub(super) fn check(plates: &Plates<'_>, case: &Case<'_>, ledger: &mut Ledger) -> Option<f64> {
    let axial = axial(plates, case)?;
    gross(plates, case, ledger, axial);
    if axial > 0.0 {
        for hole in &plates.holes {
            net(plates, case, ledger, hole, axial);
            plates.tear_out(case, ledger, hole, axial);
        }
    } else {
        buckling(plates, case, ledger, -axial);
    }
    Some(axial)
}

fn finding(plates: &Plates<'_>, value: f64) -> Finding {
    Finding {
        subject: Subject::Part(plates.part),
        formula: plate::GROSS_SECTION,
        value,
        allowable: plates.material.yield_strength,
        against: "yield",
        quantity: Quantity::Stress,
        place: None,
        stretch: 0,
    }
}

fn gross(plates: &Plates<'_>, case: &Case<'_>, ledger: &mut Ledger, axial: f64) {
    let (w, load) = (plates.depth(0.0), axial.abs());
    let value = plate::gross_section(load, w, plates.thickness());
    ledger.offer(case, finding(plates, value), || {
        vec![
            force("F", load),
            length("w", w),
            length("t", plates.section.thickness),
            number("n", f64::from(plates.section.plates)),
        ]
    });
}

fn net(plates: &Plates<'_>, case: &Case<'_>, ledger: &mut Ledger, hole: &Hole, load: f64) {
    let (w, Some(d)) = (hole.width, hole.hole) else {
        return;
    };
    if d >= w {
        return;
    }
    let value = plate::net_section(load, w, d, plates.thickness());
    let net = Finding {
        formula: plate::NET_SECTION,
        place: Some(Place::Point(hole.point)),
        ..finding(plates, value)
    };
    ledger.offer(case, net, || {
        vec![
            force("F", load),
            length("w", w),
            length("d", d),
            length("t", plates.section.thickness),
            number("n", f64::from(plates.section.plates)),
        ]
    });
}

/// Buckling in the plane and out of it, pinned ends both ways, each plate on its own.
fn buckling(plates: &Plates<'_>, case: &Case<'_>, ledger: &mut Ledger, load: f64) {
    let (Some(modulus), [first, second]) = (plates.material.modulus, &plates.holes[..]) else {
        return;
    };
    let span = (second.local - first.local).length();
    let w = plates.depth(0.0);
    for (depth, euler, johnson) in [
        (w, column::EULER_IN_PLANE, column::JOHNSON_IN_PLANE),
        (
            plates.section.thickness,
            column::EULER_OUT_OF_PLANE,
            column::JOHNSON_OUT_OF_PLANE,
        ),
    ] {
        let column = Column {
            length: span,
            area: w * plates.thickness(),
            radius: rectangle_radius(depth),
            modulus,
            yield_strength: plates.material.yield_strength,
        };
        let buckling = Finding {
            formula: if column.is_slender() { euler } else { johnson },
            value: load,
            allowable: column.critical(),
            against: "critical load",
            quantity: Quantity::Force,
            ..finding(plates, load)
        };
        ledger.offer(case, buckling, || {
            vec![
                force("F", load),
                length("L", span),
                number("K", 1.0),
                length("w", w),
                length("t", plates.section.thickness),
                number("n", f64::from(plates.section.plates)),
                length("r", column.radius),
                number("K L / r", column.slenderness()),
                stress("E", modulus),
                stress("Sy", column.yield_strength),
            ]
        });
    }
}
