//! A tool whose self-locking range is known: it must lock there and only there.
//!
//! A crank of length r pushes a pin along a slot by a rod of length l. The rod leans by φ against
//! the slot, sin φ = (r / l) sin θ; its force F gives F cos φ along the slot and F sin φ across,
//! so that F (cos φ − μ sin φ) is left: nothing when tan φ ≥ 1 / μ. (Block on a plane, any text on
//! statics, e.g. D. W. Baker and W. Haynes, *Engineering Statics*, ch. 9.)

use crate::cli::Bench;
use crate::level::level;
use jawforce::analysis::{Direction, Solved, solve};
use jawforce::input::read_tool;
use jawforce::statics::Answer;

const CRANK: f64 = 40.0;
const ROD: f64 = 48.0;

fn solved(friction: f64) -> Solved {
    let text = format!(
        r#"
        [tool]
        units = "mm-N"
        [parts.frame]
        fixed = true
        pins = {{ heel = [0, 0] }}
        marks = {{ stop = [100, 0] }}
        [parts.crank]
        pins = {{ heel = [0, 0], knee = [{CRANK}, 0] }}
        [parts.rod]
        pins = ["knee", "toe"]
        length = {ROD}
        [sketch]
        knee = [0, 40]
        toe = [27, 0]
        [[slots]]
        part = "rod"
        point = "toe"
        on = "frame"
        through = [0, 0]
        angle = 0
        friction = {friction}
        [hand]
        part = "crank"
        line = [[0, 0], [100, 0]]
        grips = [90]
        [[jaw]]
        on = "rod.toe"
        against = "frame.stop"
        axis = 180
        [stroke]
        open = {{ handle = 140 }}
        shut = {{ handle = 10 }}
        steps = 520
        "#
    );
    let read = read_tool(&text, &|_| Err(String::new())).expect("a good file");
    solve(&read.tool, Direction::Closing).expect("a stroke")
}

#[test]
fn a_rod_that_leans_too_far_locks_its_slot_there_and_only_there() {
    let mut seen = [0, 0];
    for friction in [0.9, 1.0, 1.3] {
        for position in &solved(friction).positions {
            let sin = CRANK / ROD * position.handle.sin();
            let tan = sin / (1.0 - sin * sin).sqrt();
            if (tan * friction - 1.0).abs() < 1e-6 {
                continue;
            }
            let answer = position.grips[0].answer[0].expect("no toggle in this stroke");
            let locked = tan * friction > 1.0;
            seen[usize::from(locked)] += 1;
            match answer {
                Answer::Locked => assert!(locked, "free at {}, tan {tan}", position.handle),
                Answer::Moves { force, without } => {
                    assert!(!locked, "locked at {}, tan {tan}", position.handle);
                    let share = 1.0 - friction * tan;
                    assert!(
                        (force / without - share).abs() < 1e-9,
                        "{} {share}",
                        force / without
                    );
                }
                Answer::Slack => panic!("there is no spring"),
                Answer::Ended => panic!("no dies meet"),
                Answer::LiftsOff => panic!("there is no cam"),
            }
        }
    }
    assert!(seen[0] > 300 && seen[1] > 300, "{seen:?}");
}

#[test]
fn below_the_critical_friction_nothing_locks() {
    // The greatest lean is that at θ = 90°.
    let sin = CRANK / ROD;
    let critical = (1.0 - sin * sin).sqrt() / sin;
    for position in &solved(0.999 * critical).positions {
        assert!(matches!(
            position.grips[0].answer[0],
            Some(Answer::Moves { .. })
        ));
    }
}

