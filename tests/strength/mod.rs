//! Forces written down by hand, and the factors that follow by hand.

mod cases;
mod parts;

use jawforce::input::{read_tool, render_all};
use jawforce::model::{GripId, JawId, JointId, PartId, Tool};
use jawforce::statics::ForceKind::{Hand, Joint};
use jawforce::statics::Sheet;
use jawforce::strength::{Case, Factor, LoadCase, Strength, check};

/// Invented for these tests: a lever presses a ram through a strut.
const TOOL: &str = r#"
[tool]
name = "Strength trial"
units = "mm-N"
[parts.frame]
fixed = true
pins = { heel = [0, 0], post = [60, -40] }
marks = { anvil = [100, -40] }
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
force = 150
[[jaw]]
name = "nose"
on = "ram.nose"
against = "frame.anvil"
axis = 90
[stroke]
open = { handle = 180 }
shut = { handle = 190 }
[materials.plate]
yield = 355
ultimate = 510
modulus = "205 GPa"
[materials.pin]
yield = 600
[joints]
diameter = 5
clearance = 0.2
material = "pin"
[sections.strut]
width = 12
thickness = 3
plates = 2
edge = 6
material = "plate"
[sections.lever]
width = [[0, 24], [180, 8]]
thickness = 6
material = "plate"
[sections.ram]
width = 15
thickness = 4
material = "plate"
"#;

const FRAME: PartId = PartId::new(0);
const LEVER: PartId = PartId::new(1);
const STRUT: PartId = PartId::new(2);
const RAM: PartId = PartId::new(3);

fn tool(text: &str) -> Tool {
    let none = |path: &str| Err(format!("no file {path}"));
    match read_tool(text, &none) {
        Ok(read) => read.tool,
        Err(found) => panic!("{}", render_all(&found, "tool.toml", text, false)),
    }
}

fn joint(tool: &Tool, pin: &str) -> JointId {
    tool.joints
        .iter()
        .position(|j| j.pin == pin)
        .map(JointId::new)
        .expect("a pin of that name")
}

fn case(sheet: &Sheet) -> Case<'_> {
    Case {
        position: 0,
        jaw: JawId::FIRST,
        grip: GripId::FIRST,
        hand_force: 150.0,
        load: LoadCase::HandForce,
        sheet,
    }
}

fn one(tool: &Tool, sheet: &Sheet) -> Strength {
    check(tool, [case(sheet)])
}

#[track_caller]
fn find<'a>(strength: &'a Strength, name: &str, check: &str) -> &'a Factor {
    strength
        .factors
        .iter()
        .find(|f| f.name == name && f.formula.check.starts_with(check))
        .unwrap_or_else(|| panic!("no {check} of {name} in {:#?}", strength.factors))
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() <= 1e-9 * expected.abs(),
        "{found} is not {expected}"
    );
}

/// The strut along x with `force` on each end, tension positive.
fn strut(tool: &Tool, force: f64) -> Sheet {
    Sheet::new(tool.parts.len())
        .with(STRUT, Joint(joint(tool, "knee")), [0.0, 0.0], [-force, 0.0])
        .with(
            STRUT,
            Joint(joint(tool, "wrist")),
            [27.0, 0.0],
            [force, 0.0],
        )
        .with(RAM, Joint(joint(tool, "wrist")), [0.0, 30.0], [-force, 0.0])
}

/// The lever held at `grip` from the heel: the hand pushes down, the knee holds it.
fn lever(tool: &Tool, grip: f64, hand: f64) -> Sheet {
    let knee = hand * grip / 20.0;
    Sheet::new(tool.parts.len())
        .with(LEVER, Hand, [-grip, 0.0], [0.0, -hand])
        .with(LEVER, Joint(joint(tool, "knee")), [20.0, 0.0], [0.0, -knee])
        .with(
            LEVER,
            Joint(joint(tool, "heel")),
            [0.0, 0.0],
            [0.0, hand + knee],
        )
}
