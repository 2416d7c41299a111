//! Pins: shear, bending across plates, bearing.

use super::{BEER_1, Formula};
use std::f64::consts::PI;

/// Shear of a pin in one plane.
pub const SINGLE_SHEAR: Formula = Formula {
    check: "pin shear, single",
    text: "tau = F / A, A = pi d^2 / 4",
    source: BEER_1,
};

/// Shear of a pin in two planes.
pub const DOUBLE_SHEAR: Formula = Formula {
    check: "pin shear, double",
    text: "tau = F / (2 A), A = pi d^2 / 4",
    source: BEER_1,
};

/// Bending of a pin in a fork.
pub const FORK_BENDING: Formula = Formula {
    check: "pin bending in the fork",
    text: "sigma = 32 M / (pi d^3), M = F / 2 (t1 / 2 + t2 / 4), t1 one outer plate, t2 inner",
    source: "E. F. Bruhn, Analysis and Design of Flight Vehicle Structures, ch. D1 (from memory)",
};

/// Bending of a pin in a lap of two plates.
pub const LAP_BENDING: Formula = Formula {
    check: "pin bending in the lap",
    text: "sigma = 32 M / (pi d^3), M = F t / 2, t the thicker plate: held in one, evenly loaded in the other",
    source: "common practice, no source",
};

/// Bearing of a pin in a plate.
pub const BEARING: Formula = Formula {
    check: "bearing in the hole",
    text: "sigma_b = F / (d t n)",
    source: BEER_1,
};

/// Area of a round section of diameter `d`, mm².
#[must_use]
pub fn round_area(d: f64) -> f64 {
    PI * d * d / 4.0
}

/// Section modulus of a round section of diameter `d`: π d³/32, mm³.
#[must_use]
pub fn round_modulus(d: f64) -> f64 {
    PI * d * d * d / 32.0
}

/// Mean shear stress (MPa) of a pin of diameter `d` (mm) under `force` (N) on `planes` shear
/// planes: τ = F/(n A).
#[must_use]
pub fn shear(force: f64, d: f64, planes: f64) -> f64 {
    force / (planes * round_area(d))
}

/// Greatest bending moment (N mm) of a pin in a fork: M = F/2 (t₁/2 + t₂/4 + g).
///
/// Each outer plate of thickness `outer` (mm) carries half of `force` (N), taken at the middle of
/// the plate; the inner plate's load is spread evenly over its thickness `inner`, so that each
/// half of it acts at a quarter; `gap` is the play between inner and outer plate on each side.
#[must_use]
pub fn fork_moment(force: f64, outer: f64, inner: f64, gap: f64) -> f64 {
    0.5 * force * (0.5 * outer + 0.25 * inner + gap)
}

/// Greatest bending moment (N mm) of a pin in a lap: M = F t/2, a cantilever held in one plate,
/// its load spread evenly over the other's thickness (mm).
#[must_use]
pub fn lap_moment(force: f64, thickness: f64) -> f64 {
    0.5 * force * thickness
}

