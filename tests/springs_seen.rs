//! What `check` says of springs, by hand.

use crate::cli::Bench;
use crate::level::level;
use crate::models::demo;
use jawforce::analysis::{Direction, loads_at};
use jawforce::geometry::Vec2;
use jawforce::model::{At, GripId};
use jawforce::statics::{ForceKind, Mounted, Rig};
use serde_json::Value;

/// A lever on one pin between a compression spring (2 N/mm, free 30 mm, from 20 mm below the level
/// lever at 40 mm from the heel) and a hand at 100 mm. Level, at gap 0, the spring is 20 mm long and
/// pushes with 20 N; it holds the hand with 20 * 40 / 100 = 8 N.
fn lever(joints: &str) -> String {
    let spring = "[[springs]]\nfrom = \"base.seat\"\nto = \"lever.nose\"\nrate = 2\nfree = 30\n";
    let more = format!("{spring}{joints}");
    level(40.0, ", seat = [40, -20]", "[100]", "", &more)
}

#[test]
fn a_spring_that_opens_the_tool() {
    let bench = Bench::with(&lever(""));
    let said = bench.run(&["check", "tool.toml", "--json"]).json();
    let spring = &said["springs"][0];
    let near = |value: &Value, hand: f64| {
        let value = value.as_f64().unwrap();
        assert!((value - hand).abs() < 1e-6, "{value} {hand}");
    };
    near(&spring["at"][1], 20.0);
    near(&spring["pull"][1], -20.0);
    // Open, the nose is 5 mm up on its circle of 40 mm.
    let x = (1600.0_f64 - 25.0).sqrt();
    let open = (40.0 - x).hypot(25.0);
    near(&spring["at"][0], open);
    near(&spring["pull"][0], -2.0 * (30.0 - open));
    near(&said["opens"][0]["hand_force"], 8.0);
    let text = bench.run(&["check", "tool.toml"]).out;
    assert!(
        text.contains("pushes") && text.contains("20.0  N"),
        "{text}"
    );
    assert!(
        text.contains("Opens by itself from shut: yes, with 8.00 N at grip 100 mm."),
        "{text}"
    );
}

/// A little friction takes some of the 8 N; very much holds the tool shut.
#[test]
fn friction_against_the_spring() {
    let held = |friction: &str| {
        let joints = format!("[joints]\ndiameter = 10\nfriction = {friction}\n");
        let bench = Bench::with(&lever(&joints));
        let said = bench.run(&["check", "tool.toml", "--json"]).json();
        said["opens"][0]["hand_force"].as_f64().unwrap()
    };
    // By hand: the spring pushes 20 N up at 40 mm, the hand holds with F on the other side of the heel, so
    // the pin bears 20 + F. That force passes the pin's centre at the radius of the friction circle,
    // 5 mm * sin(atan 0.1): 20 * 40 - 100 F = radius (20 + F).
    let radius = 5.0 * 0.1_f64.atan().sin();
    let hand = (800.0 - 20.0 * radius) / (100.0 + radius);
    let found = held("0.1");
    assert!((found - hand).abs() < 1e-6, "{found} {hand}");
    // With a friction circle of more than 40 mm, 50 mm * sin(atan 1.5) = 41.6 mm, it stays shut.
    let joints = "[joints]\ndiameter = 100\nfriction = 1.5\n";
    let said = Bench::with(&lever(joints)).run(&["check", "tool.toml"]).out;
    assert!(said.contains("Opens by itself from shut: no."), "{said}");
}

/// The couple of a spring about a pin acts on both parts at that pin, wherever the part's other pins are: a cut through
/// the plate between two pins feels it from one side only.
#[test]
fn a_spring_about_a_pin_acts_there() {
    let tool = demo("seal-pliers");
    let mounted = Mounted::new(&tool).unwrap();
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
    let case = loads_at(&mut rig, At::Shut, GripId::FIRST, 100.0).unwrap();
    let mut seen = 0;
    for part in ["plates", "upper", "lower"] {
        let id = tool.part_index(part).unwrap();
        let forces = case.sheet.on(id).iter();
        for force in forces.filter(|force| force.what == ForceKind::Spring(0)) {
            // `plates` and `upper` both have the pin at (0, 13.5) of their own axes.
            assert!(
                (force.local - Vec2::new(0.0, 13.5)).length() < 1e-12,
                "{part}: {force:?}"
            );
            assert!(force.moment != 0.0 && part != "lower");
            seen += 1;
        }
    }
    assert_eq!(seen, 2);
}
