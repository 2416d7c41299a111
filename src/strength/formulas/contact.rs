//! Line contact of cylinders: H. Hertz's pressure.

use super::Formula;
use std::f64::consts::PI;

/// Greatest pressure of a roller on its track.
pub const LINE_CONTACT: Formula = Formula {
    check: "roller on its track, Hertz",
    text: "p0 = sqrt(F E* / (pi L R)), E* = E / (2 (1 - nu^2)), 1/R = 1/R1 + 1/R2",
    source: "K. L. Johnson, Contact Mechanics, sec. 4.2 (from memory)",
};

/// Greatest pressure of a cam under its flat.
pub const FLAT_CONTACT: Formula = Formula {
    check: "flat on its cam, Hertz",
    text: "p0 = sqrt(F E* / (pi L R)), E* = E / (2 (1 - nu^2)), R of the cam",
    source: "K. L. Johnson, Contact Mechanics, sec. 4.2 (from memory)",
};

/// Tension behind a contact that slides.
pub const SLIDING_TENSION: Formula = Formula {
    check: "flat on its cam, tension behind the contact",
    text: "sigma = 2 mu p0",
    source: "A. P. Boresi, R. J. Schmidt, Advanced Mechanics of Materials, 6th ed., sec. 17.7 (read off ex. 17.3)",
};

/// Poisson's ratio of the metals that tools are made of (common practice, no source).
pub const POISSON: f64 = 0.3;

/// Greatest pressure at which nothing yields yet below the surface, over the yield strength: by the greatest
/// shear stress, 0.300 p0 at 0.786 of the half width below it. Source: as of [`LINE_CONTACT`].
pub const FIRST_YIELD: f64 = 1.67;

/// Contact modulus of two bodies of one material, MPa.
#[must_use]
pub fn contact_modulus(modulus: f64, poisson: f64) -> f64 {
    0.5 * modulus / (1.0 - poisson * poisson)
}

/// Greatest pressure (MPa) of a line contact of this length (mm) under `force` (N); `curvature`: the sum of the
/// two, 1/mm, a hollow one counted negative.
#[must_use]
pub fn line_pressure(force: f64, length: f64, curvature: f64, contact_modulus: f64) -> f64 {
    (force * contact_modulus * curvature / (PI * length)).sqrt()
}

/// Tensile stress (MPa) at the trailing edge of a line contact of this greatest pressure (MPa) that slides with
/// this coefficient of friction. Source: as of [`SLIDING_TENSION`].
#[must_use]
pub fn sliding_tension(pressure: f64, friction: f64) -> f64 {
    2.0 * friction * pressure
}

/// Greatest shear stress below a line contact of this greatest pressure, MPa. Source: as of
/// [`LINE_CONTACT`].
#[must_use]
pub fn line_shear(pressure: f64) -> f64 {
    0.300 * pressure
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A. P. Boresi and R. J. Schmidt, *Advanced Mechanics of Materials*, 6th ed., ex. 17.3, p. 621: two
    /// cylinders of radius 40 and 20 mm long under 24.1 kN, E = 200 GPa, ν = 0.29: 1445 and 433 MPa, read off
    /// a chart; by the formulas 1447.0 and 434.1.
    #[test]
    fn two_steel_cylinders() {
        let modulus = contact_modulus(200e3, 0.29);
        let pressure = line_pressure(24.1e3, 20.0, 2.0 / 40.0, modulus);
        assert!((pressure / 1445.0 - 1.0).abs() < 2e-3, "{pressure}");
        assert!((pressure - 1447.0).abs() < 0.05, "{pressure}");
        let shear = line_shear(pressure);
        assert!((shear / 433.0 - 1.0).abs() < 3e-3, "{shear}");
        assert!((shear - 434.1).abs() < 0.05, "{shear}");
    }

    /// The same cylinders sliding with a coefficient of 1/9: 321.56 MPa of tension.
    #[test]
    fn two_cylinders_that_slide() {
        let modulus = contact_modulus(200e3, 0.29);
        let pressure = line_pressure(24.1e3, 20.0, 2.0 / 40.0, modulus);
        let tension = sliding_tension(pressure, 1.0 / 9.0);
        assert!((tension - 321.56).abs() < 0.05, "{tension}");
    }

    /// Four times the force doubles the pressure; a hollow that fits closely takes it away.
    #[test]
    fn pressure_goes_with_the_root_of_the_force_and_the_curvature() {
        let of = |force, curvature| line_pressure(force, 10.0, curvature, 115e3);
        assert!((of(400.0, 0.2) / of(100.0, 0.2) - 2.0).abs() < 1e-12);
        assert!((of(100.0, 1.0 / 5.0 - 1.0 / 5.1) / of(100.0, 1.0 / 5.0)).powi(2) < 0.0197);
    }
}
