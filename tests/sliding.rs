//! Parts that slide without turning by themselves, pushed by eccentrics and racks: found in closed form, as the whole
//! matrix finds them, and as the drawing says.

use crate::models::random::Dice;
use crate::properties::digits;
use crate::two_paths::compare;
use jawforce::input::read_tool;
use jawforce::model::{Direction, Tool};
use jawforce::statics::{Mounted, Rig};

const COMMON: &str = r#"
tool = { name = "One slide", units = "mm-N" }
hand = { part = "lever", line = [[0, 0], [-120, 0]], grips = [100], force = 100, palm = false }
joints = { diameter = 6, friction = 0.1 }
jaw = [{ on = "plunger.foot", against = "frame.anvil", axis = 90 }]
"#;

fn read(text: &str) -> Tool {
    let text = format!("{COMMON}{text}");
    let read = read_tool(&text, &|name| Err(format!("{name} is not there")));
    read.unwrap_or_else(|problems| panic!("{text}\n{problems}"))
        .tool
}

/// An eccentric on the lever over a plunger, whose way is off by some degrees.
fn eccentric(dice: &mut Dice<'_>, follower: &str) -> Tool {
    let tilt = dice.within(-12.0, 12.0);
    let (x, y) = (dice.within(5.0, 9.0), dice.within(-8.0, -2.0));
    let radius = dice.within(20.0, 26.0);
    read(&format!(
        r#"
sketch = {{ roll = [0, -30], foot = [0, -50] }}
stroke = {{ open = {{ handle = 180 }}, shut = {{ handle = 165 }} }}
slots = [{{ part = "plunger", point = "roll", on = "frame", through = [0, 0], angle = {}, keyed = true, friction = 0.1 }}]
[parts]
frame = {{ fixed = true, pins = {{ heel = [0, 0] }}, marks = {{ anvil = [0, -60] }} }}
lever = {{ pins = {{ heel = [0, 0] }} }}
plunger = {{ marks = {{ roll = [0, 0], foot = [0, -20] }} }}
[[cams]]
part = "lever"
face = {{ centre = [{x}, {y}], radius = {radius} }}
pushes = "plunger.roll"
{follower}
"#,
        90.0 + tilt
    ))
}

/// A rack that the lever's teeth drive, and, with `wheel`, a wheel that the rack drives, with a link's end on it.
fn rack(dice: &mut Dice<'_>, wheel: bool) -> Tool {
    let radius = dice.within(14.0, 22.0);
    let (parts, gears) = match wheel {
        false => (String::new(), String::new()),
        true => (
            format!(
                "wheel = {{ pins = {{ hub = [{0}, 0] }}, marks = {{ tooth = [{radius}, 0] }} }}\n",
                2.0 * radius
            ),
            "[[gears]]\nparts = [\"wheel\", \"plunger\"]\nabout = [\"hub\", \"rack\"]\nmeet = [\"wheel.tooth\", \"plunger.rack\"]\nteeth = [18, 0]\nangle = 20\n".to_owned(),
        ),
    };
    let hub = match wheel {
        true => format!(", hub = [{}, 0]", 2.0 * radius),
        false => String::new(),
    };
    read(&format!(
        r#"
sketch = {{ rack = [{radius}, 0], foot = [{radius}, -40] }}
stroke = {{ open = {{ handle = 180 }}, shut = {{ handle = 150 }} }}
slots = [{{ part = "plunger", point = "rack", on = "frame", through = [{radius}, 0], angle = 90, keyed = true, friction = 0.1 }}]
[parts]
frame = {{ fixed = true, pins = {{ heel = [0, 0]{hub} }}, marks = {{ anvil = [{radius}, -80] }} }}
lever = {{ pins = {{ heel = [0, 0] }}, marks = {{ witness = [{radius}, 0] }} }}
plunger = {{ marks = {{ rack = [0, 0], foot = [0, -40] }} }}
{parts}[[gears]]
parts = ["lever", "plunger"]
about = ["heel", "rack"]
meet = ["lever.witness", "plunger.rack"]
teeth = [18, 0]
angle = 20
{gears}"#
    ))
}

#[test]
fn sliding_parts_are_found_in_closed_form_as_by_the_whole_matrix() {
    for seed in 0..40 {
        let numbers = digits(900 + seed);
        let dice = &mut Dice::new(&numbers);
        let tools = [
            (
                "roller",
                eccentric(dice, "roller = { diameter = 10, pin = 4 }"),
            ),
            ("flat", eccentric(dice, "flat = 0")),
            ("rack", rack(dice, false)),
            ("rack and wheel", rack(dice, true)),
        ];
        for (name, tool) in &tools {
            let name = format!("{name} {seed}");
            assert!(compare(&name, tool, 24), "{name}: not in closed form");
        }
    }
}

/// By hand: the centre of the roller stands R + r from that of the disc, below it on the line x = 0.
#[test]
fn a_roller_under_an_eccentric_stands_where_two_lengths_say() {
    let tool = read(
        r#"
sketch = { roll = [0, -32], foot = [0, -52] }
stroke = { open = { handle = 180 }, shut = { handle = 155 } }
slots = [{ part = "plunger", point = "roll", on = "frame", through = [0, 0], angle = 90, keyed = true }]
[parts]
frame = { fixed = true, pins = { heel = [0, 0] }, marks = { anvil = [0, -60] } }
lever = { pins = { heel = [0, 0] } }
plunger = { marks = { roll = [0, 0], foot = [0, -20] } }
[[cams]]
part = "lever"
face = { centre = [8, -5], radius = 24 }
pushes = "plunger.roll"
roller = { diameter = 10, pin = 4 }
"#,
    );
    let mounted = Mounted::new(&tool).expect("a stroke");
    assert!(mounted.linkage.closed.is_some());
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing).expect("its open end");
    for k in 0..=50 {
        rig.go_to_step(k, 50).expect("on the stroke");
        let plunger = rig.frame(tool.part_index("plunger").expect("named"));
        let lever = rig.frame(tool.part_index("lever").expect("named"));
        let centre = lever.place([8.0, -5.0].into());
        let below = (29.0f64.powi(2) - centre[0].powi(2)).sqrt();
        let off = plunger.place([0.0, 0.0].into());
        assert!(off[0].abs() < 1e-11, "{off:?}");
        assert!((off[1] - (centre[1] - below)).abs() < 1e-11, "{off:?}");
    }
}
