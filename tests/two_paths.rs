//! The way by blocks and in closed form against that by one whole matrix, on the same tools.

use crate::models::build::no_dies;
use crate::models::chain::{LINK, STROKE, chain};
use crate::models::random::{self, Dice};
use crate::models::{DEMOS, closing, demo};
use crate::properties::digits;
use jawforce::geometry::Vec2;
use jawforce::mechanism::Linkage;
use jawforce::model::{Direction, GripId, JawId, JointId, Tool};
use jawforce::statics::{Answer, Mounted, Rig};
use std::sync::Arc;

/// How closely the two must agree, over the greatest number of their kind.
const CLOSE: f64 = 1e-10;

/// The tool as it was mounted, by one whole matrix from now on.
fn whole(mounted: &Mounted) -> Mounted {
    let linkage = Linkage {
        sparse: None,
        closed: None,
        ..(*mounted.linkage).clone()
    };
    Mounted {
        linkage: Arc::new(linkage),
        ..mounted.clone()
    }
}

fn near(name: &str, what: &str, one: f64, other: f64, scale: f64) {
    let off = (one - other).abs();
    assert!(
        off <= CLOSE * scale.max(one.abs()) || (one.is_nan() && other.is_nan()),
        "{name}: {what} {one} by blocks, {other} by the whole matrix"
    );
}

/// Compares at `steps` positions; gives how many of them were solved in closed form at least once.
pub fn compare(name: &str, tool: &Tool, steps: usize) -> bool {
    let Ok(mounted) = Mounted::new(tool) else {
        return false;
    };
    let other = whole(&mounted);
    for direction in [Direction::Closing, Direction::Opening] {
        let mut rigs = [&mounted, &other].map(|m| Rig::new(tool, m, direction).expect(name));
        for k in 0..=steps {
            for rig in &mut rigs {
                rig.go_to_step(k, steps).expect(name);
                rig.solve();
            }
            let [one, two] = &rigs;
            let size = one.solver().linkage.size;
            for (a, b) in one
                .points()
                .iter()
                .flatten()
                .zip(two.points().iter().flatten())
            {
                near(name, "x", a[0], b[0], size);
                near(name, "y", a[1], b[1], size);
            }
            for (a, b) in one.solver().pose.q.iter().zip(&two.solver().pose.q) {
                near(name, "coordinate", *a, *b, 1.0);
            }
            for grip in GripId::ids(tool.hand.grips.len()) {
                for jaw in JawId::ids(tool.jaws.len()) {
                    let [a, b] = [one, two].map(|rig| rig.forces().ratio(grip, jaw));
                    let scale = a.unwrap_or(0.0).abs().max(1.0);
                    // Near a toggle the ratio grows by as much as the position is off.
                    near(
                        name,
                        "ratio",
                        a.unwrap_or(f64::NAN),
                        b.unwrap_or(f64::NAN),
                        scale * scale,
                    );
                    match [one, two].map(|rig| rig.forces().answer(grip, jaw)) {
                        [
                            Some(Answer::Moves { force, .. }),
                            Some(Answer::Moves { force: b, .. }),
                        ] => {
                            near(name, "force", force, b, scale * scale * tool.hand.force);
                        }
                        [a, b] => assert_eq!(
                            a.map(|a| std::mem::discriminant(&a)),
                            b.map(|b| std::mem::discriminant(&b)),
                            "{name}"
                        ),
                    }
                }
                let strongest = (one.forces().pins_at(grip).iter().flatten())
                    .fold(tool.hand.force, |most: f64, f| most.max(f.abs()));
                for joint in JointId::ids(tool.joints.len()) {
                    let [a, b] = [one, two].map(|rig| rig.forces().pin(joint, grip));
                    assert_eq!(a.is_some(), b.is_some(), "{name}");
                    for (a, b) in (a.map(Vec2::xy).into_iter().flatten())
                        .zip(b.map(Vec2::xy).into_iter().flatten())
                    {
                        near(name, "pin", a, b, strongest * strongest / tool.hand.force);
                    }
                }
            }
        }
    }
    mounted.linkage.closed.is_some()
}

