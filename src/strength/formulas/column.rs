//! Columns: Euler's formula for slender ones, Johnson's parabola below (J. B. Johnson).

use super::Formula;
use std::f64::consts::PI;

const SOURCE: &str = "T. H. Wentzell, Machine Design, ch. 3; R. G. Budynas and J. K. Nisbett, \
    Shigley's Mechanical Engineering Design, ch. 4 (from memory)";

/// Euler, bending in the plane of the tool.
pub const EULER_IN_PLANE: Formula = Formula {
    check: "buckling in the plane, Euler",
    text: "Pcr = pi^2 E A / (K L / r)^2, r = w / sqrt(12), K = 1: both ends turn on their pins",
    source: SOURCE,
};

/// Johnson, bending in the plane of the tool.
pub const JOHNSON_IN_PLANE: Formula = Formula {
    check: "buckling in the plane, Johnson",
    text: "Pcr = A Sy (1 - Sy (K L / r)^2 / (4 pi^2 E)), r = w / sqrt(12), K = 1: both ends turn on their pins",
    source: SOURCE,
};

/// Euler, bending out of the plane.
pub const EULER_OUT_OF_PLANE: Formula = Formula {
    check: "buckling out of the plane, Euler",
    text: "Pcr = pi^2 E A / (K L / r)^2, r = t / sqrt(12): each plate alone, K = 1: the hold of the fork is not counted on",
    source: SOURCE,
};

/// Johnson, bending out of the plane.
pub const JOHNSON_OUT_OF_PLANE: Formula = Formula {
    check: "buckling out of the plane, Johnson",
    text: "Pcr = A Sy (1 - Sy (K L / r)^2 / (4 pi^2 E)), r = t / sqrt(12): each plate alone, K = 1: the hold of the fork is not counted on",
    source: SOURCE,
};

/// A centrally loaded column. Lengths mm, area mm², stresses MPa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Column {
    /// Effective length K L.
    pub length: f64,
    /// Area.
    pub area: f64,
    /// Radius of gyration √(I/A).
    pub radius: f64,
    /// Young's modulus.
    pub modulus: f64,
    /// Yield strength.
    pub yield_strength: f64,
}

impl Column {
    /// Slenderness K L/r.
    #[must_use]
    pub fn slenderness(&self) -> f64 {
        self.length / self.radius
    }

    /// Slenderness at which Euler and Johnson meet, at half the yield strength:
    /// C_c = √(2π²E/S_y).
    #[must_use]
    pub fn limit(&self) -> f64 {
        (2.0 * PI * PI * self.modulus / self.yield_strength).sqrt()
    }

    /// Whether it is slender enough for Euler.
    #[must_use]
    pub fn is_slender(&self) -> bool {
        self.slenderness() > self.limit()
    }

    /// Euler's load π²EA/(KL/r)², N.
    #[must_use]
    pub fn euler(&self) -> f64 {
        PI * PI * self.modulus * self.area / self.slenderness().powi(2)
    }

    /// Johnson's load A S_y (1 − S_y (KL/r)²/(4π²E)), N.
    #[must_use]
    pub fn johnson(&self) -> f64 {
        let used =
            self.yield_strength * self.slenderness().powi(2) / (4.0 * PI * PI * self.modulus);
        self.area * self.yield_strength * (1.0 - used)
    }

    /// The load at which it buckles, N.
    #[must_use]
    pub fn critical(&self) -> f64 {
        if self.is_slender() {
            self.euler()
        } else {
            self.johnson()
        }
    }
}

/// Radius of gyration of a rectangle that bends across its depth `h`: h/√12, mm.
#[must_use]
pub fn rectangle_radius(h: f64) -> f64 {
    h / 12.0_f64.sqrt()
}

#[cfg(test)]
mod tests {
    use super::super::pin::round_area;
    use super::*;
    use approx::assert_relative_eq as near;

    fn round(d: f64, length: f64, modulus: f64, yield_strength: f64) -> Column {
        Column {
            length,
            area: round_area(d),
            radius: d / 4.0,
            modulus,
            yield_strength,
        }
    }

    /// T. H. Wentzell, *Machine Design*, example 3.5: lbf, in, psi.
    #[test]
    fn slender_rod() {
        let rod = round(0.625, 30.0, 30e6, 42e3);
        near!(rod.slenderness(), 192.0, max_relative = 5e-4);
        near!(rod.limit(), 118.74, max_relative = 5e-4);
        assert!(rod.is_slender());
        near!(rod.critical(), 2464.0, max_relative = 5e-4);
    }

