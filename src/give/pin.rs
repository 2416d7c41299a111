//! Shear of a pin.

/// Form factor of a solid circle in shear: W. C. Young and R. G. Budynas, *Roark's Formulas for
/// Stress and Strain*, 7th ed., sec. 8.10 (from memory).
pub const CIRCLE_SHEAR: f64 = 10.0 / 9.0;

/// E / G for steel, from 2 (1 + ν) with ν = 0.3 (common practice, no source).
const MODULI: f64 = 2.6;

/// What a pin gives per unit of the force that it passes on, by shear, mm/N.
///
/// Each plate bears on the pin evenly along its thickness, and the plates lie side by side without
/// a gap. Then the shear force rises along each plate in a straight line, up to F over the number
/// of shear `planes` (1 or 2), and the integral of V² / (G A) along the pin is
///
/// ```text
/// (10/9) (F / planes)² (thickness / 3) / (G A)
/// ```
///
/// with `thickness` that of all plates of both parts (mm), `diameter` in mm and Young's modulus in
/// MPa. From first principles.
#[must_use]
pub fn pin_shear(diameter: f64, thickness: f64, planes: f64, modulus: f64) -> f64 {
    let area = std::f64::consts::FRAC_PI_4 * diameter * diameter;
    let shear_modulus = modulus / MODULI;
    CIRCLE_SHEAR * thickness / (3.0 * planes * planes * shear_modulus * area)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq as near;

    /// The shear force summed up in thin slices: a fork of two 3 mm plates round an eye of 5 mm,
    /// and a lap of 4 mm on 6 mm.
    #[test]
    fn slices_of_the_shear_force() {
        let slices = |plates: &[(f64, f64)]| {
            let (mut v, mut sum) = (0.0, 0.0);
            for &(thickness, load) in plates {
                let n = 4000;
                let step = thickness / f64::from(n);
                for k in 0..n {
                    let at = v + load * (f64::from(k) + 0.5) / f64::from(n);
                    sum += at * at * step;
                }
                v += load;
            }
            sum
        };
        let (e, d) = (205_000.0, 5.0);
        let unit = CIRCLE_SHEAR / (e / 2.6 * std::f64::consts::FRAC_PI_4 * d * d);
        let fork = slices(&[(3.0, 0.5), (5.0, -1.0), (3.0, 0.5)]);
        near!(pin_shear(d, 11.0, 2.0, e), unit * fork, max_relative = 1e-6);
        let lap = slices(&[(4.0, 1.0), (6.0, -1.0)]);
        near!(pin_shear(d, 10.0, 1.0, e), unit * lap, max_relative = 1e-6);
    }
}
