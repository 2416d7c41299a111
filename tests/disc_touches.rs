//! Where a disc touches what it pushes: its force acts there, and bends the part that it pushes from there.

use crate::cli::Bench;
use serde_json::Value;

/// A disc of 20 mm, 40 mm off the lever's pin, lifts a rocker 60 mm off its pin; the work is 40 mm beyond.
const TOOL: &str = r#"
[tool]
name = "touched"
units = "mm-N"
[parts.frame]
fixed = true
pins = { pivot = [0, 0], post = [-20, 20] }
marks = { anvil = [80, 30] }
[parts.lever]
pins = { pivot = [0, 0] }
marks = { disc = [40, 0] }
[parts.rocker]
pins = { post = [0, 0] }
marks = { foot = [60, 0], nose = [100, 0] }
[sketch]
disc = [40, 0]
foot = [40, 20]
nose = [80, 20]
[[cams]]
part = "lever"
face = { centre = "disc", radius = 20 }
pushes = "rocker.foot"
flat = 0
friction = 0.2
[hand]
part = "lever"
line = [[0, 0], [-200, 0]]
push = "square"
grips = [160]
force = 300
[[jaw]]
name = "nose"
on = "rocker.nose"
against = "frame.anvil"
axis = -90
[stroke]
open = { handle = 179 }
shut = { handle = -179 }
[materials.steel]
yield = 400
modulus = 200000
[sections.rocker]
width = 12
thickness = 6
material = "steel"
"#;

fn near(found: &Value, expected: f64) {
    let found = found.as_f64().unwrap_or_else(|| panic!("{found}"));
    let off = (found - expected).abs();
    assert!(
        off < 1e-9 * expected.abs().max(1.0),
        "{found}, expected {expected}"
    );
}

fn case(text: &str) -> Value {
    let ended = Bench::with(text).run(&["loads", "tool.toml", "--at", "handle=180", "--json"]);
    ended.json()["cases"][0].clone()
}

/// The force of the cam on a part.
fn cam<'a>(case: &'a Value, part: &str) -> &'a Value {
    let mut sheets = case["sheets"].as_array().unwrap().iter();
    let sheet = sheets.find(|sheet| sheet["part"] == part).unwrap();
    let mut forces = sheet["forces"].as_array().unwrap().iter();
    forces.find(|force| force["what"] == "cam 1").unwrap()
}

/// By hand: 300 N at 160 mm are carried by the push N at 40 mm and the friction 0.2 N at 20 mm, N = 48 000 / 44, both at
/// the rim (40, 20) without a couple. The rocker is a beam of 60 mm with 40 mm beyond its support: under a load there it
/// gives 40² (40 + 60) / (3 E I), E I = 200 000 · 6 · 12³ / 12, and is bent the most over the rim.
#[test]
fn a_disc_pushes_a_flat_at_its_rim() {
    let case = case(TOOL);
    let push = 48_000.0 / 44.0;
    for (part, sign) in [("lever", -1.0), ("rocker", 1.0)] {
        let on = cam(&case, part);
        near(&on["at"][0], 40.0);
        near(&on["at"][1], 20.0);
        near(&on["force"][0], -0.2 * sign * push);
        near(&on["force"][1], sign * push);
        near(&on["couple"], 0.0);
    }
    let stiff = 200_000.0 * 6.0 * 12_f64.powi(3) / 12.0;
    let gives = 1600.0 * 100.0 / (3.0 * stiff);
    near(&case["give"]["per_thousand"], 1000.0 * gives);
}

/// On a roller of 8 mm the disc is touched at its rim too, and the rocker is pushed at the roller's pin.
#[test]
fn a_disc_pushes_a_roller_at_its_pin() {
    let text = TOOL
        .replace("flat = 0", "roller = { diameter = 8, pin = 4 }")
        .replace("foot = [60, 0]", "foot = [60, 4]")
        .replace("foot = [40, 20]", "foot = [40, 24]");
    let case = case(&text);
    for (part, high) in [("lever", 20.0), ("rocker", 24.0)] {
        let on = cam(&case, part);
        near(&on["at"][0], 40.0);
        near(&on["at"][1], high);
    }
}