/// Bearing stress on the projected area: σ = F/(d t), MPa.
#[must_use]
pub fn bearing(force: f64, d: f64, thickness: f64) -> f64 {
    force / (d * thickness)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq as near;

    /// Beer, Johnston and DeWolf, *Mechanics of Materials*, sample problem 1.1: 750 lb; psi, in.
    #[test]
    fn link_with_a_single_and_a_double_shear_pin() {
        near!(shear(750.0, 0.375, 1.0), 6790.0, max_relative = 2e-3);
        near!(shear(750.0, 0.25, 2.0), 7640.0, max_relative = 2e-3);
        near!(bearing(375.0, 0.25, 0.25), 6000.0, max_relative = 2e-3);
        near!(shear(750.0, 0.375, 1.0), 6790.6, max_relative = 1e-5);
        near!(shear(750.0, 0.25, 2.0), 7639.4, max_relative = 1e-5);
    }

    /// The same, sample problem 1.2: 120 kN in double shear, τ = 100 MPa (that from memory),
    /// t = 20 mm; the bolt adopted is 28 mm.
    #[test]
    fn clevis_bolt() {
        near!(shear(120e3, 27.640, 2.0), 100.0, max_relative = 2e-3);
        near!(bearing(120e3, 28.0, 20.0), 214.0, max_relative = 2e-3);
    }

    /// R. C. Hibbeler, *Mechanics of Materials*, examples 1.10 (MPa), 1.13 (ksi) and 1.14 (MPa).
    #[test]
    fn single_and_double_shear() {
        near!(shear(21.36e3, 20.0, 2.0), 34.0, max_relative = 2e-3);
        near!(shear(12.5e3, 30.0, 1.0), 17.7, max_relative = 2e-3);
        near!(shear(6.083, 0.696, 2.0), 8.0, max_relative = 2e-3);
        // 20 kN through a washer: shear around the 40 mm hole, tension in the rod.
        near!(20e3 / (PI * 40.0 * 35.0), 4.55, max_relative = 2e-3);
        near!(20e3 / round_area(20.6), 60.0, max_relative = 2e-3);
    }

    /// L. Levinson, *Statics and Strength of Materials*, example 8.4: 10 000 lb, answers rounded
    /// to 100 psi.
    #[test]
    fn coupling() {
        near!(10e3 / round_area(0.75), 22_600.0, max_relative = 5e-3);
        near!(shear(10e3, 0.5, 2.0), 25_500.0, max_relative = 5e-3);
    }

    /// T. H. Wentzell, *Machine Design*, example 3.3: τ = 50 930 psi is above 0.6 S_u.
    #[test]
    fn a_pin_that_fails() {
        let stress = shear(20e3, 0.5, 2.0);
        near!(stress, 50_930.0, max_relative = 5e-4);
        assert!(stress > 0.6 * 80e3);
    }

    /// E. P. Popov, *Engineering Mechanics of Solids*, example 1.3: 3 kip on a bracket; ksi.
    #[test]
    fn pin_and_bearing_at_a_clevis() {
        let force = 8.0_f64.sqrt();
        near!(bearing(force, 0.375, 2.0 * 0.2), 18.86, max_relative = 1e-3);
        near!(shear(force, 0.375, 1.0), 25.62, max_relative = 1e-3);
    }

    /// Bolts AN3 to AN6 in single shear at 75 ksi, lbf (MIL-HDBK-5, from memory). AN3, called
    /// 3/16 in, is a No. 10 of 0.190 in: only that gives its published load.
    #[test]
    fn bolts_in_single_shear() {
        for (d, load) in [
            (0.190, 2125.0),
            (0.25, 3680.0),
            (0.3125, 5750.0),
            (0.375, 8280.0),
        ] {
            near!(75e3 / shear(1.0, d, 1.0), load, max_relative = 2e-3);
        }
    }

    /// Jindal, *Machine Design*, example 13-1: cotter of 10 × 34 mm through a rod of 64 mm, 25 kN,
    /// 3 F d/(4 t b²) = 103.8 MPa: the fork's moment with the outer load at the rod's face.
    #[test]
    fn cotter_in_bending() {
        let modulus = 10.0 * 34.0 * 34.0 / 6.0;
        near!(
            fork_moment(25e3, 0.0, 64.0, 0.0) / modulus,
            103.8,
            max_relative = 1e-2
        );
        near!(25e3 / round_area(25.23), 50.0, max_relative = 1e-2);
    }

    /// The moments from the shear force along the pin, summed in small steps.
    #[test]
    fn moments_are_areas_under_the_shear_force() {
        let (outer, inner, gap, force) = (3.0, 8.0, 0.5, 900.0);
        // Half of the force at the middle of the outer plate, the inner spread evenly.
        let (start, face) = (0.5 * outer, outer + gap);
        let (mut moment, n) = (0.0, 100_000);
        let step = (face + 0.5 * inner - start) / f64::from(n);
        for k in 0..n {
            let x = start + (f64::from(k) + 0.5) * step;
            moment += step * (0.5 * force - force / inner * (x - face).max(0.0));
        }
        near!(
            fork_moment(force, outer, inner, gap),
            moment,
            max_relative = 1e-4
        );
    }
}
