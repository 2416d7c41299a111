//! Room to move: a bar that swings about a pin of its frame, in one layer with it, and where it runs into an arm of it.
//!
//! By hand: the arm's corner (40, -20) is r = sqrt(2000) mm from the pin, b = atan(1/2) below the axis. The bar's lower
//! edge is 3 mm below its own axis, so it meets the corner where it has turned down by a = b - asin(3 / r).

use crate::addresses::run;
use crate::cli::Bench;
use crate::drawing::demo;
use serde_json::Value;

pub const TOOL: &str = r#"
[tool]
units = "mm-N"

[parts.frame]
fixed = true
pins  = { pivot = [0, 0] }
marks = { anvil = [20, 30] }

[parts.bar]
pins  = { pivot = [0, 0] }
marks = { nose = [20, 3], tip = [60, 0] }

[hand]
part  = "bar"
line  = [[30, 0], [60, 0]]
grips = [20]
push  = "square"
force = 100

[[jaw]]
on      = "bar.nose"
against = "frame.anvil"
axis    = 270

[stroke]
open = { handle = -10 }
shut = { handle = 10 }

[materials.plate]
yield = 355

[outlines.frame]
start = [40, -26]
path  = [{ to = [40, -20] }, { to = [-30, -20] }, { to = [-30, -6] }, { to = [0, -6] }, { arc = 6, to = [0, 6] }, { to = [-40, 6] }, { to = [-40, -26] }]

[outlines.bar]
round = { pivot = 3, tip = 3 }

[sections.frame]
thickness = 4
layers    = [1, 3]
material  = "plate"

[sections.bar]
thickness = 4
layers    = [3]
material  = "plate"
"#;

/// The same, closing downwards on to the arm.
fn downwards() -> String {
    let text = TOOL.replace("anvil = [20, 30]", "anvil = [20, -30]");
    let text = text.replace("nose = [20, 3]", "nose = [20, -3]");
    let text = text.replace("axis    = 270", "axis    = 90");
    let text = text.replace("open = { handle = -10 }", "open = { handle = 10 }");
    text.replace("shut = { handle = 10 }", "shut = { handle = -25 }")
}

