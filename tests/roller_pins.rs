//! The pin of a roller: its hole in the part that carries it, what it bears there, and what is said of pins that have no
//! check.

use crate::cli::Bench;
use serde_json::Value;

/// A disc of 20 mm, 40 mm off the lever's pin, lifts a rocker by a roller of 8 mm on a pin of 4 mm, 60 mm off the rocker's
/// pin; the work is 40 mm beyond.
const TOOL: &str = r#"
[tool]
name = "rolled"
units = "mm-N"
[parts.frame]
fixed = true
pins = { pivot = [0, 0], post = [-20, 24] }
marks = { anvil = [80, 34] }
[parts.lever]
pins = { pivot = [0, 0] }
marks = { disc = [40, 0] }
[parts.rocker]
pins = { post = [0, 0] }
marks = { foot = [60, 0], nose = [100, 0] }
[sketch]
disc = [40, 0]
foot = [40, 24]
nose = [80, 24]
[[cams]]
name = "lift"
part = "lever"
face = { centre = "disc", radius = 20 }
pushes = "rocker.foot"
roller = { diameter = 8, pin = 4 }
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
open = { handle = 180 }
shut = { handle = 180.001 }
[materials.steel]
yield = 400
ultimate = 600
density = 7850
[sections.rocker]
width = 12
thickness = 6
edge = 10
material = "steel"
"#;

/// The stroke is a thousandth of a degree, along which forces change by some 1e-5.
fn near(found: &Value, expected: f64) {
    let found = found.as_f64().unwrap_or_else(|| panic!("{found}"));
    assert!(
        (found / expected - 1.0).abs() < 1e-4,
        "{found}, expected {expected}"
    );
}

fn loads(text: &str) -> Value {
    Bench::with(text)
        .run(&["loads", "tool.toml", "--json"])
        .json()
}

fn stress<'a>(loads: &'a Value, check: &str) -> &'a Value {
    let mut factors = loads["factors"].as_array().unwrap().iter();
    let of = |factor: &&Value| factor["subject"] == "rocker" && factor["check"] == check;
    &factors.find(of).unwrap()["value"]
}

/// By hand: the roller feels 0.2 · 4/8 of its push N as friction at its rim, so that 300 N at 160 mm are N (40 + 0.1 · 20),
/// N = 48 000 / 42. The rocker has N across and 0.1 N along at the roller's pin, and from the pin's friction a couple of
/// 0.1 N · 4 mm, which takes 0.004 N off the jaw: it gives (0.6 − 0.004) N, and the post the rest, 0.404 N. On the post's
/// side of the roller's pin that is 60 · 0.404 N, with 0.1 N along. Of the 12 mm there the pin takes 4
/// (Beer, Johnston and DeWolf, Mechanics of Materials, ch. 4: I = t (w³ − d³) / 12).
#[test]
fn its_hole_is_out_of_the_section() {
    let push = 48_000.0 / 42.0;
    let second = 6.0 * (12_f64.powi(3) - 4_f64.powi(3)) / 12.0;
    let bent = 60.0 * 0.404 * push * 6.0 / second + 0.1 * push / (8.0 * 6.0);
    let found = loads(TOOL);
    near(stress(&found, "bending with axial force"), bent);
    let load = push * 1.01_f64.sqrt();
    near(stress(&found, "bearing in the hole"), load / (4.0 * 6.0));
    near(
        stress(&found, "shear tear-out"),
        load / (2.0 * 6.0 * (10.0 - 2.0)),
    );
}

/// A pin of the rocker that stands where the roller turns is the same hole, the larger one.
#[test]
fn a_pin_at_the_same_place_shares_its_hole() {
    let with_link = TOOL
        .replace("pins = { post = [0, 0] }", "pins = { post = [0, 0], eye = [60, 0] }")
        .replace("[sketch]", "[parts.tag]\npins = { eye = [0, 0], loose = [30, 0] }\n[parts.end]\npins = { loose = [0, 0], stay = [20, 0] }\n[sketch]\nloose = [40, 54]")
        .replace("post = [-20, 24] }", "post = [-20, 24], stay = [60, 54] }");
    let found = loads(&format!("{with_link}\n[joints]\ndiameter = 3\n"));
    let factors = found["factors"].as_array().unwrap();
    let bent = factors
        .iter()
        .find(|f| f["subject"] == "rocker" && f["check"] == "bending with axial force");
    let inputs = bent.unwrap()["inputs"].as_array().unwrap();
    let hole = inputs.iter().find(|input| input[0] == "d").unwrap();
    near(&hole[1], 4.0);
}

