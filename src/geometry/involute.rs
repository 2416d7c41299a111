//! Involute teeth: how long a pair of them touches, and what sliding on each other costs.
//!
//! Contact moves along a straight line through the pitch point, at the pressure angle to the common
//! tangent of the pitch circles, from where the tip of the driven wheel enters to where the tip of the
//! driver leaves (R. S. Khurmi and J. K. Gupta, *Theory of Machines*, sec. 12.16 to 12.18).

use std::f64::consts::PI;

/// A toothed rim, by its pitch circle or pitch line; lengths of any one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rim {
    /// Teeth outside on a circle.
    Outside {
        /// Of the pitch circle.
        radius: f64,
        /// From the pitch circle to the tips.
        addendum: f64,
    },
    /// Teeth inside a ring.
    Inside {
        /// Of the pitch circle.
        radius: f64,
        /// From the pitch circle to the tips.
        addendum: f64,
    },
    /// A rack.
    Straight {
        /// From the pitch line to the tips.
        addendum: f64,
    },
}

impl Rim {
    /// A rim of full-depth teeth, addendum one module, in modules: `teeth` in the full circle, `None` for a
    /// rack.
    #[must_use]
    pub fn full_depth(teeth: Option<f64>, inside: bool) -> Self {
        let addendum = 1.0;
        match teeth {
            None => Self::Straight { addendum },
            Some(teeth) if inside => Self::Inside {
                radius: 0.5 * teeth,
                addendum,
            },
            Some(teeth) => Self::Outside {
                radius: 0.5 * teeth,
                addendum,
            },
        }
    }

    /// Length of the path of contact between the pitch point and the tip of this rim, at a pressure angle
    /// in rad. Inside a ring whose tips stand within the base circle, only as far as there are involutes.
    #[must_use]
    pub fn path(self, pressure: f64) -> f64 {
        let (sin, cos) = pressure.sin_cos();
        let along = |tip: f64, base: f64| (tip * tip - base * base).max(0.0).sqrt();
        match self {
            Self::Outside { radius, addendum } => {
                along(radius + addendum, radius * cos) - radius * sin
            }
            Self::Inside { radius, addendum } => {
                radius * sin - along((radius - addendum).max(0.0), radius * cos)
            }
            Self::Straight { addendum } => addendum / sin,
        }
    }

    /// One over the number of teeth, in modules; that of a ring is negative.
    fn curvature(self) -> f64 {
        match self {
            Self::Outside { radius, .. } => 0.5 / radius,
            Self::Inside { radius, .. } => -0.5 / radius,
            Self::Straight { .. } => 0.0,
        }
    }
}

/// Shares of the contact ratio on either side of the pitch point: path of contact over the pitch of the
/// base circle, for teeth of this module (Khurmi and Gupta, sec. 12.18). Their sum is how many pairs
/// of teeth touch on average.
#[must_use]
pub fn contact_ratios(rims: [Rim; 2], module: f64, pressure: f64) -> [f64; 2] {
    rims.map(|rim| rim.path(pressure) / (PI * module * pressure.cos()))
}

/// Loss of a mesh of full-depth teeth per unit of friction: H in η = 1 − μ H, the mean over the path of
/// contact (G. Niemann and H. Winter, *Maschinenelemente* vol. 2; from memory),
/// H = π (1/z1 ± 1/z2) (1 − ε + ε1² + ε2²).
#[must_use]
pub fn mesh_loss(rims: [Rim; 2], pressure: f64) -> f64 {
    let [first, second] = contact_ratios(rims, 1.0, pressure);
    let curvature = rims[0].curvature() + rims[1].curvature();
    PI * curvature.abs() * (1.0 - first - second + first * first + second * second)
}

#[cfg(test)]
mod tests {
    use super::{Rim, contact_ratios, mesh_loss};
    use approx::assert_relative_eq;

    /// The path between where two tip circles cut the line of action, by points on it.
    #[test]
    fn paths_end_where_tips_cut_the_line_of_action() {
        let pressure = 20.0_f64.to_radians();
        let (sin, cos) = pressure.sin_cos();
        let outside = Rim::full_depth(Some(19.0), false).path(pressure);
        // Pitch point at the origin, the centre at (0, -r), contact at s (cos, sin).
        let tip = (outside * cos).hypot(outside * sin + 9.5);
        assert_relative_eq!(tip, 10.5, epsilon = 1e-12);
        let inside = Rim::full_depth(Some(60.0), true).path(pressure);
        // The centre of the ring at (0, -r) too, but the tips are nearer to it.
        let tip = (inside * cos).hypot(30.0 - inside * sin);
        assert_relative_eq!(tip, 29.0, epsilon = 1e-12);
        let straight = Rim::full_depth(None, false).path(pressure);
        assert_relative_eq!(straight * sin, 1.0, epsilon = 1e-12);
    }

    /// A rack is a wheel, and a ring, of endless radius.
    #[test]
    fn a_rack_is_the_limit_of_wheel_and_ring() {
        let pressure = 20.0_f64.to_radians();
        let pinion = Rim::full_depth(Some(18.0), false);
        let with = |other| {
            let rims = [pinion, other];
            (
                contact_ratios(rims, 1.0, pressure),
                mesh_loss(rims, pressure),
            )
        };
        let rack = with(Rim::full_depth(None, false));
        for inside in [false, true] {
            let wheel = with(Rim::full_depth(Some(1e6), inside));
            assert_relative_eq!(wheel.0[1], rack.0[1], max_relative = 1e-4);
            assert_relative_eq!(wheel.1, rack.1, max_relative = 1e-3);
        }
    }
}
