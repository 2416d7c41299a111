//! Random four-bars, both assemblies, against the closed form.

use crate::models::build::no_dies;
use crate::models::four_bar::FourBar;
use jawforce::analysis::{Direction, solve};
use proptest::prelude::*;

fn four_bars() -> impl Strategy<Value = (FourBar, f64, f64)> {
    let lengths = (
        10.0..60.0_f64,
        20.0..90.0_f64,
        15.0..80.0_f64,
        20.0..90.0_f64,
    );
    let rest = (
        10.0..60.0_f64,
        60.0..150.0_f64,
        0.0..std::f64::consts::TAU,
        any::<bool>(),
    );
    (lengths, rest, 0.0..std::f64::consts::TAU, 0.05..0.4_f64).prop_map(
        |((a, b, c, d), (e, grip, axis, side), crank, travel)| {
            let side = if side { 1.0 } else { -1.0 };
            let mut bar = FourBar {
                a,
                b,
                c,
                d,
                e,
                grip,
                axis,
                side,
            };
            // The jaw closes as the crank turns, so that the hand's force reaches it.
            if bar.solve(crank + 0.5 * travel, 1.0).ratio < 0.0 {
                bar.axis += std::f64::consts::PI;
            }
            (bar, crank, travel)
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn random_four_bars_match_the_closed_form((bar, crank, travel) in four_bars()) {
        // Only where the linkage exists all along the stroke and a little beyond.
        prop_assume!((0..=10).all(|k| bar.assembles(crank + (f64::from(k) / 8.0 - 0.125) * travel)));
        let mut tool = bar.tool(crank + 0.4 * travel, crank, crank + travel);
        no_dies(&mut tool);
        let signs: Vec<bool> =
            (0..=400).map(|k| bar.solve(crank + travel * f64::from(k) / 400.0, 1.0).ratio > 0.0).collect();
        let toggles = signs.windows(2).any(|w| w[0] != w[1]);
        let solved = match solve(&tool, Direction::Closing) {
            // With a toggle in between, the same angles may be met without one on another part of
            // the motion: that is then the stroke meant.
            _ if toggles => return Ok(()),
            Ok(solved) => solved,
            Err(other) => return Err(TestCaseError::fail(other.text(&tool))),
        };
        for position in &solved.positions {
            let expected = bar.solve(position.handle, 1.0);
            let tip = position.points[3][2];
            for k in 0..2 {
                prop_assert!((tip[k] - expected.jaw_point[k]).abs() < 1e-9, "tip {tip:?} {:?}", expected.jaw_point);
            }
            if position.toggle[0] { continue; }
            let ratio = position.grips[0].ratio[0].unwrap();
            let scale = expected.ratio.abs().max(1.0);
            prop_assert!((ratio - expected.ratio).abs() < 1e-8 * scale * scale, "ratio {ratio} {}", expected.ratio);
            // Joints: A (crank), D (rocker), B (coupler), C (rocker), in the order of the carriers.
            for (joint, k) in [(0, 0), (1, 3), (2, 1), (3, 2)] {
                let found = position.grips[0].pins[joint].unwrap();
                for axis in 0..2 {
                    let off = (found[axis] - 100.0 * expected.pins[k][axis]).abs();
                    let size = expected.pins.iter().flatten().fold(1.0_f64, |w, v| w.max(v.abs()));
                    prop_assert!(off < 1e-6 * size * size, "joint {joint}: {found:?} {:?}", expected.pins[k]);
                }
            }
        }
    }
}
