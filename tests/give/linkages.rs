//! Whole linkages against the direct stiffness method.

use super::stiffness::Frame;
use super::{E, add_sections, near, tool};
use crate::models::build;
use jawforce::give::{give, pin_shear};
use jawforce::model::{Direction, GripId, JawId, Push, Target, Tool};
use jawforce::statics::{Holding, Mounted, Rig};

/// Where a point of a part stands.
fn place(rig: &Rig<'_>, part: &str, point: &str) -> [f64; 2] {
    let tool = rig.tool();
    let p = tool.part_index(part).unwrap();
    let k = tool.parts[p].point_index(point).unwrap();
    let solver = rig.solver();
    solver
        .pose
        .place(solver.linkage.spot(p, tool.parts[p].points[k].at.into()))
        .xy()
}

/// A chain of five bars that drive each other: crank AB with the hand at B, coupler BC, rocker DC,
/// link CE, rocker FE with the jaw at E. Three parts meet at C.
fn chain() -> Tool {
    let at = |name: &str| match name {
        "A" => [0.0, 0.0],
        "B" => [8.0, 41.0],
        "C" => [66.0, 58.0],
        "D" => [80.0, 3.0],
        "E" => [131.0, 40.0],
        "F" => [120.0, -12.0],
        _ => panic!("no such pin"),
    };
    let bar = |name: &str, pins: [&str; 2], marks: &[(&str, [f64; 2])]| {
        build::part(
            name,
            &[(pins[0], at(pins[0])), (pins[1], at(pins[1]))],
            marks,
            [0.0; 3],
        )
    };
    let frame = build::part(
        "frame",
        &[("A", at("A")), ("D", at("D")), ("F", at("F"))],
        &[("anvil", [180.0, 40.0])],
        [0.0; 3],
    );
    let parts = vec![
        frame,
        bar("crank", ["A", "B"], &[]),
        bar("coupler", ["B", "C"], &[]),
        bar("rocker", ["D", "C"], &[]),
        bar("link", ["C", "E"], &[]),
        bar("last", ["F", "E"], &[("nose", at("E"))]),
    ];
    let length = 8.0_f64.hypot(41.0);
    let mut tool = build::tool(
        parts,
        ("crank", vec![at("A"), at("B")]),
        vec![length],
        ("last.nose", "frame.anvil", Some(160.0_f64.to_radians())),
    );
    tool.hand.push = Push::Fixed(20.0_f64.to_radians());
    tool.stroke.open = Target::Handle(85.0_f64.to_radians());
    tool.stroke.shut = Target::Handle(65.0_f64.to_radians());
    add_sections(
        &mut tool,
        &[
            [9.0, 3.0],
            [10.0, 4.0],
            [8.0, 5.0],
            [12.0, 2.5],
            [11.0, 3.5],
        ],
    );
    tool
}

#[test]
fn a_chain_of_bars() {
    let tool = chain();
    let mounted = Mounted::new(&tool).unwrap();
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
    for k in [0, 7, 16, 24] {
        rig.go_to_step(k, 24).unwrap();
        let found = give(&mut rig, GripId::FIRST).unwrap();
        let mut frame = Frame::default();
        let (a, d, f) = (frame.ground(), frame.ground(), frame.ground());
        let (b, c, e) = (frame.node(), frame.node(), frame.node());
        let node = |name: &str| match name {
            "A" => a,
            "B" => b,
            "C" => c,
            "D" => d,
            "E" => e,
            _ => f,
        };
        for (part, section) in tool.parts.iter().skip(1).zip(&tool.sections) {
            let ends = [0, 1].map(|k| {
                let pin = &part.points[k].name;
                (place(&rig, &part.name, pin), node(pin))
            });
            frame.bar(ends, E * section.width.at(0.0) * section.thickness);
        }
        let (sin, cos) = 20.0_f64.to_radians().sin_cos();
        frame.hold(vec![(b[0], cos), (b[1], sin)]);
        let (sin, cos) = 160.0_f64.to_radians().sin_cos();
        let expected = frame.give(&[(e[0], cos), (e[1], sin)]);
        near(found.per_force, expected, 1e-9);
        assert_eq!(found.shares.len(), 5);
        assert_eq!(found.hand_side, 0.0, "the hand is at the pin");
        near(
            found.shares.iter().map(|s| s.per_force).sum(),
            expected,
            1e-9,
        );
    }
}

