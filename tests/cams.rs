//! Cams: the linkages that they stand for, followers by hand, lifting off, holding themselves.

use crate::arc_slots::{near, stroke};
use crate::models::build::{self, no_dies};
use crate::models::closing;
use crate::models::random::{self, Dice};
use crate::properties::digits;
use jawforce::analysis::{Direction, Solved, solve};
use jawforce::input::read_tool;
use jawforce::measure::{named, read_at};
use jawforce::model::{
    Cam, CamFace, Follower, GripId, JointData, JointId, PartId, Place, PointRef, Roller, SlotLine,
    Target, Tool,
};
use jawforce::statics::{Answer, Mounted, Rig};
use std::f64::consts::{FRAC_PI_2, PI};

/// The tool with an arc slot, with a cam in its place: its face and the roller share the radius.
fn cam_for_arc(arced: &Tool, roller: Roller) -> Tool {
    let slot = &arced.slots[0];
    let SlotLine::Arc { centre, radius } = slot.line else {
        panic!("an arc slot");
    };
    let mut tool = arced.clone();
    tool.cams = vec![Cam {
        name: None,
        part: slot.on,
        face: CamFace::Disc {
            centre,
            radius: radius - 0.5 * roller.diameter,
        },
        pushes: slot.rider,
        follower: Follower::Roller(roller),
        friction: slot.friction,
        width: None,
        material: None,
    }];
    tool.slots.clear();
    tool
}

/// An eccentric on a roller is a link between the centres of the two, as long as it is pushed together:
/// where the link is pulled, the cam lifts off.
#[test]
fn an_eccentric_on_a_roller_is_a_link_that_only_pushes() {
    let (mut pushed, mut lifted) = (0, 0);
    for seed in 0..600 {
        let numbers = digits(seed);
        let Some(mut linked) = random::six_bar(&mut Dice::new(&numbers)).map(closing) else {
            continue;
        };
        linked.hand.force = 100.0;
        let roller = Roller {
            diameter: 9.0,
            pin: 4.0,
            width: None,
        };
        let cam = cam_for_arc(&random::arc_for_link(&linked), roller);
        let (Some(one), Some(other)) = (stroke(&linked), stroke(&cam)) else {
            continue;
        };
        let last = |s: &Solved| s.positions.last().map_or(0.0, |p| p.travel);
        if last(&one) > 1.01 * random::TRAVEL || last(&other) > 1.01 * random::TRAVEL {
            continue;
        }
        let link = one
            .links
            .parts()
            .position(|p| linked.parts[p].name == "link");
        let link = link.expect("the link");
        for (a, b) in one.positions.iter().zip(&other.positions) {
            let (a, b) = (&a.grips[0], &b.grips[0]);
            near(
                "ratio",
                b.ratio[0].expect("a ratio"),
                a.ratio[0].expect("a ratio"),
                1.0,
            );
            let axial = a.axial[link].expect("an axial force");
            if axial.abs() < 1e-3 {
                continue;
            }
            match (a.answer[0], b.answer[0]) {
                (Some(Answer::Moves { force, .. }), Some(Answer::Moves { force: own, .. })) => {
                    assert!(axial < 0.0, "pulled with {axial} and not lifted");
                    near("jaw force", own, force, 100.0);
                    pushed += 1;
                }
                (Some(Answer::Moves { .. }), Some(Answer::LiftsOff)) => {
                    assert!(axial > 0.0, "lifted with {axial}");
                    lifted += 1;
                }
                (a, b) => assert_eq!(
                    a.map(|a| std::mem::discriminant(&a)),
                    b.map(|b| std::mem::discriminant(&b))
                ),
            }
        }
    }
    assert!(
        pushed > 100 && lifted > 100,
        "{pushed} pushed, {lifted} lifted"
    );
}

