//! Toggle joints. The base matters: α is the angle of each link with the line through the feet,
//! F acts at the knee square to that line, P along it on *one* foot.

use super::{Drawing, Reading, close};
use jawforce::analysis::Direction;
use jawforce::statics::Answer;

/// Links of lengths `l1` (from the fixed foot) and `l2` (to the sliding one), the first at `alpha`
/// (rad) to the line of the feet; F at the knee, square to that line, on the first link.
fn toggle(l1: f64, l2: f64, alpha: f64, force: f64) -> Reading {
    let knee = [l1 * alpha.cos(), l1 * alpha.sin()];
    let beta = (knee[1] / l2).asin();
    let foot = [knee[0] + l2 * beta.cos(), 0.0];
    Drawing::new("mm-N")
        .fixed("frame", &[("A", [0.0; 2])], &[("stop", foot)])
        .part("first", &[("A", [0.0; 2]), ("K", knee)], &[])
        .part("second", &[("K", knee), ("C", foot)], &[])
        .part("slider", &[("C", foot)], &[])
        .slot("slider.C", "frame", [0.0; 2], 0.0, true)
        .hand("first", [0.0; 2], knee, "-90", force)
        .jaw("slider", "slider.C", "frame.stop", 180.0)
        .stroke("handle", alpha.to_degrees(), 0.5 * alpha.to_degrees())
        .solve()
}

/// *Machinery's Handbook*, "Toggle-joints with equal arms" (layout and wording from memory; the
/// figures are cos α/(2 sin α)); J. P. Den Hartog, *Mechanics*, prob. 31: Q = 2 P tan α.
#[test]
fn equal_arm_toggle_coefficients_by_the_force_on_one_foot() {
    for (degrees, coefficient) in [
        (0.01, 2864.789),
        (0.02, 1432.394),
        (0.05, 572.958),
        (0.1, 286.479),
        (0.2, 143.239),
        (0.5, 57.294),
        (1.0, 28.645),
        (2.0, 14.318),
        (3.0, 9.5406),
        (4.0, 7.1503),
        (5.0, 5.7150),
        (7.0, 4.0722),
        (10.0, 2.8356),
        (15.0, 1.8660),
        (20.0, 1.3737),
        (25.0, 1.0723),
        (30.0, 0.8660),
        (35.0, 0.7141),
        (40.0, 0.5959),
        (45.0, 0.5000),
    ] {
        let alpha = f64::to_radians(degrees);
        let found = toggle(50.0, 50.0, alpha, 100.0);
        let ratio = found.ratio(0);
        close(&format!("toggle {degrees}"), ratio, coefficient, 1e-4);
        // Rounding of the position, 1e-13 rad, over α.
        let exact = alpha.cos() / (2.0 * alpha.sin());
        close("toggle exact", ratio, exact, 1e-9);
        let arm = -found.axial("second");
        close("toggle arm force", arm, 100.0 * ratio / alpha.cos(), 1e-9);
    }
}

/// Toggle joint bush press (engineeringtoolbox.com, "Toggle joint"): P = F a/(2 h) with a 1983 mm
/// (one arm's projection), h 258 mm, F 883 N (90 kg): 3393 N, ratio 3.8.
#[test]
fn bush_press_by_the_force_on_one_foot() {
    let (a, h) = (1983.0_f64, 258.0_f64);
    let arm = a.hypot(h);
    let found = toggle(arm, arm, h.atan2(a), 90.0 * 9.81);
    close("bush press", found.jaw_force()[0], 3393.0, 1e-3);
    close("bush press ratio", found.ratio(0), 3.8430, 2e-5);
}

/// Unequal arms: P = F/(tan α + tan β) (balance of the knee; reduces to the equal-arm formula).
#[test]
fn unequal_arm_toggle_by_the_force_on_one_foot() {
    for (l1, l2, degrees) in [(30.0, 70.0, 12.0), (70.0, 30.0, 3.0), (40.0, 90.0, 25.0)] {
        let alpha = f64::to_radians(degrees);
        let beta = (l1 * alpha.sin() / l2).asin();
        let found = toggle(l1, l2, alpha, 100.0);
        close(
            "unequal toggle",
            found.ratio(0),
            1.0 / (alpha.tan() + beta.tan()),
            1e-9,
        );
    }
}