/// Invented for these tests: a lever presses a ram through a strut.
const PRESS: &str = r#"
[tool]
name = "Give trial"
units = "mm-N"
[parts.frame]
fixed = true
pins = { heel = [0, 0], post = [60, -40] }
marks = { anvil = [100, -60] }
[parts.lever]
pins = { heel = [0, 0], knee = [20, 0] }
[parts.strut]
pins = ["knee", "wrist"]
length = 27
[parts.ram]
pins = { post = [0, 0], wrist = [0, 30] }
marks = { nose = [40, 0] }
[sketch]
knee = [20, 0]
wrist = [45, -10]
post = [60, -40]
[hand]
part = "lever"
line = [[0, 0], [-180, 0]]
grips = [90, 180]
[[jaw]]
name = "nose"
on = "ram.nose"
against = "frame.anvil"
axis = 270
[stroke]
open = { handle = 178 }
shut = { handle = 160 }
[materials.plate]
yield = 355
modulus = "205 GPa"
[materials.pin]
yield = 600
modulus = "210 GPa"
[joints]
diameter = 5
material = "pin"
[joints.wrist]
diameter = 4
shear = "single"
[sections.strut]
width = 12
thickness = 3
plates = 2
material = "plate"
[sections.lever]
width = 24
thickness = 6
material = "plate"
[sections.ram]
width = 15
thickness = 4
material = "plate"
"#;

/// Beams, a bar and pins that shear: the lever through grip, heel and knee, the ram as a bell crank
/// through wrist, post and nose.
#[test]
fn a_press_of_beams() {
    let tool = tool(PRESS);
    let mounted = Mounted::new(&tool).unwrap();
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
    for (k, grip) in [(0, 0), (20, 1), (60, 0)] {
        rig.go_to_step(k, 60).unwrap();
        rig.solve();
        let grip = GripId::new(grip);
        let (_, held) = rig.unit_sheet(Holding::Grip(grip)).unwrap();
        near(
            held * rig.forces().ratio(grip, JawId::FIRST).unwrap(),
            1.0,
            1e-9,
        );
        let found = give(&mut rig, grip).unwrap();
        let mut frame = Frame::default();
        let (heel, post) = (frame.ground(), frame.ground());
        let (hand, knee, strut_knee) = (frame.node(), frame.node(), frame.node());
        let (wrist, strut_wrist, nose) = (frame.node(), frame.node(), frame.node());
        let turns: Vec<usize> = (0..6).map(|_| frame.free()).collect();
        let at = |part: &str, point: &str| place(&rig, part, point);
        let linkage = &rig.solver().linkage;
        let at_hand = rig.solver().pose.place(linkage.hand.grips[grip].at);
        let stiff = |w: f64, t: f64| (E * w * t, E * t * w.powi(3) / 12.0);
        let (ea, ei) = stiff(24.0, 6.0);
        let at_heel = ([0.0, 0.0], heel, turns[1]);
        frame.beam([(at_hand.xy(), hand, turns[0]), at_heel], ea, ei);
        frame.beam([at_heel, (at("lever", "knee"), knee, turns[2])], ea, ei);
        let ends = [
            (at("strut", "knee"), strut_knee),
            (at("strut", "wrist"), strut_wrist),
        ];
        frame.bar(ends, E * 12.0 * 6.0);
        let (ea, ei) = stiff(15.0, 4.0);
        let at_post = ([60.0, -40.0], post, turns[4]);
        frame.beam([(at("ram", "wrist"), wrist, turns[3]), at_post], ea, ei);
        frame.beam([at_post, (at("ram", "nose"), nose, turns[5])], ea, ei);
        // The pins' own stiffness is an input here; its formula has its own test.
        frame.pin(knee, strut_knee, 1.0 / pin_shear(5.0, 12.0, 2.0, 210_000.0));
        frame.pin(
            wrist,
            strut_wrist,
            1.0 / pin_shear(4.0, 10.0, 1.0, 210_000.0),
        );
        // Square to the lever, which is what the hand holds.
        let reach = at_hand[0].hypot(at_hand[1]);
        frame.hold(vec![
            (hand[0], -at_hand[1] / reach),
            (hand[1], at_hand[0] / reach),
        ]);
        let expected = frame.give(&[(nose[1], 1.0)]);
        near(found.per_force, expected, 1e-8);
        let rigid: Vec<&str> = found.rigid.iter().map(|r| r.name.as_str()).collect();
        assert_eq!(rigid, ["frame", "heel", "post"], "the frame has no section");
        assert!(found.hand_side > 0.0 && found.linkage() > 0.0);
        // The bare part of the lever is a cantilever under the hand force.
        let cantilever = held * held * reach.powi(3) / (3.0 * stiff(24.0, 6.0).1);
        near(found.hand_side, cantilever, 1e-9);
    }
}

/// The handles of the excluder cutter are mirror images: what one gives, the other gives.
#[test]
fn mirror_images_give_the_same() {
    let tool = tool(include_str!("../../demo-data/excluder-cutter.toml"));
    let mounted = Mounted::new(&tool).unwrap();
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
    for k in [0, 10, 60] {
        rig.go_to_step(k, 60).unwrap();
        let found = give(&mut rig, GripId::new(1)).unwrap();
        let [upper, lower] = ["upper-handle", "lower-handle"].map(|p| found.share(p).unwrap());
        near(upper.per_force, lower.per_force, 1e-9);
        near(upper.hand_side, lower.hand_side, 1e-9);
        assert!(upper.hand_side > 0.0 && upper.hand_side < upper.per_force);
    }
}
