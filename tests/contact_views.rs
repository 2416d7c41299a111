//! Arc slots, rollers and cams in what the program prints and draws.

use crate::cams::PRESS;
use crate::cli::Bench;
use crate::gears::PAIR;
use serde_json::Value;

/// A crank and a coupler whose end rolls in an arc slot about (150, 0).
const ARC: &str = r#"
[tool]
name = "Arc"
units = "mm-N"
[parts.frame]
fixed = true
pins = { heel = [0, 0] }
marks = { anvil = [170, 120] }
[parts.crank]
pins = { heel = [0, 0], wrist = [20, 34.641] }
[parts.coupler]
pins = { wrist = [20, 34.641] }
marks = { end = [163.35, 78.88] }
[[slots]]
part = "coupler"
point = "end"
on = "frame"
centre = [150, 0]
radius = 80
friction = 0.1
roller = { diameter = 16, pin = 8 }
[hand]
part = "crank"
line = [[0, 0], [60, 103.923]]
grips = [110]
force = 100
[[jaw]]
on = "coupler.end"
against = "frame.anvil"
axis = 0
[stroke]
open = { handle = 60 }
shut = { handle = 75 }
"#;

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}

fn pair(value: &Value) -> [f64; 2] {
    [number(&value[0]), number(&value[1])]
}

fn json(bench: &Bench, args: &[&str]) -> Value {
    let ended = bench.run(args);
    assert!(ended.code < 2, "{args:?}: {}", ended.err);
    serde_json::from_str(&ended.out).expect("JSON")
}

fn near(ours: f64, expected: f64) {
    assert!(
        (ours - expected).abs() < 1e-6 * expected.abs().max(1.0),
        "{ours} is not {expected}"
    );
}

#[test]
fn an_arc_slot_is_drawn_where_its_rider_goes() {
    let bench = Bench::with(ARC);
    let drawn = json(
        &bench,
        &["draw", "tool.toml", "--json", "--at", "open,shut"],
    );
    let positions = drawn["positions"].as_array().expect("positions");
    assert_eq!(positions.len(), 2);
    for position in positions {
        let slot = &position["slots"][0];
        let (rider, centre) = (pair(&slot["rider"]), pair(&slot["arc"]["centre"]));
        let spoke = [rider[0] - centre[0], rider[1] - centre[1]];
        near(spoke[0].hypot(spoke[1]), 80.0);
        near(centre[0], 150.0);
        let along = pair(&slot["along"]);
        near(along[0] * spoke[0] + along[1] * spoke[1], 0.0);
        near(along[0].hypot(along[1]), 1.0);
        let [from, to] = pair(&slot["arc"]["from_to"]);
        let at = spoke[1].atan2(spoke[0]).to_degrees();
        assert!(
            from < to && at > from - 1e-6 && at < to + 1e-6,
            "{at} in {from} to {to}"
        );
        for (end, angle) in [(0, from), (1, to)] {
            let end = pair(&slot["reach"][end]);
            let (sin, cos) = angle.to_radians().sin_cos();
            near(end[0], 150.0 + 80.0 * cos);
            near(end[1], 80.0 * sin);
        }
        // As wide as the roller.
        near(number(&slot["roller"]), 16.0);
        near(number(&slot["half"]), 8.0);
    }
    let ended = bench.run(&["draw", "tool.toml", "--svg", "arc.svg"]);
    assert_eq!(ended.code, 0, "{}", ended.err);
}

#[test]
fn the_loads_of_an_arc_slot_are_those_of_its_roller() {
    let bench = Bench::with(ARC);
    let loads = json(&bench, &["loads", "tool.toml", "--json"]);
    let case = &loads["cases"][0];
    let slot = &case["slots"][0];
    near(number(&slot["radius"]), 80.0);
    assert_eq!(slot["rolls"], Value::Bool(true));
    let (normal, friction) = (number(&slot["normal"]), number(&slot["friction"]));
    assert!(normal.abs() > 10.0);
    near(friction.abs(), 0.1 * 8.0 / 16.0 * normal.abs());
    assert!(number(&case["residual"]) < 1e-9);
    let text = bench.run(&["loads", "tool.toml"]).out;
    assert!(text.contains("arc of radius 80.0 mm"), "{text}");
    assert!(text.contains("friction of the roller on its pin"), "{text}");
}

