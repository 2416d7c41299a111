//! A plate with an outline: what its sections give, each for the length of the centre line that it stands for.

use super::handle::Bent;
use super::result::Flexure;
use crate::strength::{Knot, Throats};

/// What the plate gives under forces that balance, of Young's modulus `modulus` (MPa). `others`: those among
/// them that are not the hand's.
pub(super) fn flexure(throats: &Throats, knots: &[Knot], others: &[Knot], modulus: f64) -> Bent {
    let (forces, others) = (throats.place(knots), throats.place(others));
    let mut bent = Bent::default();
    for throat in &throats.all {
        let [axial, bending] = throat.section.energies(throat.carried(&forces));
        let piece = Flexure {
            axial: throat.length * axial / modulus,
            bending: throat.length * bending / modulus,
            ..Flexure::default()
        };
        bent.all = bent.all.plus(piece);
        if throat.leaves_aside(&others) {
            bent.hand_side = bent.hand_side.plus(piece);
        }
    }
    bent
}