/// How far the bar has turned down where it meets the corner, degrees.
fn turned() -> f64 {
    (0.5_f64.atan() - (3.0 / 2000_f64.sqrt()).asin()).to_degrees()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

fn room(bench: &Bench, text: &str) -> Value {
    bench.put("tool.toml", text);
    let ended = bench.run(&["check", "tool.toml", "--json"]);
    let report: Value =
        serde_json::from_str(&ended.out).unwrap_or_else(|_| panic!("{}", ended.err));
    report["room"].clone()
}

#[test]
fn the_first_touch_of_the_stroke() {
    let bench = Bench::empty();
    let room = room(&bench, &downwards());
    let pair = &room["pairs"][0];
    assert_eq!(pair["parts"], serde_json::json!(["frame", "bar"]));
    assert_eq!(pair["touches"], true);
    assert!((number(&pair["handle"]) + turned()).abs() < 0.02, "{pair}");
    assert!((number(&pair["share"]) - (10.0 + turned()) / 35.0).abs() < 1e-3);
    let off = (number(&pair["at"][0]) - 40.0).hypot(number(&pair["at"][1]) + 20.0);
    assert!(off < 0.02, "{pair}");
    // Opened farther, its upper edge meets the frame's where that comes out of the common eye, 6 + 0.5 mm from the pin:
    // at (-2.5, 6).
    let corner = 6.0_f64.atan2(-2.5) - (3.0 / 6.5_f64).asin();
    let opened = number(&pair["beyond"]["opened"]);
    assert!(
        (opened - (corner.to_degrees() - 10.0)).abs() < 0.1,
        "{pair}"
    );
    let printed = bench.run(&["check", "tool.toml"]).out;
    let words = printed.split_whitespace().collect::<Vec<_>>().join(" ");
    let wanted = format!(
        "frame and bar TOUCH in one layer, first at {:.0} % of the stroke (handle at {:.1}\u{b0}), 22.4 mm from anvil and 44.7 mm from pivot",
        100.0 * (10.0 + turned()) / 35.0,
        -turned()
    );
    assert!(words.contains(&wanted), "{wanted}\n{printed}");
    // The picture at shut hatches what both claim, and names them; the one at open has nothing to say.
    let drawn = |at: &str| bench.run(&["draw", "tool.toml", "--at", at]).out;
    assert!(drawn("shut").contains("frame and bar overlap"));
    assert!(!drawn("open").contains("frame and bar"));
    let touch = format!("handle={}", number(&pair["handle"]));
    assert!(drawn(&touch).contains("frame and bar"), "{touch}");
}

/// A tail 20 mm behind the pin comes up to a pad as the tool opens: at a handle angle of −a it is 20 sin a high. A pad
/// that it meets before the bar is at the corner keeps it off; one that it meets later does not.
#[test]
fn a_stop_keeps_a_tool_from_opening_into_a_touch() {
    let bench = Bench::empty();
    for (stops_at, touches) in [(turned() - 4.0, false), (turned() + 4.0, true)] {
        let height = 20.0 * stops_at.to_radians().sin();
        let text = TOOL
            .replace(
                "marks = { anvil = [20, 30] }",
                &format!("marks = {{ anvil = [20, 30], pad = [-19, {height}] }}"),
            )
            .replace("tip = [60, 0] }", "tip = [60, 0], tail = [-20, 0] }")
            .replace(
                "[stroke]",
                "[[stops]]\nname = \"rest\"\non = \"bar.tail\"\nagainst = \"frame.pad\"\naxis = 270\n\
                 ends = \"open\"\n[stroke]",
            )
            .replace(
                "round = { pivot = 3, tip = 3 }",
                "round = { pivot = 3, tip = 3 }\nbelts = [[\"pivot\", \"tip\"]]",
            );
        let seen = room(&bench, &text);
        let beyond = &seen["pairs"][0]["beyond"];
        assert_eq!(beyond.is_object(), touches, "{stops_at}: {seen}");
    }
}

#[test]
fn a_tool_that_is_opened_farther_is_stopped() {
    let bench = Bench::empty();
    let seen = room(&bench, TOOL);
    let pair = &seen["pairs"][0];
    assert_eq!(pair["touches"], false);
    assert_eq!(pair["too_near"], false);
    let beyond = &pair["beyond"];
    assert!(
        (number(&beyond["opened"]) - (turned() - 10.0)).abs() < 0.02,
        "{pair}"
    );
    let off = (number(&beyond["at"][0]) - 40.0).hypot(number(&beyond["at"][1]) + 20.0);
    assert!(off < 0.02, "{pair}");
    // With the bar 10 degrees up, its upper edge and the frame's come out of the common eye, 6.5 mm from the pin, at
    // the nearest places of the stroke.
    let (turn, out) = (10_f64.to_radians(), (6.5_f64 * 6.5 - 9.0).sqrt());
    let edge = [
        out * turn.cos() - 3.0 * turn.sin(),
        out * turn.sin() + 3.0 * turn.cos(),
    ];
    let gap = (edge[0] + 2.5).hypot(edge[1] - 6.0);
    assert!(
        (number(&pair["distance"]) - gap).abs() < 2e-3,
        "{pair} {gap}"
    );
    let asked = format!("{TOOL}\n[room]\napart = 10\nfinger = 12\nreach = \"all\"\n");
    let seen = room(&bench, &asked);
    assert_eq!(seen["pairs"][0]["too_near"], true);
    assert_eq!(
        (number(&seen["apart"]), number(&seen["finger"])),
        (10.0, 12.0)
    );
    let printed = bench.run(&["check", "tool.toml"]).out;
    let words = printed.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("LESS than the 10.00 mm asked"), "{printed}");
}

/// By hand: 25 degrees down the corner stands d = 3 - r sin(b - 25 degrees) deep in the bar, whose edge cuts a triangle
/// off it with legs d / sin 25 and d / cos 25 degrees.
#[test]
fn plates_that_overlap_at_rest_are_refused() {
    let bench = Bench::empty();
    let open = TOOL.replace("open = { handle = -10 }", "open = { handle = -25 }");
    bench.put("tool.toml", &open);
    let turn = 25_f64.to_radians();
    let deep = 3.0 - 2000_f64.sqrt() * (0.5_f64.atan() - turn).sin();
    let area = deep * deep / (2.0 * turn.sin() * turn.cos());
    for args in [
        &["check", "tool.toml"][..],
        &["measure", "tool.toml", "clearance"],
        &["report", "tool.toml", "-o", "review.html"],
    ] {
        let ended = bench.run(args);
        assert_eq!(ended.code, 2, "{args:?}: {}", ended.err);
        let said = format!("frame and bar overlap in layer 3 with the tool open: {area:.3} mm2");
        assert!(ended.err.contains(&said), "{said}\n{}", ended.err);
        assert!(ended.err.contains("layers    = [1, 3]") && ended.err.contains("layers    = [3]"));
    }
    // Forces do not ask about plates; in layers of their own the two pass.
    assert_eq!(bench.run(&["stroke", "tool.toml"]).code, 0);
    bench.put(
        "tool.toml",
        open.replace("layers    = [3]", "layers    = [2]"),
    );
    assert_eq!(bench.run(&["check", "tool.toml"]).code, 0);
}