    /// The same, example 3.6: K = 0.65, design factor 2.
    #[test]
    fn stocky_column() {
        let column = Column {
            length: 0.65 * 60.0,
            area: 2.26,
            radius: (0.764_f64 / 2.26).sqrt(),
            modulus: 30e6,
            yield_strength: 36e3,
        };
        near!(column.slenderness(), 67.08, max_relative = 5e-4);
        near!(column.limit(), 128.25, max_relative = 5e-4);
        assert!(!column.is_slender());
        near!(column.critical() / 2.0, 35_116.5, max_relative = 5e-4);
    }

    /// L. Levinson, *Statics and Strength of Materials*, example 16.5: fixed and pinned, K = 0.8;
    /// the lever takes a fifth.
    #[test]
    fn push_rod_of_a_lever() {
        let rod = round(0.5, 0.8 * 40.0, 30e6, 36e3);
        near!(rod.euler() / rod.area, 4520.0, max_relative = 3e-3);
        near!(rod.euler() * 0.2, 177.0, max_relative = 3e-3);
    }

    /// Beer, Johnston and DeWolf, *Mechanics of Materials*, example 10.01 (square wooden column,
    /// 2 m, 100 kN, factor 2.5) and sample problem 10.2 (192 in, I = 8 in⁴).
    #[test]
    fn columns_of_beer() {
        let square = |a: f64| Column {
            length: 2000.0,
            area: a * a,
            radius: rectangle_radius(a),
            modulus: 13e3,
            yield_strength: 12.0,
        };
        near!(square(98.3).euler(), 2.5 * 100e3, max_relative = 3e-3);
        near!(square(116.95).euler(), 2.5 * 200e3, max_relative = 3e-3);
        // The Euler load depends on I = 8.00 in⁴ alone: the area only carries it (from memory), so
        // the published stress of 8.79 ksi is not compared.
        let steel = Column {
            length: 192.0,
            area: 3.54,
            radius: (8.0_f64 / 3.54).sqrt(),
            modulus: 29e3,
            yield_strength: 36.0,
        };
        near!(steel.euler(), 62.1, max_relative = 3e-3);
    }

    /// The same, sample problem 10.1: 20 in long, 5 kip at a factor of 2.5, E = 10.1e6 psi (these
    /// three from memory); fixed in one plane at one end and guided (K = 0.7), free in the other
    /// (K = 2): a/b = 0.35, b = 1.620 in, L_e/r = 138.6/b.
    #[test]
    fn as_stiff_in_the_plane_as_out_of_it() {
        let (a, b) = (0.567, 1.620);
        let of = |k: f64, depth: f64| Column {
            length: k * 20.0,
            area: a * b,
            radius: rectangle_radius(depth),
            modulus: 10.1e6,
            yield_strength: 40e3,
        };
        near!(
            of(0.7, a).slenderness(),
            of(2.0, b).slenderness(),
            max_relative = 3e-3
        );
        near!(of(2.0, b).slenderness(), 138.6 / b, max_relative = 3e-3);
        near!(of(2.0, b).euler(), 2.5 * 5000.0, max_relative = 3e-3);
    }

    /// Jindal, *Machine Design*, example 7-6: hollow push rod, d/D = 0.8, 280 mm, 1500 N, factor 2.
    #[test]
    fn hollow_push_rod() {
        let (outer, inner) = (7.939_f64, 0.8 * 7.939_f64);
        let area = round_area(outer) - round_area(inner);
        let second = PI * (outer.powi(4) - inner.powi(4)) / 64.0;
        let rod = Column {
            length: 280.0,
            area,
            radius: (second / area).sqrt(),
            modulus: 207e3,
            yield_strength: 400.0,
        };
        near!(rod.euler(), 3000.0, max_relative = 3e-3);
    }

    #[test]
    fn the_two_curves_meet_at_half_the_yield_strength() {
        let at = round(8.0, 1.0, 205e3, 355.0);
        let column = round(8.0, 2.0 * at.limit(), 205e3, 355.0);
        near!(column.euler(), column.johnson(), max_relative = 1e-12);
        near!(column.euler() / column.area, 177.5, max_relative = 1e-12);
    }
}
