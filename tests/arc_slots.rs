//! Arc slots: the link that each stands for, and a roller by its closed form.

use crate::models::build::{self, no_dies};
use crate::models::closing;
use crate::models::random::{self, Dice};
use crate::properties::digits;
use jawforce::analysis::{Direction, Failure, Solved, solve};
use jawforce::model::{JointId, Place, Roller, Slot, SlotLine, Target, Tool};
use jawforce::motion::MotionError;
use jawforce::statics::Answer;

/// Allowed difference over the greatest value of its kind.
const SAME: f64 = 1e-9;

pub fn stroke(tool: &Tool) -> Option<Solved> {
    match solve(tool, Direction::Closing) {
        Ok(solved) => Some(solved),
        Err(Failure::Motion(MotionError::NoneCloses { .. } | MotionError::Unreachable { .. })) => {
            None
        }
        Err(other) => panic!("{}", other.text(tool)),
    }
}

pub fn near(what: &str, ours: f64, expected: f64, scale: f64) {
    assert!(
        (ours - expected).abs() <= SAME * scale.max(expected.abs()),
        "{what}: {ours} is not {expected}"
    );
}

/// Positions, ratio, jaw force and the force at every other pin are those of the link from the centre of
/// the arc to the rider.
#[test]
fn an_arc_slot_does_what_its_link_does() {
    let mut compared = 0;
    for seed in 0..2000 {
        let numbers = digits(seed);
        let Some(mut linked) = random::six_bar(&mut Dice::new(&numbers)).map(closing) else {
            continue;
        };
        linked.hand.force = 100.0;
        let arced = random::arc_for_link(&linked);
        let (Some(one), Some(other)) = (stroke(&linked), stroke(&arced)) else {
            continue;
        };
        // A random stroke may be met on another branch of the motion by the one that has a part less.
        let last = |s: &Solved| s.positions.last().map_or(0.0, |p| p.travel);
        if last(&one) > 1.01 * random::TRAVEL || last(&other) > 1.01 * random::TRAVEL {
            continue;
        }
        compared += 1;
        for (a, b) in one.positions.iter().zip(&other.positions) {
            for (part, of) in arced.parts.iter().enumerate() {
                let same = linked.part_index(&of.name).expect("the same part").index();
                for (p, q) in b.points[part].iter().zip(&a.points[same]) {
                    near("x", p[0], q[0], 100.0);
                    near("y", p[1], q[1], 100.0);
                }
            }
            let (a, b) = (&a.grips[0], &b.grips[0]);
            let ratio = a.ratio[0].expect("a ratio");
            near("ratio", b.ratio[0].expect("a ratio"), ratio, 1.0);
            let (Some(Answer::Moves { force, .. }), Some(Answer::Moves { force: own, .. })) =
                (a.answer[0], b.answer[0])
            else {
                assert_eq!(
                    a.answer[0].map(|a| std::mem::discriminant(&a)),
                    b.answer[0].map(|b| std::mem::discriminant(&b))
                );
                continue;
            };
            near("jaw force", own, force, 100.0);
            let forces = a.pins.iter().flatten().flatten();
            let most = forces.fold(100.0, |most: f64, f| most.max(f.abs()));
            for (j, joint) in JointId::each(&arced.joints) {
                let label = arced.joint_label(j);
                let same =
                    JointId::ids(linked.joints.len()).find(|&k| linked.joint_label(k) == label);
                let same = same.expect("the same pin");
                let [ours, theirs] =
                    [b.pins[j.index()], a.pins[same.index()]].map(|f| f.expect("a force"));
                // The force is on the later part, which is the same one in both.
                assert_eq!(
                    arced.parts[joint.part].name,
                    linked.parts[linked.joints[same].part].name
                );
                near("pin", ours[0], theirs[0], most);
                near("pin", ours[1], theirs[1], most);
            }
        }
    }
    assert!(compared >= 60, "{compared} compared");
}

const CRANK: f64 = 40.0;
const ARM: f64 = 150.0;
const ROLLER: Roller = Roller {
    diameter: 12.0,
    pin: 5.0,
    width: None,
};
const FRICTION: f64 = 0.15;

