//! Rigid pieces under a toggle press: two bars, known in closed form.
//!
//! Bars AB and BC of lengths L₁ and L₂, A on the ground, C on a slide that runs through A; the hand
//! pushes B square to that line. With the bars at the angles α and β to it, the slide's force is
//! F = H / (tan α + tan β) (common practice for toggles: any text on statics, by the balance of
//! pin B), and the bars carry F / cos α and F / cos β. The piece holds C at D from A; the free bars
//! would bring it to L₁ cos α + L₂ cos β.

use super::{E, add_sections, near};
use crate::models::build;
use jawforce::give::{NoPress, Press, Stop, press};
use jawforce::model::{Direction, GripId, JawId, PartId, PointRef, Push, Target, Tool};
use jawforce::statics::{Mounted, Rig};

/// Lengths of the bars, mm.
const L: [f64; 2] = [100.0, 80.0];
/// Section of both bars, mm².
const A: f64 = 40.0;
/// The gap is zero when C is here.
const ANVIL: f64 = 180.0;
/// Thickness of the piece: the straight bars would press it by this much.
const T: f64 = 0.05;

/// The press, drawn with the bars 10° off the line; its stroke ends at the toggle.
fn toggle(friction: f64) -> Tool {
    let (sin, cos) = 10.0_f64.to_radians().sin_cos();
    let knee = [L[0] * cos, L[0] * sin];
    let slide = [reach(10.0_f64.to_radians()), 0.0];
    let parts = vec![
        build::part(
            "frame",
            &[("A", [0.0, 0.0])],
            &[("anvil", [ANVIL, 0.0])],
            [0.0; 3],
        ),
        build::part("first", &[("A", [0.0, 0.0]), ("B", knee)], &[], [0.0; 3]),
        build::part("second", &[("B", knee), ("C", slide)], &[], [0.0; 3]),
        build::part("ram", &[("C", slide)], &[("nose", slide)], [0.0; 3]),
    ];
    let mut tool = build::tool(
        parts,
        ("first", vec![[0.0, 0.0], knee]),
        vec![L[0]],
        ("ram.nose", "frame.anvil", Some(std::f64::consts::PI)),
    );
    let rider = PointRef {
        part: PartId::new(3),
        point: 0,
    };
    tool.slots = vec![build::slot(
        rider,
        PartId::FIRST,
        [0.0, 0.0],
        0.0,
        Some(0.0),
    )];
    tool.hand.push = Push::Fixed(-std::f64::consts::FRAC_PI_2);
    tool.stroke.open = Target::Handle(12.0_f64.to_radians());
    tool.stroke.shut = Target::Handle(0.0);
    for joint in &mut tool.joint_data {
        joint.diameter = Some(6.0);
        joint.friction = friction;
    }
    add_sections(&mut tool, &[[10.0, 4.0], [10.0, 4.0]]);
    tool
}

fn pressed(tool: &Tool, hand: f64, thickness: f64) -> Result<Press, NoPress> {
    let mounted = Mounted::new(tool).unwrap();
    let mut rig = Rig::new(tool, &mounted, Direction::Closing).unwrap();
    press(&mut rig, GripId::FIRST, hand, thickness)
}

fn beta(alpha: f64) -> f64 {
    (L[0] * alpha.sin() / L[1]).asin()
}

/// Where the free bars bring C.
fn reach(alpha: f64) -> f64 {
    L[0] * alpha.cos() + L[1] * beta(alpha).cos()
}

/// Force on the piece at α, for small deformations.
fn force(alpha: f64) -> f64 {
    let give = (L[0] / alpha.cos().powi(2) + L[1] / beta(alpha).cos().powi(2)) / (E * A);
    (reach(alpha) - (ANVIL - T)) / give
}

/// The hand force for it.
fn needed(alpha: f64) -> f64 {
    force(alpha) * (alpha.tan() + beta(alpha).tan())
}

/// Forces on the piece and of the hand at α with the true lengths of the bars under load.
fn exact(alpha: f64) -> [f64; 2] {
    let at = |force: f64| {
        let first = L[0] * (1.0 - force / (alpha.cos() * E * A));
        let (mut second, mut beta) = (L[1], 0.0_f64);
        for _ in 0..60 {
            beta = (first * alpha.sin() / second).asin();
            second = L[1] * (1.0 - force / (beta.cos() * E * A));
        }
        (first * alpha.cos() + second * beta.cos(), beta)
    };
    let force = bisect(|force| at(force).0 < ANVIL - T, 0.0, 1e5);
    [force, force * (alpha.tan() + at(force).1.tan())]
}