/// With friction, the roller of a cam rubs as one in an arc slot that is pressed on its inner wall.
#[test]
fn a_roller_rubs_on_a_cam_as_on_the_inner_wall_of_an_arc() {
    let roller = Roller {
        diameter: 9.0,
        pin: 4.0,
        width: None,
    };
    let mut compared = 0;
    for seed in 0..600 {
        let numbers = digits(seed);
        let Some(linked) = random::six_bar(&mut Dice::new(&numbers)).map(closing) else {
            continue;
        };
        let mut arced = random::arc_for_link(&linked);
        arced.slots[0].friction = 0.2;
        arced.slots[0].roller = Some(roller);
        let (Some(one), Some(other)) = (stroke(&arced), stroke(&cam_for_arc(&arced, roller)))
        else {
            continue;
        };
        for (a, b) in one.positions.iter().zip(&other.positions) {
            if let (
                Some(Answer::Moves { force, without }),
                Some(Answer::Moves { force: own, .. }),
            ) = (a.grips[0].answer[0], b.grips[0].answer[0])
            {
                near("jaw force", own, force, 1.0);
                assert!(force < without);
                compared += 1;
            }
        }
    }
    assert!(compared > 100, "{compared} compared");
}

const DISC: f64 = 20.0;
const ARM: f64 = 150.0;
const FRICTION: f64 = 0.1;
const PIN: f64 = 8.0;

/// An eccentric disc on a lever about A, its centre `throw` out at the lever's angle, under a plunger that
/// runs straight up with a flat or a roller at its foot; the hand pushes square at `ARM`.
pub fn press(
    throw: f64,
    follower: Option<Roller>,
    friction: f64,
    pin: Option<f64>,
    at: f64,
) -> Tool {
    let reach = DISC + follower.map_or(0.0, |roller| 0.5 * roller.diameter);
    let foot = match follower {
        None => throw * at.sin() + DISC,
        Some(_) => throw * at.sin() + (reach * reach - (throw * at.cos()).powi(2)).sqrt(),
    };
    let parts = vec![
        build::part(
            "frame",
            &[("A", [0.0; 2])],
            &[("anvil", [0.0, 200.0])],
            [0.0; 3],
        ),
        build::part(
            "lever",
            &[("A", [0.0; 2])],
            &[("grip", [ARM, 0.0])],
            [0.0, 0.0, at],
        ),
        build::part("plunger", &[], &[("foot", [0.0; 2])], [0.0, foot, 0.0]),
    ];
    let mut tool = build::tool(
        parts,
        ("lever", vec![[0.0; 2], [ARM, 0.0]]),
        vec![ARM],
        ("plunger.foot", "frame.anvil", Some(-FRAC_PI_2)),
    );
    let foot = PointRef {
        part: PartId::new(2),
        point: 0,
    };
    tool.slots = vec![build::slot(
        foot,
        tool.fixed,
        [0.0; 2],
        FRAC_PI_2,
        Some(0.0),
    )];
    tool.cams = vec![Cam {
        name: Some("press".to_owned()),
        part: PartId::new(1),
        face: CamFace::Disc {
            centre: Place::At([throw, 0.0]),
            radius: DISC,
        },
        pushes: foot,
        // The flat is level, and the disc below it: to the right of its direction.
        follower: follower.map_or(
            Follower::Flat {
                angle: 0.0,
                side: -1.0,
            },
            Follower::Roller,
        ),
        friction,
        width: None,
        material: None,
    }];
    tool.joint_data[0] = JointData {
        diameter: pin,
        friction: FRICTION,
        ..JointData::default()
    };
    tool.hand.force = 100.0;
    tool.stroke.open = Target::Handle(at);
    tool.stroke.shut = Target::Handle(at + 0.5);
    no_dies(&mut tool);
    tool
}

