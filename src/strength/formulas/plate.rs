//! Plates with holes: net section and tear-out.

use super::{BEER_1, Formula};

/// Tension through the hole.
pub const NET_SECTION: Formula = Formula {
    check: "net section",
    text: "sigma = F / ((w - d) t n), d of the hole",
    source: BEER_1,
};

/// Tension or compression away from the holes.
pub const GROSS_SECTION: Formula = Formula {
    check: "gross section",
    text: "sigma = F / (w t n)",
    source: BEER_1,
};

/// The pin tears the end of the plate out.
pub const TEAR_OUT: Formula = Formula {
    check: "shear tear-out",
    text: "tau = F / (2 t n (e - d / 2)), two planes from the edge of the hole to the end, d of the hole",
    source: "two planes by first principles; the mode is listed in AFFDL-TR-69-42, Stress Analysis Manual, ch. 9",
};

/// Mean stress (MPa) in the net section of a plate of depth `w` and thickness `t` with a hole of
/// diameter `d` (mm): σ = F/((w − d) t).
#[must_use]
pub fn net_section(force: f64, w: f64, d: f64, t: f64) -> f64 {
    force / ((w - d) * t)
}

/// Mean stress (MPa) in the gross section: σ = F/(w t).
#[must_use]
pub fn gross_section(force: f64, w: f64, t: f64) -> f64 {
    force / (w * t)
}

/// Mean shear stress (MPa) when a pin tears out of the end of a plate, `e` from the hole's centre
/// to the end: two planes from the sides of the hole, counted from its centre less half its
/// diameter: τ = F/(2 t (e − d/2)). Lower than the 40° planes, so on the safe side.
#[must_use]
pub fn tear_out(force: f64, e: f64, d: f64, t: f64) -> f64 {
    force / (2.0 * t * (e - 0.5 * d))
}

#[cfg(test)]
mod tests {
    use super::super::pin::bearing;
    use super::*;
    use approx::assert_relative_eq as near;

    /// Beer, Johnston and DeWolf, *Mechanics of Materials*, sample problem 1.1: psi, in.
    #[test]
    fn link_through_the_hole() {
        near!(
            net_section(750.0, 1.25, 0.375, 0.375),
            2290.0,
            max_relative = 2e-3
        );
        near!(
            net_section(750.0, 1.25, 0.375, 0.375),
            2285.7,
            max_relative = 1e-5
        );
        near!(750.0 / (1.25 * 1.75 * 2.0), 171.43, max_relative = 1e-3);
    }

    /// The same, sample problem 1.2: σ = 175 MPa, t = 20 mm, d = 28 mm. Each side of the eye
    /// carries half of 120 kN: a = 17.14, so the eye is b = 62.3 wide; the bar is h = 34.3 deep.
    #[test]
    fn clevis_bar() {
        near!(
            net_section(120e3, 62.3, 28.0, 20.0),
            175.0,
            max_relative = 2e-3
        );
        near!(gross_section(120e3, 34.3, 20.0), 175.0, max_relative = 2e-3);
    }

    /// E. P. Popov, *Engineering Mechanics of Solids*, example 1.3, ksi; L. Levinson, *Statics and
    /// Strength of Materials*, example 8.4, psi.
    #[test]
    fn bars() {
        let (short, long) = (5.0_f64.sqrt(), 8.0_f64.sqrt());
        near!(gross_section(short, 0.5, 0.25), 17.89, max_relative = 1e-3);
        near!(
            net_section(short, 0.875, 0.375, 2.0 * 0.2),
            11.18,
            max_relative = 1e-3
        );
        near!(gross_section(long, 0.875, 0.25), 12.93, max_relative = 1e-3);
        near!(gross_section(10e3, 2.0, 0.5), 10_000.0, max_relative = 5e-3);
    }

    /// An eye made up for the purpose, from the published formulas (AFFDL-TR-69-42 ch. 9 lists the
    /// three modes): shear-out governs.
    #[test]
    fn three_ways_of_an_eye_to_fail() {
        let (t, d, e, w) = (3.0, 5.0, 6.0, 12.0);
        let loads = [
            200.0 / tear_out(1.0, e, d, t),
            350.0 / net_section(1.0, w, d, t),
            500.0 / bearing(1.0, d, t),
        ];
        for (load, expected) in loads.into_iter().zip([4200.0, 7350.0, 7500.0]) {
            near!(load, expected, max_relative = 1e-12);
        }
    }
}