/// R. C. Hibbeler and A. Gupta, *Engineering Mechanics: Statics*, ex. 11.3: AB 0.6 m, BC 0.7 m,
/// 45°, 200 N at B square to the line of A and C (the load's size from memory): xC 0.981 m,
/// Cx 114 N.
#[test]
fn knee_press_by_virtual_work_and_by_free_bodies() {
    let found = toggle(600.0, 700.0, std::f64::consts::FRAC_PI_4, 200.0);
    close(
        "11.3 xC",
        found.point("slider", "C")[0] / 1000.0,
        0.981,
        5e-3,
    );
    close("11.3 Cx", found.jaw_force()[0], 114.0, 5e-3);
    close("11.3 Cx recomputed", found.jaw_force()[0], 113.51, 5e-5);
    close("11.3 BC recomputed", -found.axial("second"), 142.71, 5e-5);
    close("11.3 AB recomputed", found.pin_load("A"), 160.52, 5e-5);
}

/// A toggle whose knee is a block in its own guide, with both feet sliding: every link has the
/// same friction at both its ends.
fn toggle_with_pins(alpha: f64, diameter: f64, friction: f64, direction: Direction) -> Reading {
    let length = 50.0;
    let knee = [0.0, length * alpha.sin()];
    let right = [length * alpha.cos(), 0.0];
    let left = [-right[0], 0.0];
    Drawing::new("mm-N")
        .fixed("frame", &[], &[("base", [0.0; 2])])
        .part("knee", &[("K", knee)], &[("pad", [0.0, 1.0 + knee[1]])])
        .part("left", &[("L", left)], &[])
        .part("right", &[("R", right)], &[])
        .part("arm", &[("K", knee), ("L", left)], &[])
        .part("arm2", &[("K", knee), ("R", right)], &[])
        .slot("knee.K", "frame", [0.0; 2], 90.0, true)
        .slot("left.L", "frame", [0.0; 2], 0.0, true)
        .slot("right.R", "frame", [0.0; 2], 0.0, true)
        .hand("knee", knee, [0.0, 1.0 + knee[1]], "-90", 100.0)
        .jaw("feet", "right.R", "left.L", 180.0)
        .stroke("gap", -2.0 * right[0], -2.0 * right[0] - 1e-3)
        .add(&format!(
            "[joints]\ndiameter = {diameter}\nfriction = {friction}"
        ))
        .solve_to(direction)
}

/// With friction at the pins each arm's line of force touches both friction circles, so that it
/// is tilted by ε = asin((r1+r2)/L): P = F/(2 tan(α ± ε)), + closing and − on the return stroke,
/// where the joint holds by itself for α < ε (standard derivation, from memory). Friction circle
/// r sin φ.
#[test]
fn toggle_with_pin_friction_by_r_sin_phi_on_one_foot() {
    let (diameter, friction) = (8.0, 0.15_f64);
    let radius = 0.5 * diameter * friction.atan().sin();
    let tilt = (2.0 * radius / 50.0).asin();
    let mut held = 0;
    for degrees in [30.0, 15.0, 8.0, 4.0, 2.0, 1.0] {
        let alpha = f64::to_radians(degrees);
        let found = toggle_with_pins(alpha, diameter, friction, Direction::Closing);
        let [force, without] = found.jaw_force();
        close("toggle without friction", without, 50.0 / alpha.tan(), 1e-9);
        let expected = 50.0 / (alpha + tilt).tan();
        close(
            &format!("toggle with friction {degrees}"),
            force,
            expected,
            1e-9,
        );
        let back = toggle_with_pins(alpha, diameter, friction, Direction::Opening);
        if alpha > tilt {
            let [force, _] = back.jaw_force();
            let expected = 50.0 / (alpha - tilt).tan();
            close(&format!("toggle opening {degrees}"), force, expected, 1e-9);
        } else {
            held += 1;
            assert_eq!(back.answer(), Answer::Locked, "{degrees} below {tilt}");
        }
    }
    // 1.36°: only the last position holds.
    assert!(
        held == 1,
        "{held} positions hold by themselves, tilt {tilt}"
    );
}