/// Between all parts, jaws are found too, whose mouth is wider than 4 mm with the tool open.
#[test]
fn fingers_are_looked_for_everywhere_where_that_is_asked() {
    let bench = Bench::empty();
    let text = std::fs::read_to_string(demo("sleeve-crimper")).unwrap();
    let pinches = |reach: &str| {
        let seen = room(
            &bench,
            &format!("{text}\n[room]\nfinger = 4\nreach = \"{reach}\"\n"),
        );
        seen["pinches"].as_array().unwrap().clone()
    };
    let elsewhere = |pinch: &&Value| pinch["beside_handle"] == false;
    assert_eq!(pinches("hand").iter().filter(elsewhere).count(), 0);
    let all = pinches("all");
    let mut found = all.iter().filter(elsewhere);
    assert!(
        found.any(|pinch| pinch["pinches"] == true && number(&pinch["widths"][0]) >= 4.0),
        "{all:?}"
    );
    let (code, _, err) = run(&["check", &demo("sleeve-crimper"), "--set", "room.finger=4"]);
    assert_eq!(code, 2, "no such number is stated: {err}");
}

/// A pin that is moved out of its plate makes no tool: tuning does not go there, though the aim would be better.
#[test]
fn tuning_leaves_no_pin_outside_its_plate() {
    let bench = Bench::empty();
    let tuned = "[[tune]]\ndimension = \"frame.pivot.y\"\nfrom = -5\nto = 20\n\n[aim]\nmeasure = \"gap\"\nat = \"open\"\nwant = \"least\"\n";
    bench.put("tool.toml", format!("{TOOL}\n{tuned}"));
    let ended = bench.run(&["tune", "tool.toml", "-o", "tuned.toml"]);
    assert!(ended.code <= 1, "{}", ended.err);
    let written = std::fs::read_to_string(bench.path("tuned.toml")).unwrap();
    let line = written.lines().find(|line| line.contains("pivot")).unwrap();
    let y = line.split([',', ']']).nth(1).unwrap().trim();
    let y: f64 = y.parse().unwrap_or_else(|_| panic!("{line}"));
    // The border is at 6; the pin may go up to it.
    assert!(y > 1.0 && y < 6.0, "{line}");
}

/// A border of 1000 pieces is read, checked, weighed and cut through in a tenth of a second.
#[test]
fn a_plate_of_a_thousand_pieces_is_quick() {
    let teeth = (0..499).map(|k| {
        let x = 0.1 * f64::from(k);
        format!(
            "{{ to = [{:.2}, 3] }}, {{ to = [{:.2}, 4] }}, ",
            50.0 - x,
            49.95 - x
        )
    });
    let path: String = teeth.collect();
    let bar = format!(
        "[outlines.bar]\nstart = [-5, -3]\npath = [{{ to = [62, -3] }}, {{ to = [62, 3] }}, {path}{{ to = [0.1, 3] }}, {{ to = [-5, 3] }}]\n"
    );
    let text = TOOL.replace("[outlines.bar]\nround = { pivot = 3, tip = 3 }\n", &bar);
    let mut best = f64::INFINITY;
    for _ in 0..5 {
        let begin = std::time::Instant::now();
        let tool = crate::addresses::read(&text);
        let weight = jawforce::plates::weigh(&tool);
        best = best.min(begin.elapsed().as_secs_f64());
        // 67 by 6, and 499 teeth of 0.1 by 1 that are half full.
        assert!((weight.plates[1].area - 402.0 - 499.0 * 0.05).abs() < 1e-6);
    }
    assert!(best < 0.1, "{best} s");
}