/// By hand, the work F down on a flat over the disc, at the angle θ of its centre: it pushes at e cos θ from
/// the pivot; the rim slides to the left under the flat with ω (e sin θ + R), and rubs with μ F at that
/// height. H L = F (e cos θ + μ (e sin θ + R)); with a pin of radius r, its load at r sin φ more, which is what
/// is left of hand, work and rubbing: here found by going round until F stays.
#[test]
fn an_eccentric_under_a_flat_by_hand() {
    let throw = 12.0;
    for (friction, pin) in [(0.0, None), (FRICTION, None), (FRICTION, Some(PIN))] {
        let tool = press(throw, None, friction, pin, -0.3);
        for position in &stroke(&tool).expect("a stroke").positions {
            let (sin, cos) = position.handle.sin_cos();
            let lift = throw * sin + DISC;
            let at = position.points[2][0];
            near("lift", at[1], lift, 1.0);
            let rubs = pin.map_or(0.0, |d| 0.5 * d * FRICTION.atan().sin());
            let arm = throw * cos + friction * lift;
            let mut by_hand = 100.0 * ARM / arm;
            for _ in 0..60 {
                let pin = [friction * by_hand - 100.0 * sin, 100.0 * cos - by_hand];
                by_hand = (100.0 * ARM - rubs * pin[0].hypot(pin[1])) / arm;
            }
            let Some(Answer::Moves { force, without }) = position.grips[0].answer[0] else {
                panic!("a force");
            };
            near("force", force, by_hand, 1.0);
            near(
                "without friction",
                without,
                100.0 * ARM / (throw * cos),
                1.0,
            );
        }
    }
}

/// The pressure angle of an eccentric under a roller that runs straight at its pivot is that of the rod of
/// its crank: sin α = e cos θ / (R + r), and by virtual work H L = F (e cos θ − e sin θ tan α) … as a
/// slider-crank, from the top: the plunger's height y = e sin θ + √((R + r)² − (e cos θ)²), dy/dθ.
#[test]
fn an_eccentric_under_a_roller_by_hand() {
    let throw = 12.0;
    let roller = Roller {
        diameter: 10.0,
        pin: 4.0,
        width: None,
    };
    let tool = press(throw, Some(roller), 0.0, None, -0.3);
    for position in &stroke(&tool).expect("a stroke").positions {
        let (sin, cos) = position.handle.sin_cos();
        let root = ((DISC + 5.0).powi(2) - (throw * cos).powi(2)).sqrt();
        near("lift", position.points[2][0][1], throw * sin + root, 1.0);
        let rate = throw * cos + throw * throw * cos * sin / root;
        let ratio = position.grips[0].ratio[0].expect("a ratio");
        near("ratio", ratio, ARM / rate, 1.0);
    }
}

/// A hand that pulls the lever the other way would have to draw the plunger down: it lifts off.
#[test]
fn a_cam_does_not_pull() {
    let mut tool = press(12.0, None, FRICTION, None, -0.3);
    // The work pulls the plunger up, so that the disc would have to hold it down.
    tool.jaws[0].axis = Some(FRAC_PI_2);
    std::mem::swap(&mut tool.stroke.open, &mut tool.stroke.shut);
    let solved = stroke(&tool).expect("a stroke");
    for position in &solved.positions {
        let grip = &position.grips[0];
        assert_eq!(grip.answer[0], Some(Answer::LiftsOff));
        assert!(grip.ratio[0].is_some());
        assert!(grip.pins.iter().all(Option::is_none));
    }
}

/// Whether the plunger's work, pushing back, leaves the disc where it is all over half a turn about the
/// middle, the hand off.
fn holds(throw: f64) -> bool {
    let mut tool = press(throw, None, FRICTION, Some(PIN), -0.5);
    tool.stroke.shut = Target::Handle(0.5);
    tool.stroke.steps = 2000;
    let solved = solve(&tool, Direction::Opening).unwrap_or_else(|f| panic!("{}", f.text(&tool)));
    (solved.positions.iter()).all(|p| p.grips[0].answer[0] == Some(Answer::Locked))
}

/// Under a flat a disc that the work turns back has F (e cos θ − μ (R + e sin θ) − r sin φ √(1 + μ²)) to do
/// it with, as much as that is more than what holds the hand: it holds everywhere where e √(1 + μ²) ≤ μ R + r sin φ √(1 + μ²). R = 20, μ = 0.1, pin 8: 2.388.
#[test]
fn an_eccentric_holds_itself_up_to_a_throw() {
    let root = (1.0 + FRICTION * FRICTION).sqrt();
    let most = FRICTION * DISC / root + 0.5 * PIN * FRICTION.atan().sin();
    assert!((most - 2.388).abs() < 5e-4, "{most}");
    assert!(holds(most - 5e-4));
    assert!(!holds(most + 5e-4));
}

