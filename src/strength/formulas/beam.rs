//! Straight beams: sections, bending with axial force, transverse shear.

use super::Formula;

/// Bending with axial force, at the outer fibre.
pub const BENDING: Formula = Formula {
    check: "bending with axial force",
    text: "sigma = |N| / A + |M| / Z, A = w t n, Z = n t w^2 / 6; at a hole A = (w - d) t n, Z = n t (w^3 - d^3) / (6 w)",
    source: "F. P. Beer, E. R. Johnston, J. T. DeWolf, Mechanics of Materials, ch. 4",
};

/// Transverse shear at the middle of a rectangle.
pub const SHEAR: Formula = Formula {
    check: "transverse shear",
    text: "tau = 3 |V| / (2 A), A = w t n; at a hole A = (w - d) t n",
    source: "F. P. Beer, E. R. Johnston, J. T. DeWolf, Mechanics of Materials, ch. 6",
};

/// A rectangular section with a hole through its middle, across the plane of bending.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle {
    /// Depth in the plane, mm.
    pub depth: f64,
    /// Thickness of all plates together, mm.
    pub thickness: f64,
    /// Diameter of the hole, mm; 0 without one.
    pub hole: f64,
}

impl Rectangle {
    /// Net area (w − d) t, mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        (self.depth - self.hole) * self.thickness
    }

    /// Net second moment of area t (w³ − d³)/12, mm⁴.
    #[must_use]
    pub fn second_moment(&self) -> f64 {
        self.thickness * (self.depth.powi(3) - self.hole.powi(3)) / 12.0
    }

    /// Net section modulus t (w³ − d³)/(6 w), mm³.
    #[must_use]
    pub fn modulus(&self) -> f64 {
        2.0 * self.second_moment() / self.depth
    }

    /// Greatest normal stress |N|/A + |M|/Z, MPa.
    #[must_use]
    pub fn stress(&self, axial: f64, moment: f64) -> f64 {
        axial.abs() / self.area() + moment.abs() / self.modulus()
    }

    /// Greatest transverse shear stress 3|V|/(2A), MPa.
    #[must_use]
    pub fn shear(&self, transverse: f64) -> f64 {
        1.5 * transverse.abs() / self.area()
    }
}

#[cfg(test)]
mod tests {
    use super::super::pin::round_modulus;
    use super::*;
    use approx::assert_relative_eq as near;

    fn bar(depth: f64, thickness: f64) -> Rectangle {
        Rectangle {
            depth,
            thickness,
            hole: 0.0,
        }
    }

    /// D. Baker and W. Haynes, *Engineering Statics: Open and Interactive*, sec. 10.4: planks of
    /// 1.5 × 5.5 in, stacked flat-ended (62.4 in⁴) and as an I-beam (226 in⁴).
    #[test]
    fn planks() {
        near!(
            3.0 * bar(5.5, 1.5).second_moment(),
            62.4,
            max_relative = 3e-3
        );
        // Web upright between two flanges lying flat, 3.5 in from the middle.
        let flange = bar(1.5, 5.5);
        let beam = bar(5.5, 1.5).second_moment()
            + 2.0 * (flange.second_moment() + flange.area() * 3.5 * 3.5);
        near!(beam, 226.0, max_relative = 3e-3);
    }

    /// Beer, Johnston and DeWolf, *Mechanics of Materials*, example 4.01 (bar of 0.8 × 2.5 in at
    /// 36 ksi: 30 kip in) and sample problem 4.1 (tube 3.25 × 5 in, wall 0.25: 12.97 in⁴,
    /// 103.8 kip in at 20 ksi).
    #[test]
    fn moments_that_sections_carry() {
        near!(36.0 * bar(2.5, 0.8).modulus(), 30.0, max_relative = 1e-3);
        let tube = bar(5.0, 3.25).second_moment() - bar(4.5, 2.75).second_moment();
        near!(tube, 12.97, max_relative = 1e-3);
        near!(20.0 * tube / 2.5, 103.8, max_relative = 1e-3);
    }

    /// Jindal, *Machine Design*, example 6-5: 400 N on a grip of 300 mm, taken at two thirds;
    /// 80 MPa asks for 21.7 mm.
    #[test]
    fn round_grip_of_a_hand_lever() {
        near!(
            400.0 * 200.0 / round_modulus(21.677),
            80.0,
            max_relative = 3e-3
        );
    }

    /// T. H. Wentzell, *Machine Design*, example 3.2: 2 × 2 in over 36 in, 3000 lb in the middle:
    /// 20 250 psi. A cantilever of 6 × 12 mm, 150 N at 90 mm: 93.75 MPa by arithmetic.
    #[test]
    fn beams() {
        near!(
            bar(2.0, 2.0).stress(0.0, 1500.0 * 18.0),
            20_250.0,
            max_relative = 1e-3
        );
        near!(
            bar(12.0, 6.0).stress(0.0, 150.0 * 90.0),
            93.75,
            max_relative = 1e-12
        );
        near!(
            bar(12.0, 6.0).stress(-720.0, -13_500.0),
            103.75,
            max_relative = 1e-12
        );
    }

    /// The sum of thin strips across the net section.
    #[test]
    fn a_hole_takes_its_part_of_the_section() {
        let net = Rectangle {
            depth: 14.0,
            thickness: 3.0,
            hole: 5.0,
        };
        let strips = 200_000;
        let (mut area, mut second, step) = (0.0, 0.0, 14.0 / f64::from(strips));
        for k in 0..strips {
            let y = -7.0 + (f64::from(k) + 0.5) * step;
            if y.abs() > 2.5 {
                area += 3.0 * step;
                second += 3.0 * step * y * y;
            }
        }
        near!(net.area(), area, max_relative = 1e-4);
        near!(net.modulus(), second / 7.0, max_relative = 1e-4);
        near!(net.shear(90.0), 5.0, max_relative = 1e-12);
    }
}