/// A crank whose pin carries a roller in a slot across a plunger, which is keyed to run straight up: the
/// hand pushes square at `ARM`.
fn yoke(roller: Option<Roller>, line: SlotLine, at: f64) -> Tool {
    let (sin, cos) = at.sin_cos();
    let pin = [CRANK * cos, CRANK * sin];
    let parts = vec![
        build::part(
            "frame",
            &[("A", [0.0; 2])],
            &[("anvil", [0.0, 200.0]), ("guide", [0.0; 2])],
            [0.0; 3],
        ),
        build::part(
            "crank",
            &[("A", [0.0; 2])],
            &[("B", [CRANK, 0.0]), ("grip", [ARM, 0.0])],
            [0.0, 0.0, at],
        ),
        build::part("plunger", &[], &[("foot", [0.0; 2])], [0.0, pin[1], 0.0]),
    ];
    let mut tool = build::tool(
        parts,
        ("crank", vec![[0.0; 2], [ARM, 0.0]]),
        vec![ARM],
        (
            "plunger.foot",
            "frame.anvil",
            Some(-std::f64::consts::FRAC_PI_2),
        ),
    );
    let point = |part: &str, point: &str| {
        let part = tool.part_index(part).expect("a part");
        let point = tool.parts[part].point_index(point).expect("a point");
        jawforce::model::PointRef { part, point }
    };
    let (b, foot) = (point("crank", "B"), point("plunger", "foot"));
    tool.slots = vec![
        Slot {
            roller,
            friction: FRICTION,
            line,
            ..build::slot(b, foot.part, [0.0; 2], 0.0, None)
        },
        build::slot(
            foot,
            tool.fixed,
            [0.0; 2],
            std::f64::consts::FRAC_PI_2,
            Some(0.0),
        ),
    ];
    tool.hand.force = 100.0;
    tool.stroke.open = Target::Handle(at);
    tool.stroke.shut = Target::Handle(at + 0.2);
    no_dies(&mut tool);
    tool
}

fn jaw_force(tool: &Tool) -> Vec<(f64, f64)> {
    let solved = stroke(tool).expect("a stroke");
    let force = |answer: Option<Answer>| match answer {
        Some(Answer::Moves { force, .. }) => force,
        other => panic!("{other:?}"),
    };
    let row = |p: &jawforce::analysis::Position| (p.handle, force(p.grips[0].answer[0]));
    solved.positions.iter().map(row).collect()
}

/// By hand: the wall of the slot is above the roller, which is pressed on by the work, F. The crank turns
/// left, so the rim of the roller stands still under the wall while the crank's end goes to the left there
/// with ω (r sin θ + R); the friction of the pin does what a force μ d/D F along the wall does.
/// Hand H at the arm L: H L = F (r cos θ + μ d/D (r sin θ + R)); a pin that slides: F (r cos θ + μ r sin θ).
#[test]
fn a_roller_in_a_straight_slot_by_hand() {
    let line = SlotLine::Straight {
        through: Place::At([0.0; 2]),
        angle: 0.0,
    };
    for (roller, at) in [
        (Some(ROLLER), 0.3),
        (None, 0.3),
        (Some(ROLLER), 0.9),
        (None, 0.9),
    ] {
        for (theta, force) in jaw_force(&yoke(roller, line, at)) {
            let (sin, cos) = theta.sin_cos();
            let (share, radius) = match roller {
                Some(roller) => (roller.pin / roller.diameter, 0.5 * roller.diameter),
                None => (1.0, 0.0),
            };
            let arm = CRANK * cos + FRICTION * share * (CRANK * sin + radius);
            near("jaw force", force, 100.0 * ARM / arm, 1.0);
        }
    }
}

/// The same where the crank's end goes on the other way, below its pivot: there the wall's own motion
/// against the rim is r sin θ + R again, which is the other way round from the pin's, r sin θ, where the
/// pin is low enough; a roller then turns with its pin the other way than a pin would slide.
#[test]
fn a_roller_rolls_on_the_wall_that_is_pressed() {
    let line = SlotLine::Straight {
        through: Place::At([0.0; 2]),
        angle: 0.0,
    };
    // r sin θ is between −R and 0 at −0.1 rad, and below −R at −0.5 rad.
    for at in [-0.1, -0.8] {
        for (theta, force) in jaw_force(&yoke(Some(ROLLER), line, at)) {
            let (sin, cos) = theta.sin_cos();
            let share = FRICTION * ROLLER.pin / ROLLER.diameter;
            let rim = CRANK * sin + 0.5 * ROLLER.diameter;
            let arm = CRANK * cos + share * rim.abs();
            near("jaw force", force, 100.0 * ARM / arm, 1.0);
        }
    }
}

/// A slot whose arc has a great radius is nearly straight: force and friction come to those of the straight
/// slot as 1/radius, on either side that its centre lies.
#[test]
fn a_flat_arc_is_a_straight_slot() {
    let line = SlotLine::Straight {
        through: Place::At([0.0; 2]),
        angle: 0.0,
    };
    for roller in [Some(ROLLER), None] {
        for side in [-1.0, 1.0] {
            let off = [1e4, 1e5].map(|radius| {
                let centre = Place::At([0.0, side * radius]);
                let arc = yoke(roller, SlotLine::Arc { centre, radius }, 0.5);
                let (straight, arc) = (jaw_force(&yoke(roller, line, 0.5)), jaw_force(&arc));
                (arc[0].1 - straight[0].1).abs()
            });
            assert!(off[0] < 2.0 && off[0] > 1e-3, "{off:?}");
            assert!((off[0] / off[1] - 10.0).abs() < 0.1, "{off:?}");
        }
    }
}
