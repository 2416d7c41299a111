//! Stress concentration: how much greater the stress is at a notch than what the net section carries on average.
//!
//! Told beside the nominal stress and part of no factor: where a metal yields a little, one steady load evens it
//! out; under a load that comes and goes it is where cracks begin.

/// Kt of a round hole in the middle of a plate in tension, on the net section, `share` = d / w being the hole's
/// diameter over the plate's width: 2 + (1 - d / w)^3. `None` where that is no share of a plate.
///
/// Source: R. B. Heywood, *Designing against Fatigue* (from memory), as U. Singh, *Machine Design-I*, ch. 4 uses it.
#[must_use]
pub fn hole(share: f64) -> Option<f64> {
    (share > 0.0 && share < 1.0).then(|| 2.0 + (1.0 - share).powi(3))
}

/// Kt of an eye that its own pin pulls, on the net section, `share` = d / w being the diameter of the hole over the width
/// of the eye. The pin fits closely; with clearance it may be a third to a half more (Frocht and Hill). `None` where that is
/// no share of an eye.
///
/// Source: W. D. Pilkey, *Peterson's Stress Concentration Factors*, round pin joint with a closely fitting pin, after M. M.
/// Frocht and H. N. Hill (1940): a polynomial for shares of 0.15 to 0.75 (from memory). Below, the stress beside the
/// hole is taken to go with the pressure of the pin, above, to stay (own reasoning, no source).
#[must_use]
pub fn eye(share: f64) -> Option<f64> {
    let near = share.clamp(FITTED[0], FITTED[1]);
    let fitted = 12.882 + near * (-52.714 + near * (89.762 - near * 51.667));
    let over_pressure = |share: f64| (1.0 - share) / share;
    let thin = if share < near {
        over_pressure(share) / over_pressure(near)
    } else {
        1.0
    };
    (share > 0.0 && share < 1.0).then_some(fitted * thin)
}

/// Shares that the polynomial of an eye is for.
const FITTED: [f64; 2] = [0.15, 0.75];

/// Kt of a flat bar in tension whose width goes from `wide` to `narrow` with a fillet of radius `r` on both sides, mm,
/// on the narrow section. `None` outside of what was measured: steps of 0.1 to 20 radii.
///
/// Source: W. D. Pilkey, *Peterson's Stress Concentration Factors*, chart 3.1, the polynomials of its curves (from
/// memory; at a step as wide as the bar they must come to 1, which is a test).
#[must_use]
pub fn stepped(wide: f64, narrow: f64, r: f64) -> Option<f64> {
    let h = 0.5 * (wide - narrow);
    let steep = h / r;
    let rows = if (0.1..=2.0).contains(&steep) {
        SHALLOW
    } else if steep > 2.0 && steep <= 20.0 {
        STEEP
    } else {
        return None;
    };
    let [c1, c2, c3, c4] = rows.map(|[one, root, plain]| one + root * steep.sqrt() + plain * steep);
    let share = 2.0 * h / wide;
    let kt = c1 + share * (c2 + share * (c3 + share * c4));
    (narrow > 0.0 && kt.is_finite()).then_some(kt)
}

/// For a step of 0.1 to 2 radii: of each power of 2 h / D the number by itself, that of sqrt(h / r), that of h / r.
const SHALLOW: [[f64; 3]; 4] = [
    [1.007, 1.000, -0.031],
    [-0.114, -0.585, 0.314],
    [0.241, -0.992, -0.271],
    [-0.134, 0.577, -0.012],
];
/// The same for a step of 2 to 20 radii.
const STEEP: [[f64; 3]; 4] = [
    [1.042, 0.982, -0.036],
    [-0.074, -0.156, -0.010],
    [-3.418, 1.220, -0.005],
    [3.450, -2.046, 0.051],
];

#[cfg(test)]
mod tests {
    use super::*;