/// A lever and a link whose far end slides in a slot, invented, with so much friction in thick pins
/// and in the slot that the equations of the forces have several solutions on the return stroke.
fn rough(share: f64) -> Solved {
    // The friction circle, not the coefficient, is in proportion: r sin(atan mu).
    let pins = (share * 1.003_f64.atan().sin()).asin().tan();
    let text = format!(
        r#"
        [tool]
        units = "mm-N"
        [parts.link]
        pins = {{ knee = [69.7845, 78.1446], wrist = [84.8349, 40.0567] }}
        marks = {{ nose = [99.5336, 81.253] }}
        [parts.frame]
        fixed = true
        pins = {{ heel = [47.5879, -30.5969] }}
        marks = {{ anvil = [60.0577, -76.6057] }}
        [parts.lever]
        pins = {{ heel = [48.2547, 43.2705], knee = [64.5143, 45.4272] }}
        [sketch]
        knee = [46.3, -46.8]
        wrist = [10.4, -66.8]
        [[slots]]
        part = "link"
        point = "wrist"
        on = "frame"
        through = [21.011, -78.8931]
        angle = 131.2087
        friction = {slot}
        [hand]
        part = "lever"
        line = [[57.5516, 39.5871], [121.8129, 11.7408], [206.3549, -19.2144]]
        smooth = true
        against = {{ part = "frame", line = [[61.6355, -52.5916], [39.3954, -126.7298], [-51.3168, -227.1599]] }}
        grips = [138.93]
        force = 228.3
        [[jaw]]
        name = "nose"
        on = "link.nose"
        against = "frame.anvil"
        [joints]
        diameter = 15.6
        friction = {pins}
        [stroke]
        open = {{ gap = 17 }}
        shut = {{ gap = 8 }}
        steps = 15
        "#,
        slot = 1.685 * share,
    );
    let read = read_tool(&text, &|_| Err(String::new())).expect("a good file");
    solve(&read.tool, Direction::Opening).expect("a stroke")
}

#[test]
fn of_several_solutions_the_one_is_taken_that_friction_grows_into() {
    // On the return stroke friction takes from the hand: of each newton at the jaw this share is
    // felt there. It goes down to nothing, where the tool locks for good, and has no jumps.
    let felt = |solved: Solved| -> Vec<f64> {
        let grips = solved.positions.iter().map(|p| p.grips[0].answer[0]);
        let share = |answer| match answer {
            Some(Answer::Moves { force, without }) => without / force,
            _ => 0.0,
        };
        grips.map(share).collect()
    };
    let mut before = felt(rough(0.0));
    assert!(before.iter().all(|share| *share == 1.0), "{before:?}");
    for k in 1..=1000 {
        let now = felt(rough(f64::from(k) / 1000.0));
        for (now, before) in now.iter().zip(&before) {
            assert!(
                *now < *before + 1e-12 && before - now < 0.01,
                "a share of {before}, then {now}, at {k} of 1000 of the friction"
            );
        }
        before = now;
    }
    let ends = [
        before.contains(&0.0),
        before.iter().any(|share| *share > 0.1),
    ];
    assert_eq!(ends, [true, true], "{before:?}");
}

/// A spring opens a lever that rubs on its pin; the hand holds it on its way back. By hand, shut, level: the hand pushes
/// with F = 100 N at 100 mm, the work with W at 40 mm, the spring with T = 101 N mm/deg for 100 deg; the pin carries
/// F + W and rubs, against the opening, at the radius of its friction circle, r = 10 sin(atan 0.3) mm:
/// 100 F + r (F + W) = 40 W + T, though the hand alone falls short of the spring by 100 N mm. With a spring of
/// 103 N mm/deg the tool opens by itself.
#[test]
fn friction_holds_a_spring_that_the_hand_alone_does_not() {
    let held = |rate: f64, friction: f64| {
        let more = format!(
            "[joints.heel]\ndiameter = 20\nfriction = {friction}\n[[springs]]\npin = \"heel\"\nrate = \"{rate} N mm/deg\"\nfree = 100\n"
        );
        let bench = Bench::with(&level(
            40.0,
            "",
            "[100]",
            "force = 100\npalm = false",
            &more,
        ));
        let said = bench
            .run(&["stroke", "tool.toml", "--opening", "--json"])
            .json();
        let positions = said["positions"].as_array().expect("positions");
        let shut = &positions[positions.len() - 1]["grips"][0]["jaws"]["jaw"];
        shut["jaw_force"].as_f64().expect("a force")
    };
    let r = 10.0 * 0.3_f64.atan().sin();
    let by_hand = (100.0 * r - 100.0) / (40.0 - r);
    let found = held(101.0, 0.3);
    assert!((found - by_hand).abs() < 1e-9, "{found} {by_hand}");
    assert_eq!(held(103.0, 0.3), 0.0);
    assert_eq!(held(101.0, 0.0), 0.0);
}