/// The same tool drawn from axes that lie 400 mm to the right and 300 mm above.
fn elsewhere() -> String {
    [
        ("[0, 0]", "[-400, -300]"),
        ("[170, 120]", "[-230, -180]"),
        ("[20, 34.641]", "[-380, -265.359]"),
        ("[163.35, 78.88]", "[-236.65, -221.12]"),
        ("[150, 0]", "[-250, -300]"),
        ("[60, 103.923]", "[-340, -196.077]"),
    ]
    .iter()
    .fold(ARC.to_owned(), |text, (here, there)| {
        text.replace(here, there)
    })
}

/// By the formula for two cylinders, R1 = 8, one of the walls R2 = 72 or, hollow, 88: 205 GPa, 6 mm wide. Wherever the
/// axes lie that the tool is drawn from.
#[test]
fn a_roller_is_checked_by_its_pressure() {
    for text in [ARC, &elsewhere()] {
        is_checked_by_its_pressure(text);
    }
}

fn is_checked_by_its_pressure(text: &str) {
    let text = text
        .replace("pin = 8 }", "pin = 8, width = 6 }\nmaterial = \"hard\"")
        .replace(
            "[hand]",
            "[materials.hard]\nyield = 1500\nmodulus = 205000\n[hand]",
        );
    let bench = Bench::with(&text);
    let loads = json(&bench, &["loads", "tool.toml", "--json"]);
    let factors = loads["factors"].as_array().expect("factors");
    let found = factors
        .iter()
        .find(|f| f["check"] == "roller on its track, Hertz");
    let found = found.expect("the pressure");
    assert_eq!(found["subject"], "slots.1");
    let input = |symbol: &str| {
        let all = found["inputs"].as_array().expect("inputs");
        let one = all.iter().find(|input| input[0] == symbol);
        number(&one.expect("the input")[1])
    };
    let outward = number(&loads["cases"][0]["slots"][0]["normal"]) > 0.0;
    let hollow = if outward { 1.0 / 72.0 } else { -1.0 / 88.0 };
    near(1.0 / input("R"), 1.0 / 8.0 + hollow);
    near(input("L"), 6.0);
    let modulus = 205e3 / (2.0 * (1.0 - 0.3 * 0.3));
    let pressure =
        (input("F") * modulus * (1.0 / 8.0 + hollow) / (std::f64::consts::PI * 6.0)).sqrt();
    near(number(&found["value"]), pressure);
    near(number(&found["factor"]), 1.67 * 1500.0 / pressure);
    let without = json(&Bench::with(ARC), &["loads", "tool.toml", "--json"]);
    let notes = without["notes"].to_string();
    assert!(
        notes.contains("pressure of roller slots.1 not checked"),
        "{notes}"
    );
}

#[test]
fn a_cam_is_listed_drawn_and_loaded() {
    let bench = Bench::with(PRESS);
    let checked = bench.run(&["check", "tool.toml"]).out;
    assert!(
        checked.contains("1 slot, 1 cam: one degree of freedom"),
        "{checked}"
    );
    let drawn = json(
        &bench,
        &["draw", "tool.toml", "--json", "--at", "open,shut"],
    );
    for (position, degrees) in drawn["positions"]
        .as_array()
        .expect("positions")
        .iter()
        .zip([-20.0_f64, 30.0])
    {
        let cam = &position["cams"][0];
        let (sin, cos) = degrees.to_radians().sin_cos();
        let (centre, touches) = (pair(&cam["centre"]), pair(&cam["touches"]));
        near(centre[0], 12.0 * cos);
        near(centre[1], 12.0 * sin);
        near(touches[0], 12.0 * cos);
        near(touches[1], 12.0 * sin + 20.0);
        assert!(cam["roller"].is_null());
    }
    let ended = bench.run(&["draw", "tool.toml", "--svg", "cam.svg"]);
    assert_eq!(ended.code, 0, "{}", ended.err);
    let loads = json(&bench, &["loads", "tool.toml", "--json"]);
    let case = &loads["cases"][0];
    let cam = &case["cams"][0];
    assert_eq!(cam["cam"], "press");
    assert_eq!(
        (cam["on"].as_str(), cam["by"].as_str()),
        (Some("plunger"), Some("lever"))
    );
    near(number(&cam["angle"]), 90.0);
    // The work is all that the cam pushes against, up.
    near(number(&cam["normal"]), number(&case["jaw_force"]));
    near(number(&cam["friction"]).abs(), 0.1 * number(&cam["normal"]));
    assert!(number(&case["residual"]) < 1e-9);
    let measured = bench
        .run(&["measure", "tool.toml", "contact.press", "--at", "open"])
        .out;
    let force = bench
        .run(&["measure", "tool.toml", "jaw_force", "--at", "open"])
        .out;
    assert_eq!(measured, force);
}

