//! Backlash that load takes up, by hand: whichever way the wheels turn and whichever is named first, what is driven
//! stays behind.

use crate::published::{Drawing, close};
use jawforce::analysis::Analysis;
use jawforce::input::read_tool;
use jawforce::tolerance::{Sampling, Spread};

/// Play of the teeth, mm.
const PLAY: f64 = 0.2;
/// A hand lever with 30 teeth at a radius of 30 mm drives a bell with 20 at 20 mm, whose nose is 60 mm from its pin.
const PINS: [&str; 2] = ["driver = [50, 0]", "driven = [0, 0]"];

/// What the first demand of this file is about, of the tool as it is drawn and with its play taken up; and its change per
/// millimetre of the one number that varies.
fn values(text: &str) -> [f64; 3] {
    let read = read_tool(text, &crate::models::beside).unwrap();
    let sampling = Sampling {
        samples: 1,
        fewer: false,
        seed: 7,
        spread: Spread::Normal,
        threads: None,
    };
    let study = Analysis::of(read.tool).tolerance(&sampling).unwrap();
    let found = &study.findings[0];
    [
        found.nominal,
        found.loaded.unwrap(),
        found.shares[0].derivative,
    ]
}

/// The bell's nose stands over its anvil; `up` is 1, or -1 for the mirror image, where all turns the other way.
fn wheels(up: f64, names: [&str; 2]) -> String {
    let [one, other] = names;
    let mark = |part| {
        if part == "lever" {
            "lever.tooth"
        } else {
            "bell.gap"
        }
    };
    let pin = |part| if part == "lever" { "driver" } else { "driven" };
    let teeth = |part| if part == "lever" { 30 } else { 20 };
    format!(
        r#"
[tool]
name = "Geared lever"
units = "mm-N"
[parts.frame]
fixed = true
pins = {{ {}, {} }}
marks = {{ anvil = [-60, {anvil}] }}
[parts.lever]
pins = {{ driver = [0, 0] }}
marks = {{ tooth = [-30, 0] }}
[parts.bell]
pins = {{ driven = [0, 0] }}
marks = {{ gap = [20, 0], nose = [-60, 0] }}
[sketch]
tooth = [20, 0]
gap = [20, 0]
nose = [-60, 0]
[[gears]]
parts = ["{one}", "{other}"]
about = ["{}", "{}"]
meet = ["{}", "{}"]
teeth = [{}, {}]
angle = 20
backlash = {PLAY}
[hand]
part = "lever"
line = [[0, 0], [150, 0]]
push = "square"
grips = [120]
force = 100
[[jaw]]
on = "bell.nose"
against = "frame.anvil"
axis = {axis}
[stroke]
open = {{ handle = {open} }}
shut = {{ handle = {shut} }}
[work]
need = [[20, 10], [0, 100]]
[tolerances]
"frame.driver.x" = 0.01
[[demand]]
measure = "gap"
at = "shut"
min = 0
"#,
        PINS[0],
        PINS[1],
        pin(one),
        pin(other),
        mark(one),
        mark(other),
        teeth(one),
        teeth(other),
        anvil = -10.0 * up,
        axis = 90.0 * up,
        open = up,
        shut = -up,
    )
}

/// At shut the lever is 1 degree past level, the bell 1.5 degrees, less half the play over its radius: the nose is
/// 60 sin 1.5° nearer to the anvil than the 10 mm of the level bell, or 60 sin(1.5° - 0.1/20).
#[test]
fn a_driven_wheel_stays_behind_its_driver() {
    let turned = 1.5_f64.to_radians();
    for up in [1.0, -1.0] {
        for names in [["lever", "bell"], ["bell", "lever"]] {
            let [nominal, loaded, slope] = values(&wheels(up, names));
            close("drawn", nominal, 10.0 - 60.0 * turned.sin(), 1e-9);
            let behind = turned - 0.5 * PLAY / 20.0;
            close("with play", loaded, 10.0 - 60.0 * behind.sin(), 1e-9);
            // The bell's radius is 0.4 of the distance of the pins, and so is behind by less the greater that is.
            let less = 0.5 * PLAY / (0.4 * 50.0 * 50.0);
            close("by the distance", slope, -60.0 * behind.cos() * less, 1e-5);
        }
    }
}

/// A pinion of 36 mm on the handle lowers a rack, which stands on its right (1) or left (-1), against 500 N. To come to the
/// same gap it turns on by half the play over its radius.
#[test]
fn a_rack_stays_behind_its_pinion() {
    for side in [1.0, -1.0] {
        let rack = Drawing::new("mm-N")
            .fixed(
                "frame",
                &[("axle", [0.0, 0.0])],
                &[("anvil", [36.0 * side, -100.0])],
            )
            .part(
                "pinion",
                &[("axle", [0.0, 0.0])],
                &[("w", [36.0 * side, 0.0])],
            )
            .part(
                "ram",
                &[],
                &[
                    ("guide", [50.0 * side, 30.0]),
                    ("w", [36.0 * side, 0.0]),
                    ("nose", [36.0 * side, -60.0]),
                ],
            )
            .slot("ram.guide", "frame", [50.0 * side, 0.0], 90.0, true)
            .hand(
                "pinion",
                [0.0, 0.0],
                [-500.0 * side, 0.0],
                "\"square\"",
                500.0,
            )
            .add("palm = false")
            .jaw("nose", "ram.nose", "frame.anvil", 90.0)
            .add(&format!(
                "[[gears]]\nparts = [\"pinion\", \"ram\"]\nabout = [\"axle\", \"guide\"]\n\
                 meet = [\"pinion.w\", \"ram.w\"]\nteeth = [18, 0]\nangle = 20\nbacklash = {PLAY}"
            ))
            .add("[work]\nneed = [[0, 500], [100, 500]]")
            .add("[stroke]\nopen = { gap = 40 }\nshut = { gap = 10 }\nsteps = 6")
            .add("[tolerances]\n\"frame.anvil.x\" = 0.01")
            .add("[[demand]]\nmeasure = \"handle\"\nat = \"shut\"\nmin = -400");
        let [nominal, loaded, _] = values(rack.text());
        let closing = -side;
        close("on", (loaded - nominal) * closing, 0.5 * PLAY / 36.0, 1e-9);
    }
}
