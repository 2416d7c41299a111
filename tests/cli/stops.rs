//! A stop in every command: the same place, the same load.

use super::Bench;
use serde_json::Value;

/// A lever that presses 30 mm from its pin, the hand 120 mm off; a lug 20 mm from the pin meets its pad 1 mm up:
/// there the gap is 1.5 mm.
const LEVER: &str = r#"
[tool]
units = "mm-N"
[parts.base]
fixed = true
pins  = { heel = [0, 0] }
marks = { anvil = [30, 0], pad = [20, 1] }
[parts.lever]
pins  = { heel = [0, 0] }
marks = { nose = [30, 0], lug = [20, 0] }
[sketch]
nose = [29, 7]
[hand]
part  = "lever"
line  = [[0, 0], [-120, 0]]
grips = [120]
force = 90
limit = 140
[[jaw]]
name    = "nose"
on      = "lever.nose"
against = "base.anvil"
axis    = 90
[[stops]]
name    = "lug"
on      = "lever.lug"
against = "base.pad"
axis    = 90
ends    = "shut"
[stroke]
open = { gap = 6 }
shut = { stop = "lug" }
[work]
need = [[3, 0], [1.5, 200]]
[[demand]]
measure = "stop_load.lug"
max     = 600
[[demand]]
measure = "gap"
at      = { stop = "lug" }
min     = 1.4
max     = 1.6
[tolerances]
"base.pad.y" = 0.04
"#;

#[track_caller]
fn near(found: &Value, expected: f64) {
    let found = found.as_f64().expect("a number");
    assert!(
        (found - expected).abs() <= 1e-6 * expected.abs().max(1.0),
        "{found} is not {expected}"
    );
}

#[test]
fn all_commands_speak_of_the_same_stop() {
    let bench = Bench::with(LEVER);
    let json = |args: &[&str]| bench.run(args).json();
    let cos = (1.0_f64 - 0.05 * 0.05).sqrt();
    let carried = (120.0 * 140.0 - 30.0 * cos * 200.0) / (20.0 * cos);
    let stroke = json(&["stroke", "tool.toml", "--json"]);
    let stop = &stroke["stops"][0];
    assert_eq!(stop["name"], "lug");
    assert_eq!(stop["met"], true);
    near(&stop["gap"], 1.5);
    near(&stop["left"], 0.0);
    near(&stop["dies"], 0.05_f64.asin().to_degrees());
    near(&stop["loads"][0]["stop"], carried);
    near(&stop["loads"][0]["jaw"], 200.0);
    near(&stop["loads"][0]["hand"], 140.0);
    assert_eq!(stroke["ends"][1]["stop"], "lug");
    near(&stroke["demands"][0]["value"], carried);
    assert_eq!(stroke["demands"][0]["met"], true);
    near(&stroke["demands"][1]["value"], 1.5);
    assert_eq!(
        json(&["check", "tool.toml", "--json"])["stops"],
        stroke["stops"]
    );
    let table = bench.run(&["stroke", "tool.toml"]).code(0).out;
    assert!(
        table.contains("Stop lug: the stroke is shut there"),
        "{table}"
    );
    let svg = bench
        .run(&["stroke", "tool.toml", "--svg", "-"])
        .code(0)
        .out;
    assert!(svg.contains("stop lug"));
    let measured = bench
        .run(&["measure", "tool.toml", "stop_load.lug"])
        .code(0);
    near(
        &Value::from(measured.out.trim().parse::<f64>().expect("a number")),
        carried,
    );
    // At the hand force of the file, in the sheets: 90 N.
    let loads = json(&["loads", "tool.toml", "--at", "stop=lug", "--json"]);
    let text = loads.to_string();
    assert!(text.contains("stop lug"), "{text}");
    let sheets = bench
        .run(&["loads", "tool.toml", "--at", "stop=lug"])
        .code(0);
    assert!(sheets.out.contains("stop lug"), "{}", sheets.out);
    let drawn = bench
        .run(&["draw", "tool.toml", "--at", "open,stop=lug", "--svg", "-"])
        .code(0);
    assert!(drawn.out.contains("stop lug"));
    let report = bench.run(&["report", "tool.toml", "-o", "-"]).code(0);
    assert!(report.out.contains("Stop lug"));
    // A demand on the load of a stop is not read off samples, and that is said.
    let made = bench.run(&["tolerance", "tool.toml"]);
    assert!(made.out.contains("what a stop carries"), "{}", made.out);
    // No such stop.
    let wrong = bench.run(&["measure", "tool.toml", "gap", "--at", "stop=lugg"]);
    assert!(wrong.code(2).err.contains("stops: lug"));
}

/// A stop before shut: rows beyond have no forces, and why is said.
#[test]
fn a_stop_before_shut_is_marked() {
    let text = LEVER
        .replace("shut = { stop = \"lug\" }", "shut = { gap = 0 }")
        .replace("[stroke]", "[stroke]\nsteps = 10");
    let bench = Bench::with(&text);
    let stroke = bench.run(&["stroke", "tool.toml", "--json"]).json();
    assert_eq!(stroke["dies_meet"], Value::Null);
    assert_eq!(stroke["stop_met"]["stop"], "lug");
    near(&stroke["stop_met"]["gap"], 1.5);
    let table = bench.run(&["stroke", "tool.toml", "--all"]).out;
    assert!(table.contains("STOP MET: lug"), "{table}");
    assert!(table.contains("a stop is met before it"), "{table}");
    let read = bench.run(&["measure", "tool.toml", "jaw_force", "--at", "shut"]);
    assert!(read.err.contains("a stop is met before it"), "{}", read.err);
    let csv = bench.run(&["stroke", "tool.toml", "--csv", "-"]).out;
    assert!(csv.lines().any(|line| line.ends_with(",true")), "{csv}");
}