    /// U. Singh, *Machine Design-I*, example 4.1, p. 102: a plate 40 wide with a hole of 10 carries 6 kN; 200 MPa over
    /// 2.5 are allowed. Printed: Kt = 2.42, t = 6.05 mm.
    #[test]
    fn a_hole_in_a_plate() {
        let kt = hole(10.0 / 40.0).unwrap();
        assert!((kt - 2.42).abs() < 0.005, "{kt}");
        let thickness = kt * 6000.0 / ((40.0 - 10.0) * 200.0 / 2.5);
        assert!((thickness - 6.05).abs() < 0.005, "{thickness}");
        // A hole as wide as the plate leaves two threads in plain tension; a small one is Kirsch's 3.
        assert!((hole(1.0 - 1e-9).unwrap() - 2.0).abs() < 1e-9);
        assert!((hole(1e-9).unwrap() - 3.0).abs() < 1e-8);
        assert_eq!([hole(0.0), hole(1.0), hole(f64::NAN)], [None; 3]);
    }

    /// By hand, 12.882 - 52.714 x + 89.762 x² - 51.667 x³ at 0.42 and 0.25; R. L. Mott, *Machine Elements*, fig. 3-34, shows
    /// between 6 and 2 for such eyes. A pin pulls harder at its hole than what passes a hole that is open.
    #[test]
    fn an_eye_on_its_pin() {
        for (share, kt) in [(0.42, 2.748_2), (0.25, 4.506_3)] {
            let found = eye(share).unwrap();
            assert!((found - kt).abs() < 1e-4, "{share}: {found}");
        }
        for k in 1..100 {
            let share = f64::from(k) / 100.0;
            let (loaded, open) = (eye(share).unwrap(), hole(share).unwrap());
            assert!(
                loaded > open && loaded.is_finite(),
                "{share}: {loaded} {open}"
            );
        }
        assert!((eye(0.1).unwrap() / eye(0.15).unwrap() - 9.0 * 0.15 / 0.85).abs() < 1e-12);
        assert_eq!([eye(0.0), eye(1.0), eye(f64::NAN)], [None; 3]);
    }

    /// F. P. Beer, *Mechanics of Materials*, example 2.12, p. 116: D = 60, d = 40, r = 8, t = 10, 165 MPa allowed. The
    /// book reads K = 1.82 off its chart, and so P = 36.3 kN. The curves say 1.845: within what a chart can be read to.
    #[test]
    fn a_stepped_plate() {
        let kt = stepped(60.0, 40.0, 8.0).unwrap();
        assert!((kt / 1.82 - 1.0).abs() < 0.02, "{kt}");
        let load = 165.0 * 40.0 * 10.0 / kt;
        assert!((load / 36.3e3 - 1.0).abs() < 0.02, "{load}");
        // The book's own step, from its reading.
        let printed: f64 = 165.0 * 40.0 * 10.0 / 1.82;
        assert!((printed - 36.3e3).abs() < 50.0, "{printed}");
    }

    /// A step that leaves nothing of the bar has nothing beside it: the polynomials add up to 1. Both sets agree
    /// where they meet, to what the curves of the chart are drawn to.
    #[test]
    fn the_polynomials_close() {
        for rows in [SHALLOW, STEEP] {
            let sums = [0, 1, 2].map(|k| rows.iter().map(|row| row[k]).sum::<f64>());
            for (sum, wanted) in sums.into_iter().zip([1.0, 0.0, 0.0]) {
                assert!((sum - wanted).abs() < 1e-9, "{sums:?}");
            }
        }
        for share in [0.1, 0.3, 0.6] {
            let (wide, h) = (100.0, 50.0 * share);
            let at = |steep: f64| stepped(wide, wide - 2.0 * h, h / steep).unwrap();
            assert!((at(2.0) / at(2.000_001) - 1.0).abs() < 0.03, "{share}");
        }
        assert_eq!(stepped(60.0, 40.0, 200.0), None);
        assert_eq!(stepped(60.0, 60.0, 1.0), None);
        assert_eq!(stepped(f64::NAN, 40.0, 8.0), None);
    }
}
