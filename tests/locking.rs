//! A tool whose self-locking range is known: it must lock there and only there.
//!
//! A crank of length r pushes a pin along a slot by a rod of length l. The rod leans by φ against
//! the slot, sin φ = (r / l) sin θ; its force F gives F cos φ along the slot and F sin φ across,
//! so that F (cos φ − μ sin φ) is left: nothing when tan φ ≥ 1 / μ. (Block on a plane, any text on
//! statics, e.g. D. W. Baker and W. Haynes, *Engineering Statics*, ch. 9.)

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
