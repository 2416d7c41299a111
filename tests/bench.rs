//! A tool on a bench that says where it stands: what its base carries and what its frame bears, by hand; and what
//! plates cost to cut.
//!
//! The tool of `room_to_move`, with its frame standing on its lower edge at (0, -26). The bar turned by t, the hand pushes
//! F square to it, 50 mm from the pin: F (-sin t, cos t) at 50 (cos t, sin t). All else acts between bar and frame, so
//! the bench must take just that: about a place (x, y) the hand turns the tool by
//!
//! M = F (50 - x cos t - y sin t).

use crate::cli::Bench;
use crate::room_to_move::TOOL;
use serde_json::Value;

pub fn tool(more: &str) -> String {
    let text = TOOL.replace("force = 100", "force = 100\npalm  = false");
    format!("{text}\n[bench]\nat = [0, -26]\n{more}")
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

fn loads(bench: &Bench, text: &str, more: &[&str]) -> Value {
    bench.put("tool.toml", text);
    let args = [&["loads", "tool.toml", "--json"], more].concat();
    let ended = bench.run(&args);
    serde_json::from_str(&ended.out).unwrap_or_else(|_| panic!("{}", ended.err))
}

/// Moment of the hand about a place, and its force, with the bar turned by `t`.
fn hand(force: f64, t: f64, [x, y]: [f64; 2]) -> (f64, [f64; 2]) {
    let moment = force * (50.0 - x * t.cos() - y * t.sin());
    (moment, [-force * t.sin(), force * t.cos()])
}

#[test]
fn the_base_carries_the_hand() {
    let bench = Bench::empty();
    let (moment, [x, y]) = hand(80.0, 10_f64.to_radians(), [0.0, -26.0]);
    let at = ["--at", "shut", "--hand-force", "80"];
    let near = |found: &Value, wanted: f64| {
        let found = number(found);
        assert!(
            (found - wanted).abs() < 1e-6 * wanted.abs().max(1.0),
            "{found} {wanted}"
        );
    };
    // What the bench does is the opposite of the hand; across the base the tool pulls where that is down.
    for (up, axial, shear) in [("90", y, -x), ("0", x, y)] {
        let report = loads(&bench, &tool(&format!("up = {up}\n")), &at);
        let sheets = report["cases"][0]["sheets"].as_array().unwrap();
        let frame = sheets
            .iter()
            .find(|sheet| sheet["part"] == "frame")
            .unwrap();
        let base = &frame["base"];
        near(&base["axial"], axial);
        near(&base["shear"], shear);
        near(&base["moment"], -moment);
        near(&base["at"][1], -26.0);
        assert_eq!(frame["bench"], Value::Null);
        // With it the sums vanish.
        for sum in frame["sums"].as_array().unwrap() {
            assert!(number(sum).abs() < 1e-6, "{frame}");
        }
    }
    let printed = bench.run(&["loads", "tool.toml", "--at", "shut"]);
    assert!(
        printed.out.contains("at the base: N "),
        "{}\n{}",
        printed.out,
        printed.err
    );
}

/// The arm of the frame, 6 deep, and its column, 10 deep, two plates of 4 mm. The column bears less than half the stress
/// of the arm, and is left out: at (-35, y) the moment is at most 1.1 times that of the arm at its root, and the depth
/// counts by its square.
#[test]
fn the_frame_of_a_tool_on_a_bench_by_hand() {
    let bench = Bench::empty();
    let report = loads(&bench, &tool(""), &[]);
    let factors = report["factors"].as_array().unwrap();
    let cuts: Vec<&Value> = factors
        .iter()
        .filter(|f| f["subject"] == "frame" && f["check"] == "bending at a cut")
        .collect();
    let (mut arm, mut column) = (0, 0);
    for factor in &cuts {
        let place = factor["place"].as_str().unwrap();
        let digits = |c: char| !(c.is_ascii_digit() || c == '.' || c == '-');
        let at: Vec<f64> = place.split(digits).filter_map(|n| n.parse().ok()).collect();
        let [x, y] = at[..] else { panic!("{place}") };
        let (force, t) = (
            number(&factor["hand_force"]),
            number(&factor["handle"]).to_radians(),
        );
        let edge = |axial: f64, moment: f64, depth: f64| {
            axial.abs() / (8.0 * depth) + moment.abs() * 6.0 / (8.0 * depth * depth)
        };
        // Cuts straight across the arm, and straight across the column.
        let by_hand = if x > -29.9 && (y == -20.0 || y == -26.0) {
            arm += 1;
            let (moment, [axial, _]) = hand(force, t, [x, -23.0]);
            edge(axial, moment, 6.0)
        } else if y > -19.9 && y < -6.1 && (x == -30.0 || x == -40.0) {
            column += 1;
            let (moment, [_, axial]) = hand(force, t, [-35.0, y]);
            edge(axial, moment, 10.0)
        } else {
            continue;
        };
        let found = number(&factor["value"]);
        // The place is told to three decimals.
        assert!(
            (found / by_hand - 1.0).abs() < 1e-4,
            "{place}: {found} {by_hand}"
        );
    }
    assert!(arm == 1 && column == 0, "{cuts:?}");
    let notes = report["notes"].to_string();
    assert!(!notes.contains("do not balance"), "{notes}");
}

#[test]
fn a_bench_goes_with_no_palm() {
    let bench = Bench::empty();
    let held = format!("{TOOL}\n[bench]\nat = [0, -26]\n");
    bench.put("tool.toml", held);
    let ended = bench.run(&["check", "tool.toml"]);
    assert_eq!(ended.code, 2);
    assert!(ended.err.contains("palm = false"), "{}", ended.err);
    bench.put(
        "tool.toml",
        tool("").replace("at = [0, -26]", "at = \"nowhere\""),
    );
    let ended = bench.run(&["check", "tool.toml"]);
    assert!(
        ended.code == 2 && ended.err.contains("nowhere"),
        "{}",
        ended.err
    );
}

/// By hand: the bar is a belt round two discs of 3 mm, 60 apart: 66 by 6 upright; with 4 between blanks 70 by 10. Its
/// area is 60 x 6 + 9 pi, its mass that times 4 mm and 7850 kg/m3.
#[test]
fn stock_and_price() {
    let bench = Bench::empty();
    let stock = "[stock]\nmargin = 4\nthickness = [3, 4]\n";
    let text = format!("{TOOL}\n{stock}")
        .replace("yield = 355", "yield = 355\ndensity = 7850\nprice = 2.5");
    let parts = |text: &str| -> Value {
        bench.put("tool.toml", text);
        let ended = bench.run(&["parts", "tool.toml", "--json"]);
        serde_json::from_str(&ended.out).unwrap_or_else(|_| panic!("{}", ended.err))
    };
    let report = parts(&text);
    let bar = &report["parts"][1];
    let mass = (360.0 + 9.0 * std::f64::consts::PI) * 4.0 * 7850e-9;
    assert!((number(&bar["price"]) - 2.5 * mass).abs() < 1e-9, "{bar}");
    let all = number(&report["mass"]) * 2.5;
    assert!((number(&report["price"]) - all).abs() < 1e-9);
    // The frame, two plates: from (-40, -26) to (40, 6), 80 by 32.
    let frame = 2.0 * (80.0 + 4.0) * (32.0 + 4.0);
    let sheet = &report["sheets"][0];
    assert!(
        (number(&sheet["area"]) - frame - 70.0 * 10.0).abs() < 1e-6,
        "{sheet}"
    );
    assert_eq!(sheet["in_stock"], true);
    let printed = bench.run(&["parts", "tool.toml"]).out;
    assert!(printed.contains("material comes to"), "{printed}");
    let report = parts(&text.replace("thickness = [3, 4]", "thickness = [3, 5]"));
    assert_eq!(report["sheets"][0]["in_stock"], false);
    assert!(
        report["notes"]
            .to_string()
            .contains("not among those at hand"),
        "{report}"
    );
    // Without a price there is none.
    let report = parts(&text.replace("price = 2.5", ""));
    assert_eq!(report["price"], Value::Null);
}