/// The work pulls the plunger up, and the lever goes back: the disc would have to hold the plunger down.
#[test]
fn a_cam_that_lifts_off_is_said_to() {
    let text = PRESS
        .replace("axis = -90", "axis = 90\nclosed = -100")
        .replace(
            "open = { handle = -20 }\nshut = { handle = 30 }",
            "open = { handle = 30 }\nshut = { handle = -20 }",
        );
    let bench = Bench::with(&text);
    let ended = bench.run(&["stroke", "tool.toml"]);
    assert_eq!(ended.code, 3, "{}{}", ended.out, ended.err);
    assert!(ended.out.contains("LIFTS OFF"), "{}", ended.out);
    let found: Value =
        serde_json::from_str(&bench.run(&["stroke", "tool.toml", "--json"]).out).expect("JSON");
    for position in found["positions"].as_array().expect("positions") {
        let jaw = &position["grips"][0]["jaws"]["jaw"];
        assert_eq!(jaw["lifts_off"], Value::Bool(true), "{jaw}");
        assert!(jaw["jaw_force"].is_null() && jaw["ratio"].is_number());
    }
}

/// A flat without a width is said to be without a check in the first lines, where strength is asked for. With one, it is
/// pressed by what the jaw presses (the flat is level, the guide without friction), p0 = √(F E* / (π L R)), and pulled by
/// 2 μ p0 behind the contact.
#[test]
fn a_flat_is_checked_where_its_width_is_given() {
    let asked = "\n[[demand]]\nmeasure = \"safety\"\nmin = 1\n";
    let said = Bench::with(&format!("{PRESS}{asked}"))
        .run(&["stroke", "tool.toml"])
        .out;
    let said: Vec<&str> = said.split_whitespace().collect();
    let said = said.join(" ");
    assert!(said.contains("flat on press"), "{said}");
    let text = PRESS.replace("flat = 0", "flat = 0\nwidth = 6\nmaterial = \"plate\"");
    let text = format!("{text}{asked}[materials.plate]\nyield = 800\nmodulus = \"205 GPa\"\n");
    let bench = Bench::with(&text);
    let stroke = json(&bench, &["stroke", "tool.toml", "--json"]);
    let positions = stroke["positions"].as_array().expect("positions");
    let forces = positions
        .iter()
        .map(|at| number(&at["grips"][0]["jaws"]["jaw"]["jaw_force"]));
    let most = forces.fold(0.0, f64::max);
    let loads = json(&bench, &["loads", "tool.toml", "--json"]);
    let factors = loads["factors"].as_array().expect("factors");
    let value = |check: &str| {
        let of = factors.iter().find(|of| of["check"] == check);
        number(&of.expect(check)["value"])
    };
    let modulus = 205e3 / (2.0 * (1.0 - 0.3 * 0.3));
    let pressure = (most * modulus / (std::f64::consts::PI * 6.0 * 20.0)).sqrt();
    let close = |ours: f64, by_hand: f64| {
        assert!(
            (ours / by_hand - 1.0).abs() < 1e-9,
            "{ours}, by hand {by_hand}"
        );
    };
    close(value("flat on its cam, Hertz"), pressure);
    close(
        value("flat on its cam, tension behind the contact"),
        2.0 * 0.1 * pressure,
    );
}

/// A plunger that a cam beside the teeth only carries along takes nothing: the teeth are reported as without it.
#[test]
fn teeth_beside_a_cam_are_reported_from_their_own_force() {
    let plunger = "[parts.plunger]\nmarks = { foot = [0, 40], head = [0, 60] }\n\
        [[slots]]\npart = \"plunger\"\npoint = \"foot\"\non = \"plate\"\nthrough = [0, 40]\nangle = 90\n\
        keyed = true\n[[cams]]\npart = \"upper\"\nface = { centre = [3, 2], radius = 8 }\n\
        pushes = \"plunger.foot\"\nflat = 0\n";
    let bench = Bench::empty();
    let teeth = |text: &str| {
        bench.put("tool.toml", text);
        let report = json(&bench, &["loads", "tool.toml", "--at", "open", "--json"]);
        let teeth = &report["cases"][0]["gears"][0];
        ["x", "y", "tooth", "pitch_line", "separating"].map(|key| number(&teeth[key]))
    };
    let alone = teeth(PAIR);
    for (with, alone) in teeth(&format!("{PAIR}\n{plunger}")).into_iter().zip(alone) {
        near(with, alone);
    }
    // The geared pair by hand, see `gears.rs`.
    near(alone[2], 1250.0 / 20_f64.to_radians().cos());
}