/// A ram whose peg slides in a groove of the lever; it is keyed in its guide itself, which needs no pin.
const YOKE: &str = r#"
[tool]
name = "yoke"
units = "mm-N"
[parts.frame]
fixed = true
pins = { pivot = [0, 0] }
marks = { anvil = [40, -36] }
[parts.lever]
pins = { pivot = [0, 0] }
[parts.ram]
marks = { peg = [0, 0], nose = [0, -30] }
[sketch]
peg = [40, 0]
nose = [40, -30]
[[slots]]
part = "ram"
point = "peg"
on = "frame"
through = [40, 0]
angle = 90
keyed = true
[[slots]]
name = "groove"
part = "ram"
point = "peg"
on = "lever"
through = "pivot"
angle = 0
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
open = { handle = 179 }
shut = { handle = 178 }
[materials.steel]
yield = 400
[sections.ram]
width = 12
thickness = 6
material = "steel"
"#;

/// Neither the roller's pin nor one that slides in a slot has a check of its own: both are named, and the verdict says that
/// they were not judged.
#[test]
fn pins_without_a_check_are_named() {
    for (text, note, short) in [
        (
            TOOL,
            "shear and bending of roller pin of lift not checked",
            "roller pin of lift",
        ),
        (YOKE, "pin in slot groove not checked", "pin in slot groove"),
    ] {
        let notes = loads(text)["notes"].to_string();
        assert!(notes.contains(note), "{notes}");
        let demands = format!("{text}[[demand]]\nmeasure = \"safety\"\nmin = 1.5\n");
        let said = Bench::with(&demands)
            .run(&["check", "tool.toml", "--demands", "--json"])
            .json();
        assert!(
            said["verdict"]["strength_not_judged"]
                .to_string()
                .contains(short),
            "{said}"
        );
    }
    assert_eq!(
        loads(YOKE)["notes"]
            .to_string()
            .matches("pin in slot")
            .count(),
        1
    );
}

/// An outline gets the hole as well, where it has none of its own there: 4 mm of 120 × 12 mm.
#[test]
fn a_plate_is_drilled_for_it() {
    let plate = "[outlines.rocker]\nstart = [-10, -6]\npath = [{ to = [110, -6] }, { to = [110, 6] }, { to = [-10, 6] }]\n";
    let text = TOOL.replace("width = 12\n", "");
    let area_of = |text: &str, outline: &str| {
        let text = format!("{text}{outline}");
        let found = Bench::with(&text)
            .run(&["check", "tool.toml", "--json"])
            .json();
        found["plates"]["parts"][0]["area"].clone()
    };
    let area = |outline: &str| area_of(&text, outline);
    let hole = std::f64::consts::PI * 4.0;
    near(&area(plate), 1440.0 - hole);
    let listed = format!("{plate}holes = [{{ at = [60, 0], diameter = 10 }}]\n");
    near(&area(&listed), 1440.0 - std::f64::consts::PI * 25.0);
    let loose = format!("{plate}holes = [{{ pin = \"foot\", clearance = 0.5 }}]\n");
    let wider = std::f64::consts::FRAC_PI_4 * 4.5_f64.powi(2);
    let (marks, pins) = (
        "post = [0, 0] }\nmarks = { foot = [60, 0],",
        "post = [0, 0], foot = [60, 0] }\nmarks = {",
    );
    assert!(text.contains(marks));
    near(&area_of(&text.replace(marks, pins), &loose), 1440.0 - wider);
    // Beside the plate there is nothing to drill.
    let short = plate.replace("110", "50");
    near(&area(&short), 720.0);
}
