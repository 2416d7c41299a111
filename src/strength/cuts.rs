//! A plate with an outline: bending, axial force and shear at its sections.

use super::cases::Case;
use super::formulas::Formula;
use super::formulas::cut::{CURVED_CUT, CUT, Carried};
use super::holes::Plates;
use super::knots::Knot;
use super::ledger::{Finding, Ledger, area, force, length, number, second_moment, torque};
use super::result::{Input, Place, Subject};
use super::throats::{Sites, Throat, Throats};
use crate::units::Quantity;

/// The worst section of a load case.
struct Worst<'a> {
    stress: f64,
    throat: &'a Throat,
    carried: Carried,
}

/// Looks at every section of a plate under forces that balance: straight ones and those at a hollow edge, each
/// with a worst of its own.
pub(super) fn check(
    plates: &Plates<'_>,
    throats: &Throats,
    case: &Case<'_>,
    knots: &[Knot],
    sites: &mut Sites,
    ledger: &mut Ledger,
) {
    let (mut straight, mut hollow): (Option<Worst<'_>>, Option<Worst<'_>>) = (None, None);
    for (throat, carried, stress) in throats.carried(knots, sites) {
        let worst = match throat.hollow {
            None => &mut straight,
            Some(_) => &mut hollow,
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
    for (worst, formula) in [(straight, CUT), (hollow, CURVED_CUT)] {
        if let Some(worst) = worst {
            let finding = finding(plates, &worst, formula);
            ledger.offer(case, finding, || inputs(plates, &worst));
        }
    }
}

fn finding(plates: &Plates<'_>, worst: &Worst<'_>, formula: Formula) -> Finding {
    Finding {
        subject: Subject::Part(plates.part),
        formula,
        value: worst.stress,
        allowable: plates.material.yield_strength,
        against: "yield",
        quantity: Quantity::Stress,
        place: Some(Place::At(worst.throat.ends[0].xy())),
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
    inputs
}
