//! What a spring stands that is loaded again and again.

/// The stress of a spring over a cycle, MPa: half of what it goes up and down by, and the mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swing {
    /// Half the difference.
    pub amplitude: f64,
    /// The mean.
    pub mean: f64,
}

/// How far a swing of stress is from the line through what the wire stands from zero to most (`repeated`, MPa, so that
/// amplitude and mean are half of it) and what it stands at rest (`steady`, MPa): the factor by which both amplitude and
/// mean may grow. `None` without stress, or where the line does not fall.
///
/// Source: Bhandari, sec. 10.9; Jindal, example 8-13, with 0.22 and 0.45 of the tensile strength of oil-hardened wire.
#[must_use]
pub fn repeated_factor(swing: Swing, repeated: f64, steady: f64) -> Option<f64> {
    let half = 0.5 * repeated;
    let slope = (steady - half) / half;
    let sum = slope * swing.amplitude + swing.mean;
    let factor = steady / sum;
    (half > 0.0 && slope > 0.0 && sum > 0.0 && factor.is_finite()).then_some(factor)
}

#[cfg(test)]
mod tests {
    use super::super::{CoilEnds, Helical};
    use super::*;

    fn swing(spring: &Helical, least: f64, most: f64) -> Swing {
        Swing {
            amplitude: spring.stress(0.5 * (most - least)),
            mean: spring.steady_stress(0.5 * (most + least)),
        }
    }

    fn spring(wire: f64, coil: f64) -> Helical {
        Helical {
            wire,
            coil,
            turns: 10.0,
            ends: CoilEnds::Ground,
        }
    }

    /// Jindal, example 8-13: d 3, C 7, 80 N mean, 40 N amplitude, Sut 1500, 0.22 and 0.45 of it. Printed mean stress
    /// 169.77; printed amplitude 86.2 and factor 1.548 come of divisions of whole numbers: right are 96.09 and 1.446.
    #[test]
    fn a_spring_between_two_loads() {
        let swing = swing(&spring(3.0, 21.0), 40.0, 120.0);
        assert!((swing.mean - 169.77).abs() < 0.01, "{swing:?}");
        assert!((swing.amplitude - 96.09).abs() < 0.005, "{swing:?}");
        let factor = repeated_factor(swing, 0.22 * 1500.0, 0.45 * 1500.0).unwrap();
        assert!((factor - 1.446).abs() < 0.0005, "{factor}");
    }

    /// Bhandari, example 10.14: d 5, D 30, 100 to 350 N. Printed factor: 1.46. The strength of its wire is from a table
    /// that was not read; 1440 MPa is what the printed factor takes, so that this is a check of no more than the line.
    #[test]
    fn a_cam_spring() {
        let swing = swing(&spring(5.0, 30.0), 100.0, 350.0);
        let factor = repeated_factor(swing, 0.22 * 1440.0, 0.45 * 1440.0).unwrap();
        assert!((factor - 1.46).abs() < 0.005, "{factor}");
    }

    #[test]
    fn the_ends_of_the_line() {
        let at = |amplitude, mean| repeated_factor(Swing { amplitude, mean }, 300.0, 500.0);
        // From zero to 300: exactly at the limit; at rest at 500 likewise.
        assert!((at(150.0, 150.0).unwrap() - 1.0).abs() < 1e-12);
        assert!((at(0.0, 500.0).unwrap() - 1.0).abs() < 1e-12);
        assert_eq!(at(0.0, 0.0), None);
        assert_eq!(
            repeated_factor(
                Swing {
                    amplitude: 1.0,
                    mean: 1.0
                },
                0.0,
                500.0
            ),
            None
        );
        assert_eq!(
            repeated_factor(
                Swing {
                    amplitude: 1.0,
                    mean: 1.0
                },
                300.0,
                100.0
            ),
            None
        );
    }
}
