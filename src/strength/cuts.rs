//! A plate with an outline: bending, axial force and shear at its sections.

use super::cases::Case;
use super::formulas::cut::{CURVED_CUT, CUT, Carried};
use super::formulas::notch;
use super::holes::Plates;
use super::knots::Knot;
use super::ledger::{Finding, Ledger, area, force, length, number, second_moment, torque};
use super::result::{Input, Place, Subject};
use super::throats::{Sites, Throat, Throats};
use crate::geometry::Vec2;
use crate::units::Quantity;

/// The worst section of a stretch of the border, in a load case.
struct Worst<'a> {
    stress: f64,
    throat: &'a Throat,
    carried: Carried,
}

/// Looks at every section of a plate under forces that balance. Each stretch of the border has a worst of its own,
/// as it is nowhere said that the least factor alone is of use to who makes the plate stronger.
pub(super) fn check(
    plates: &Plates<'_>,
    throats: &Throats,
    case: &Case<'_>,
    knots: &[Knot],
    sites: &mut Sites,
    ledger: &mut Ledger,
) {
    let mut worst: Vec<Option<Worst<'_>>> = Vec::new();
    worst.resize_with(throats.stretches, || None);
    for (throat, carried, stress) in throats.carried(knots, sites) {
        let Some(worst) = worst.get_mut(throat.stretch) else {
            continue;
        };
        let greater = worst.as_ref().is_none_or(|known| {
            stress > known.stress || (stress.is_nan() && !known.stress.is_nan())
        });
        if greater {
            *worst = Some(Worst {
                stress,
                throat,
                carried,
            });
        }
    }
    for worst in worst.into_iter().flatten() {
        ledger.offer(case, finding(plates, &worst), || inputs(plates, &worst));
    }
}

fn finding(plates: &Plates<'_>, worst: &Worst<'_>) -> Finding {
    Finding {
        subject: Subject::Part(plates.part),
        formula: match worst.throat.hollow {
            None => CUT,
            Some(_) => CURVED_CUT,
        },
        value: worst.stress,
        allowable: plates.material.yield_strength,
        against: "yield",
        quantity: Quantity::Stress,
        place: Some(Place::Cut(worst.throat.ends.map(Vec2::xy))),
        stretch: worst.throat.stretch,
    }
}

fn inputs(plates: &Plates<'_>, worst: &Worst<'_>) -> Vec<Input> {
    let (throat, carried) = (worst.throat, worst.carried);
    let section = &throat.section;
    let mut inputs = vec![
        force("N", carried.axial),
        force("V", carried.shear),
        torque("M", carried.bending),
        length("h", throat.depth()),
        length("t", plates.section.thickness),
        number("n", f64::from(plates.section.plates)),
        area("A", section.area),
    ];
    match (throat.hollow, section.over_radius()) {
        (Some(radius), Some(over)) => inputs.extend([
            length("ri", radius),
            length("R", section.centroid),
            length("Am", over),
            number("times the straight beam", section.hollow_share()),
        ]),
        _ => inputs.push(second_moment("I", section.second_moment)),
    }
    if let Some(share) = throat.bored {
        let factor = match throat.is_loaded() {
            true => notch::eye(share),
            false => notch::hole(share),
        };
        inputs.extend(factor.map(|kt| number("stress concentration Kt", kt)));
    }
    inputs
}