/// An eccentric under a flat.
pub const PRESS: &str = r#"
[tool]
name = "Cam press"
units = "mm-N"
[parts.frame]
fixed = true
pins = { heel = [0, 0] }
marks = { anvil = [0, 60] }
[parts.lever]
pins = { heel = [0, 0] }
marks = { end = [150, 0] }
[parts.plunger]
marks = { foot = [0, 20], head = [0, 40] }
[[slots]]
part = "plunger"
point = "foot"
on = "frame"
through = [0, 20]
angle = 90
keyed = true
[[cams]]
name = "press"
part = "lever"
face = { centre = [12, 0], radius = 20 }
pushes = "plunger.foot"
flat = 0
friction = 0.1
[hand]
part = "lever"
line = [[0, 0], [150, 0]]
grips = [140]
force = 100
[[jaw]]
on = "plunger.head"
against = "frame.anvil"
axis = -90
[stroke]
open = { handle = -20 }
shut = { handle = 30 }
"#;

/// Both directions of the flat are the same flat, with the cam on the side where it is drawn.
#[test]
fn a_flat_has_its_side_from_the_sketch() {
    let none = |path: &str| Err(format!("no file {path}"));
    let read = |text: &str| read_tool(text, &none).expect("a good file").tool;
    let tools = ["flat = 0", "flat = 180"].map(|flat| read(&PRESS.replace("flat = 0", flat)));
    let sides: Vec<f64> = tools
        .iter()
        .map(|tool| match tool.cams[0].follower {
            Follower::Flat { side, .. } => side,
            Follower::Roller(_) => panic!("a flat"),
        })
        .collect();
    assert_eq!(sides, [-1.0, 1.0]);
    let forces =
        tools.map(
            |tool| match stroke(&tool).expect("a stroke").positions[0].grips[0].answer[0] {
                Some(Answer::Moves { force, .. }) => force,
                other => panic!("{other:?}"),
            },
        );
    near("force", forces[1], forces[0], 1.0);
    let theta = -20.0 / 180.0 * PI;
    let arm = 12.0 * theta.cos() + 0.1 * (12.0 * theta.sin() + 20.0);
    near("force", forces[0], 100.0 * 140.0 / arm, 1.0);
    let cam = JointId::new(2);
    let tool = read(PRESS);
    assert_eq!(
        tool.joint(cam).map(|joint| joint.name(&tool)).as_deref(),
        Some("cam press")
    );
}

/// Contact force and pressure angle of an eccentric under a roller, by the triangle of throw, R + r and the
/// plunger's line: sin α = e cos θ / (R + r), N = F / cos α.
#[test]
fn contact_and_pressure_angle_are_measures() {
    let throw = 12.0;
    let roller = Roller {
        diameter: 10.0,
        pin: 4.0,
        width: None,
    };
    let mut tool = press(throw, Some(roller), 0.0, None, -0.3);
    tool.slots[0].name = Some("guide".to_owned());
    // Nearer to the pin the same force of the hand does less.
    tool.hand.grips.push(0.6 * tool.hand.grips[0]);
    let mounted = Mounted::new(&tool).expect("a tool that mounts");
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).expect("a stroke");
    for (k, grip) in (0..=10).flat_map(|k| GripId::ids(2).map(move |grip| (k, grip))) {
        rig.go_to_step(k, 10).expect("a position");
        let mut read = |name: &str| {
            let (measure, _) = named(&tool, name).expect("a measure");
            read_at(&mut rig.here(), &measure, grip).expect("a value")
        };
        let sine = throw * read("handle").cos() / (DISC + 5.0);
        let angle = read("pressure_angle.press");
        near("pressure angle", angle, sine.abs().asin(), 1.0);
        let force = read("jaw_force") / angle.cos();
        near("contact", read("contact.press"), force, 1.0);
        near("by its number", read("contact.cams.1"), force, 1.0);
        // The plunger's guide takes what the cam pushes across.
        near("guide", read("contact.slots.1"), force * angle.sin(), 1.0);
        near(
            "by its name",
            read("contact.guide"),
            force * angle.sin(),
            1.0,
        );
    }
    assert!(named(&tool, "pressure_angle.slots.1").is_err());
    assert!(named(&tool, "contact").is_err());
}
