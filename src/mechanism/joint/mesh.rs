//! What friction between teeth costs, whichever of the two drives.
//!
//! The teeth of a pair slide on each other before and behind the pitch point. On average over the path of
//! contact that takes the share μ H of the work ([`mesh_loss`]). Action and reaction stay equal and
//! opposite: the pitch-line force F acts on a line that is shifted away from the driver's centre by
//!
//! ```text
//! δ = (1 − η) rd rn / (s rd + η rn),   η = 1 − μ H,   s = −1 for a ring, else 1
//! ```
//!
//! with rd, rn the radii of driver and driven, so that (work out) / (work in) is η exactly. The shift is a
//! couple F δ on each of the two, against their turning on each other.

use super::rub::{ContactForce, Rub, Wall};
use crate::geometry::{Rim, mesh_loss};
use crate::mechanism::{Rates, Take};
use crate::model::{Gears, Mesh, PartId, Tool};

/// A shift greater than this many radii is no drive any more: it counts as that much, and locks.
const MOST_SHIFT: f64 = 1e6;

/// What rubs between the teeth of the gears of this index. `radii` as of [`friction`].
pub(super) fn rub(tool: &Tool, index: usize, radii: [f64; 2], wall: Wall) -> Option<Rub> {
    if wall == Wall::Second {
        return None;
    }
    Some(Rub {
        drag: 1.0,
        force: friction(tool.gears.get(index)?, radii)?,
        lifts: false,
    })
}

/// Rate at which the first body turns on the second, rad.
#[inline]
pub(super) fn rate(rates: &Rates, [first, second]: [PartId; 2]) -> f64 {
    rates.spin[first.index()] - rates.spin[second.index()]
}

/// What friction, a couple (N mm), does to each.
#[inline]
pub(super) fn drag([first, second]: [PartId; 2], friction: f64, to: &mut (impl Take + ?Sized)) {
    to.couple(first, friction);
    to.couple(second, -friction);
}

/// What presses the two apart: `spread` times the pitch-line force.
pub(super) fn spreads(spread: f64) -> Option<Rub> {
    (spread > 0.0).then_some(Rub {
        drag: spread,
        force: ContactForce::Greater { edge: 0.0 },
        lifts: false,
    })
}

/// The law of a mesh: contact force N times mm of shift, by which of the two drives. `radii`: of the pitch
/// circles, mm; the second of a rack and pinion is not looked at. `None` without friction.
fn friction(gears: &Gears, radii: [f64; 2]) -> Option<ContactForce> {
    let teeth = gears.teeth.map(f64::from);
    let ring = gears.mesh == Mesh::Internal;
    let rack = matches!(gears.mesh, Mesh::Rack { .. });
    let rims = [0, 1].map(|side: usize| {
        let straight = rack && side == 1;
        let inside = ring && teeth[side] > teeth[1 - side];
        Rim::full_depth((!straight).then_some(teeth[side]), inside)
    });
    let loss = gears.friction * mesh_loss(rims, gears.angle);
    if !(loss > 0.0) {
        return None;
    }
    let efficiency = (1.0 - loss).max(0.0);
    let side = if ring { -1.0 } else { 1.0 };
    // With both sides over rd rn, a rack's being without end: (1 − η) / (s / rn + η / rd).
    let curves = [1.0 / radii[0], if rack { 0.0 } else { 1.0 / radii[1] }];
    let most = MOST_SHIFT * radii[0];
    let shift = |driver: usize| {
        let shift = (1.0 - efficiency) / (side * curves[1 - driver] + efficiency * curves[driver]);
        // The ring drives with a shift towards its own centre: the couple is the same way round.
        let turns_faster = !ring || curves[driver] > curves[1 - driver];
        let wanted = if turns_faster { shift } else { -shift };
        if wanted >= 0.0 && wanted < most {
            wanted
        } else {
            most
        }
    };
    Some(ContactForce::Driven {
        first: shift(0),
        second: shift(1),
        opposed: ring,
    })
}