/// Where a condition begins to hold between two values.
fn bisect(holds: impl Fn(f64) -> bool, from: f64, to: f64) -> f64 {
    assert!(!holds(from) && holds(to));
    let (mut low, mut high) = (from, to);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if holds(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    low
}

/// α where the piece is touched.
fn touch() -> f64 {
    bisect(|alpha| reach(alpha) < ANVIL - T, 0.0, 0.5)
}

/// α and hand force where the hand must give most on the way from the touch.
fn worst() -> (f64, f64) {
    let touch = touch();
    (1..20_000)
        .map(|k| touch * f64::from(k) / 20_000.0)
        .map(|alpha| (alpha, needed(alpha)))
        .fold(
            (0.0, 0.0),
            |most, now| if now.1 > most.1 { now } else { most },
        )
}

#[test]
fn a_weak_hand_is_stopped_before_the_toggle() {
    for hand in [5.0, 20.0, 30.0] {
        let found = pressed(&toggle(0.0), hand, T).unwrap();
        assert_eq!(found.stop, Stop::Hand);
        // Coming from the touch, up to the worst place.
        let alpha = -bisect(|x| needed(-x) > hand, -touch(), -worst().0);
        near(found.handle, alpha, 1e-6);
        near(found.jaw_force, force(alpha), 1e-6);
        near(found.hand_force.unwrap(), hand, 1e-6);
        near(found.spread, reach(alpha) - (ANVIL - T), 1e-6);
        // The true lengths of the bars change the answer by about α².
        let true_alpha = -bisect(|x| exact(-x)[1] > hand, -touch(), -worst().0);
        near(found.jaw_force, exact(true_alpha)[0], 2e-3);
        // A rigid tool would stop at the touch.
        let slope = touch().tan() + beta(touch()).tan();
        near(found.ideal.unwrap(), hand / slope, 1e-6);
    }
}

/// A hand that is strong enough for the worst on the way snaps the tool through; the ideal force at
/// the toggle has no limit, the true one is that of the straight bars shortened by T in all.
#[test]
fn a_strong_hand_snaps_through() {
    let most = worst().1;
    assert_eq!(
        pressed(&toggle(0.0), 0.99 * most, T).unwrap().stop,
        Stop::Hand
    );
    // Between the places that are looked at the hand is not forgotten.
    let a_little_less = pressed(&toggle(0.0), (1.0 - 1e-7) * most, T).unwrap();
    assert_eq!(a_little_less.stop, Stop::Hand);
    for hand in [1.01 * most, 10.0 * most] {
        let found = pressed(&toggle(0.0), hand, T).unwrap();
        assert_eq!(found.stop, Stop::Toggle);
        near(found.jaw_force, E * A * T / (L[0] + L[1]), 1e-6);
        near(found.hand_peak, most, 1e-7);
        assert!(found.handle.abs() < 1e-4 && found.hand_force.is_none());
        assert_eq!(found.give.hand_side, 0.0);
        near(
            found.give.share("second").unwrap().per_force,
            L[1] / (E * A),
            1e-6,
        );
    }
    // Stopped before the toggle by the end of its stroke, it keeps what it has there.
    let mut short = toggle(0.0);
    short.stroke.shut = Target::Handle(0.01);
    let found = pressed(&short, 2.0 * most, T).unwrap();
    assert_eq!(found.stop, Stop::End);
    near(found.jaw_force, force(0.01), 1e-6);
}

/// With friction the hand is stopped where its jaw force with friction is that of the give.
#[test]
fn friction_stops_the_hand_earlier() {
    let tool = toggle(0.1);
    let found = pressed(&tool, 30.0, T).unwrap();
    assert_eq!(found.stop, Stop::Hand);
    assert!(found.jaw_force < pressed(&toggle(0.0), 30.0, T).unwrap().jaw_force);
    let mounted = Mounted::new(&tool).unwrap();
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
    let mut stand = rig.at(found.pace).unwrap();
    let there = stand.jaw_force(GripId::FIRST, JawId::FIRST, 30.0);
    let there = there.expect("it moves");
    near(there, found.jaw_force, 1e-6);
    near(found.jaw_force, force(found.handle), 1e-6);
}

#[test]
fn pieces_that_are_not_pressed() {
    let tool = toggle(0.0);
    assert!(matches!(
        pressed(&tool, 30.0, 60.0),
        Err(NoPress::DoesNotFit { .. })
    ));
    let thin = pressed(&tool, 30.0, -0.2);
    assert!(matches!(thin, Err(NoPress::NotTouched { least }) if least.abs() < 1e-3));
    let mut rigid = tool;
    rigid.sections.clear();
    assert_eq!(pressed(&rigid, 30.0, T), Err(NoPress::AllRigid));
}