#[test]
fn the_demo_tools_and_those_of_the_tests() {
    let closed: Vec<&str> = (DEMOS.iter().map(|d| d.0))
        .filter(|name| compare(name, &demo(name), 90))
        .collect();
    assert!(closed.len() >= 3, "in closed form: {closed:?}");
    for (name, text) in [
        ("everything", include_str!("files/everything.toml")),
        ("ring-spreader", include_str!("files/ring-spreader.toml")),
        ("stepped-press", include_str!("files/stepped-press.toml")),
    ] {
        let read = jawforce::input::read_tool(text, &crate::models::beside).expect(name);
        compare(name, &read.tool, 90);
    }
}

#[test]
fn random_linkages() {
    type Kind = fn(&mut Dice<'_>) -> Option<Tool>;
    let kinds: [(&str, Kind); 5] = [
        ("six-bar", random::six_bar),
        ("pin in slot", random::pin_in_slot),
        ("trammel", random::trammel),
        ("compound", random::compound),
        ("arc slot", random::arc_slot),
    ];
    let (mut tried, mut closed) = (0, 0);
    for seed in 0..2400 {
        let numbers = digits(seed);
        let mut dice = Dice::new(&numbers);
        let (name, kind) = kinds[seed as usize % kinds.len()];
        let Some(mut tool) = kind(&mut dice).map(closing) else {
            continue;
        };
        no_dies(&mut tool);
        if seed % 3 == 0 && !tool.joints.is_empty() {
            random::load(&mut tool, &mut Dice::new(&digits(seed + 7000)));
        }
        if Mounted::new(&tool).is_err() {
            continue;
        }
        tried += 1;
        closed += usize::from(compare(&format!("{name} {seed}"), &tool, 12));
    }
    assert!(
        tried >= 300 && closed >= 100,
        "{tried} tools, {closed} in closed form"
    );
}

#[test]
fn chains_of_four_bars() {
    for count in [1, 2, 5, 12] {
        assert!(compare(&format!("chain of {count}"), &chain(count), 30));
    }
}

/// Wheels that drive each other, straight and by way of links, their teeth and pins rubbing.
#[test]
fn tooth_sectors() {
    let joints = "[joints]\ndiameter = 6\nfriction = 0.12";
    let stroke = "[stroke]\nopen = { handle = 150 }\nshut = { handle = 200 }\nsteps = 4";
    let train = crate::gears::train(12, 60, "friction = 0.1");
    for (name, drawing) in [
        ("train", train.add(joints).add(stroke)),
        ("five-bar", crate::gears::five_bar().add(joints)),
    ] {
        assert!(
            compare(name, &drawing.tool(), 30),
            "{name}: not in closed form"
        );
    }
    compare(
        "press",
        &crate::gears::press("friction = 0.1").add(joints).tool(),
        30,
    );
}

/// Every link of a chain by the law of cosines, see [`crate::models::four_bar`].
#[test]
fn a_chain_by_the_closed_form() {
    let tool = chain(6);
    let mounted = Mounted::new(&tool).unwrap();
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).unwrap();
    let drawn = 0.5 * (STROKE[0] + STROKE[1]);
    let turn = drawn - LINK.solve(drawn, 1.0).rocker;
    for k in 0..=20 {
        rig.go_to_step(k, 20).unwrap();
        let mut crank = STROKE[0] + (STROKE[1] - STROKE[0]) * f64::from(k as u32) / 20.0;
        for link in 0..6 {
            let rocker = LINK.solve(crank, 1.0).rocker;
            let part = tool.part_index(&format!("rocker{link}")).unwrap();
            let angle = rig.solver().pose.angle(&mounted.linkage, part);
            let off = (angle - rocker).sin();
            assert!(off.abs() < 1e-11, "link {link} at step {k}: {off:e}");
            crank = rocker + turn;
        }
    }
}
