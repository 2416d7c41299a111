//! Cuts through a handle where a force acts: the section there has the hole of the pin, and carries what it carries on the
//! worse side.

use crate::cli::Bench;
use serde_json::Value;

/// A lever that pulls a ram by a link, 50 mm off its pin; the hand pushes 160 mm off it.
const TOOL: &str = r#"
[tool]
name = "lever and link"
units = "mm-N"
[parts.frame]
fixed = true
pins = { pivot = [0, 0] }
marks = { anvil = [-50, -90] }
[parts.lever]
pins = { pivot = [0, 0], knee = [-50, 0] }
[parts.link]
pins = { knee = [0, 0], wrist = [0, -60] }
[parts.ram]
pins = { wrist = [0, 0] }
marks = { nose = [0, -20] }
[sketch]
knee = [-50, 0]
wrist = [-50, -60]
nose = [-50, -80]
[[slots]]
part = "ram"
point = "wrist"
on = "frame"
through = [-50, 0]
angle = 90
keyed = true
[hand]
part = "lever"
line = [[0, 0], [-200, 0]]
push = "square"
grips = [160]
force = 300
[[jaw]]
name = "nose"
on = "ram.nose"
against = "frame.anvil"
axis = 90
[stroke]
open = { handle = 180 }
shut = { handle = 180.001 }
[joints]
diameter = 6
pivot = { diameter = 3 }
[materials.steel]
yield = 400
[sections.lever]
width = 12
thickness = 6
material = "steel"
"#;

fn shear(text: &str) -> Value {
    let found = Bench::with(text).run(&["loads", "tool.toml", "--json"]);
    let found = found.json();
    let mut factors = found["factors"].as_array().unwrap().iter();
    let of = |f: &&Value| f["subject"] == "lever" && f["check"] == "transverse shear";
    factors.find(of).unwrap().clone()
}

/// By hand: 300 N at 160 mm are 960 N at the link and 660 N at the pin. Between the pin and the link the lever carries
/// 660 N, beyond it 300 N. Through the link's hole of 6 mm 6 of 12 mm are left, through the pin's hole of 3 mm 9: the
/// shear is worst in the link's hole, on the side of the pin: 3 V / (2 A) (Beer, Johnston and DeWolf, Mechanics of
/// Materials, ch. 6).
#[test]
fn a_hole_carries_what_its_worse_side_does() {
    let found = shear(TOOL);
    near(&found, 1.5 * 660.0 / (6.0 * 6.0));
    assert_eq!(found["place"], "50 mm along the hand line");
    // With the link 150 mm off the pin it carries 320 N, the pin 20 N: beyond the link's hole are the 300 N of the hand.
    let far = shear(&TOOL.replace("[-50, ", "[-150, "));
    near(&far, 1.5 * 300.0 / (6.0 * 6.0));
    assert_eq!(far["place"], "150 mm along the hand line");
}

fn near(found: &Value, expected: f64) {
    let stress = found["value"].as_f64().unwrap();
    assert!(
        (stress / expected - 1.0).abs() < 1e-4,
        "{stress}, {expected}"
    );
}
