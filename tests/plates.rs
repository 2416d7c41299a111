//! Plates in whole runs: set from outside, drawn to scale, weighed.

use crate::addresses::{read, run};
use crate::drawing::{bounds_of_regions, demo};
use jawforce::input::{apply_overrides, rewrite};
use jawforce::model::{Tool, dimension};
use jawforce::plates::weigh;
use jawforce::units::Quantity;
use serde_json::Value;

const PLIERS: &str = include_str!("../demo-data/wire-crimp-pliers.toml");

fn json(args: &[&str]) -> Value {
    let (code, out, err) = run(args);
    assert_eq!(code, 0, "{err}");
    serde_json::from_str(&out).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

/// The radius that fits, by hand: the side of 5 and the edge to (2.67, 11.7) turn by 77.13 degrees: 5 / tan 38.57°.
#[test]
fn numbers_that_make_no_plate_are_refused() {
    for (set, said) in [
        (
            "outlines.press-half.path.5.round=9",
            "the largest radius that fits is 6.271 mm",
        ),
        ("outlines.press-half.path.2.arc=4", "does not reach"),
        ("outlines.press-half.path.5.to.x=-60", "cross or touch"),
        (
            "joints.diameter=25",
            "hole of pin `rivet` runs over the edge",
        ),
        ("press-half.rivet.y=20", "pin `rivet` lies outside"),
        (
            "outlines.press-half.path.5.rond=3",
            "did you mean `outlines.press-half.path.5.round`",
        ),
        (
            "outlines.press-half.path.5.round=-1",
            "must not be negative",
        ),
        ("materials.forging.density=7.85", "too small"),
    ] {
        let (code, _, err) = run(&["check", &demo("wire-crimp-pliers"), "--set", set]);
        assert_eq!(code, 2, "{set}: {err}");
        assert!(err.contains(said), "{set}: {err}");
    }
}

/// What is set on an outline is set on its mirror image too; and where the number stands is where it is written.
#[test]
fn numbers_of_outlines_are_set_and_written() {
    let mut tool = read(PLIERS);
    let set = |tool: &mut Tool, number: &str, to: &str| {
        let address = format!("outlines.press-half.{number}");
        apply_overrides(tool, &[(address, to.to_owned())]).unwrap();
    };
    let area = |tool: &Tool| weigh(tool).plates.iter().map(|p| p.area).sum::<f64>();
    set(&mut tool, "path.5.round", "0");
    let whole = area(&tool);
    // Both tips lose the triangle (30, 0), (32, 0), (32, 5).
    set(&mut tool, "path.4.to.x", "30 mm");
    assert!((whole - area(&tool) - 2.0 * 5.0).abs() < 1e-9);
    let new = (
        "outlines.press-half.path.3.arc".to_owned(),
        -3.5,
        Some(Quantity::Length),
    );
    let smooth = (
        "outlines.press-half.path.8.smooth.2.y".to_owned(),
        -16.0,
        Some(Quantity::Length),
    );
    let written = rewrite(PLIERS, tool.units, &[new, smooth]).unwrap();
    assert!(written.contains("{ arc = -3.5, to = [14.7, 0] }"));
    assert!(written.contains("[-46.5, -16]"));
    assert_eq!(
        dimension::get(&read(&written), "outlines.press-half.path.3.arc"),
        Some(-3.5)
    );
}

/// `compare` takes them as it takes any other number.
#[test]
fn numbers_of_outlines_are_varied() {
    let file = demo("wire-crimp-pliers");
    let (code, out, err) = run(&[
        "compare",
        &file,
        "--vary",
        "outlines.press-half.path.5.round=1:3:1",
    ]);
    assert!(code <= 1 && err.is_empty(), "{err}");
    assert!(out.contains("outlines.press-half.path.5.round"), "{out}");
}

/// The plates of both halves are one forging and its mirror image: shut, the tool balances on the axis of the
/// mirror. The mass is the area's, 6 mm thick, at 7850 kg/m3.
#[test]
fn check_weighs_the_pliers() {
    let file = demo("wire-crimp-pliers");
    let plates = &json(&["check", &file, "--json"])["plates"];
    let [fixed, press] = [0, 1].map(|k| &plates["parts"][k]);
    assert_eq!(
        (fixed["part"].as_str(), press["part"].as_str()),
        (Some("fixed-half"), Some("press-half"))
    );
    let area = number(&press["area"]);
    assert!((number(&fixed["area"]) - area).abs() < 1e-9 * area);
    assert!((number(&press["mass"]) - area * 6.0 * 7850e-9).abs() < 1e-12);
    let centre = |part: &Value, axis| number(&part["centre"][axis]);
    assert!((centre(fixed, 1) + centre(press, 1)).abs() < 1e-9);
    let all = &plates["together"];
    assert!(number(&all["shut"][1]).abs() < 1e-6);
    // Two plates, and a rivet of 8 mm through both.
    let pin = std::f64::consts::FRAC_PI_4 * 64.0 * 12.0 * 7850e-9;
    assert!((number(&all["pins"]) - pin).abs() < 1e-9);
    assert!((number(&all["mass"]) - 2.0 * number(&press["mass"]) - pin).abs() < 1e-9);
    let inches = &json(&["check", &file, "--json", "--units", "in-lbf"])["plates"];
    assert_eq!(
        (inches["area_unit"].as_str(), inches["mass_unit"].as_str()),
        (Some("in2"), Some("lb"))
    );
    assert!((number(&inches["parts"][1]["area"]) - area / 645.16).abs() < 1e-9);
    let pounds = number(&inches["parts"][1]["mass"]);
    assert!((pounds - number(&press["mass"]) / 0.453_592_37).abs() < 1e-9);
    let (_, out, _) = run(&["check", &file]);
    assert!(out.contains("fixed-half   1 x 6.00"), "{out}");
}

/// By hand: the left end is an arc of 5.03 over a chord of 10.05 between (-119.5, -16) and (-120.5, -26), its
/// centre 0.224 beside the chord's middle; the right end is at 32.
#[test]
fn outlines_are_drawn_to_scale() {
    let file = demo("wire-crimp-pliers");
    let half = 0.5 * 101_f64.sqrt();
    let left = -120.0 + (5.03_f64.powi(2) - half * half).sqrt() * 10.0 / (2.0 * half) - 5.03;
    for (scale, by) in [("1:1", 1.0), ("2:1", 2.0)] {
        let (code, svg, err) = run(&["draw", &file, "--at", "shut", "--scale", scale]);
        assert_eq!(code, 0, "{err}");
        let regions = bounds_of_regions(&svg);
        // Both are filled, and the fixed one is hatched.
        assert_eq!(regions.len(), 3, "{regions:?}");
        let wide = |b: &[f64; 4]| b[2] - b[0];
        let wanted = by * (32.0 - left);
        assert!(
            regions.iter().all(|b| (wide(b) - wanted).abs() < 0.02),
            "{wanted} {regions:?}"
        );
    }
}

#[test]
fn a_drawing_says_which_outlines_are_schematic() {
    let bench = crate::cli::Bench::empty();
    let end = PLIERS.find("[outlines.fixed-half]").unwrap();
    let rest = PLIERS.find("[sections.press-half]").unwrap();
    let text = format!("{}{}", &PLIERS[..end], &PLIERS[rest..]);
    let named = |text: &str| {
        bench.put("tool.toml", with_width(text));
        let drawn = bench.run(&["draw", "tool.toml", "--json"]);
        let drawn: Value = serde_json::from_str(&drawn.out).unwrap();
        drawn["cautions"][0].as_str().unwrap().to_owned()
    };
    assert!(named(&text).contains("those of fixed-half are schematic"));
    assert!(named(PLIERS).contains("jaw points and outlines are to scale"));
    let plain = format!(
        "{}{}",
        &PLIERS[..PLIERS.find("[outlines.").unwrap()],
        &PLIERS[rest..]
    );
    assert!(named(&plain).contains("outlines round them are schematic"));
}

/// Without a width a part is judged by the cuts of its outline; with one, by that.
#[test]
fn a_part_without_a_width_is_judged_by_its_cuts() {
    let bench = crate::cli::Bench::empty();
    let checks = |text: &str| {
        bench.put("tool.toml", text);
        let loads = bench.run(&["loads", "tool.toml", "--json"]).out;
        let loads: Value = serde_json::from_str(&loads).unwrap();
        let factors = loads["factors"].as_array().unwrap().clone();
        let of = factors.into_iter().filter(|f| f["subject"] == "press-half");
        of.map(|f| f["check"].as_str().unwrap().to_owned())
            .collect::<Vec<_>>()
    };
    let cuts = checks(PLIERS);
    for check in ["bending at a cut", "bending at a hollow edge"] {
        assert!(cuts.iter().any(|known| known == check), "{cuts:?}");
    }
    let wide = checks(&with_width(PLIERS));
    assert!(
        wide.iter().any(|check| check == "bending with axial force"),
        "{wide:?}"
    );
    assert!(wide.iter().all(|check| !check.contains("cut")), "{wide:?}");
}

/// The same tool with a width for each part.
fn with_width(text: &str) -> String {
    text.replace("thickness = 6\n", "width = 12\nthickness = 6\n")
}

/// The throat of the eyelet setter's C, by hand. Its fillet of 9 touches the anvil's edge y = -58.4 and the line from
/// (-4, -58.4) to (12.45, -3.74), whose direction is (16.45, 54.66) / 57.08: its centre is 9 above the edge and 9 to
/// the right of the line, at x = -4 + 9 (1 + 0.2882) / 0.9576 = 8.107, y = -49.4.
///
/// A cut through the centre and a place p of the fillet goes on to the lower edge, y = -79. Right of it nothing but
/// the work acts, F down at the anvil, x = 20. With u the unit vector from the centre to p, ro = 29.6 / |uy|:
///
/// R = (9 + ro) / 2, x of the centroid = 8.107 + R ux, M = F (20 - x), N = F |ux|,
/// A = 6 (ro - 9), Am = 6 ln(ro / 9), sigma = N / A + M (A - 9 Am) / (A 9 (R Am - A)).
#[test]
fn the_throat_of_the_eyelet_setter_by_hand() {
    let file = demo("eyelet-toggle");
    let loads = json(&["loads", &file, "--json"]);
    let factors = loads["factors"].as_array().unwrap();
    let throat = |f: &&Value| f["subject"] == "frame" && f["check"] == "bending at a hollow edge";
    let factor = factors.iter().find(throat).unwrap();
    let place = factor["place"].as_str().unwrap();
    let digits = |c: char| !(c.is_ascii_digit() || c == '.' || c == '-');
    let numbers: Vec<f64> = place.split(digits).filter_map(|n| n.parse().ok()).collect();
    let [x, y] = numbers[..] else {
        panic!("{place}")
    };
    let centre = [8.107, -49.4];
    let (dx, dy) = (x - centre[0], y - centre[1]);
    let away = dx.hypot(dy);
    assert!((away - 9.0).abs() < 0.01, "the fillet: {place}");
    let u = [dx / away, dy / away];
    // The work at that position, for that hand.
    let hand = number(&factor["hand_force"]).to_string();
    let gap = format!("gap={}", number(&factor["gap"]));
    let grip = number(&factor["grip"]);
    let at = json(&[
        "loads",
        &file,
        "--at",
        &gap,
        "--hand-force",
        &hand,
        "--json",
    ]);
    let cases = at["cases"].as_array().unwrap();
    let case = cases
        .iter()
        .find(|case| number(&case["grip"]) == grip)
        .unwrap();
    let work = number(&case["jaw_force"]);
    let outer = 29.6 / u[1].abs();
    let middle = 0.5 * (9.0 + outer);
    let moment = work * (20.0 - (centre[0] + middle * u[0]));
    let (area, over) = (6.0 * (outer - 9.0), 6.0 * (outer / 9.0).ln());
    let stress = work * u[0].abs() / area
        + moment * (area - 9.0 * over) / (area * 9.0 * (middle * over - area));
    let found = number(&factor["value"]);
    assert!(
        (found / stress - 1.0).abs() < 2e-3,
        "{found} MPa, by hand {stress} MPa"
    );
    assert!((number(&factor["factor"]) - 355.0 / found).abs() < 1e-9);
}

/// Sheets are at full size: the upright rectangle of the strut is 24 + 2 x 6 by 12, with 2 mm round it; its holes
/// are 5.03 wide, 24 apart.
#[test]
fn sheets_to_cut_from_are_at_full_size() {
    let bench = crate::cli::Bench::empty();
    let ended = bench.run(&["parts", &demo("eyelet-toggle"), "-o", "sheets"]);
    assert_eq!(ended.code, 0, "{}", ended.err);
    let strut = std::fs::read_to_string(bench.path("sheets/strut.svg")).unwrap();
    let svg = roxmltree::Document::parse(&strut).unwrap();
    let root = svg.root_element();
    assert_eq!(root.attribute("width"), Some("40mm"));
    assert_eq!(root.attribute("height"), Some("16mm"));
    assert_eq!(root.attribute("viewBox"), Some("0 0 40 16"));
    let crosses: Vec<&str> = (root.children())
        .filter(|n| n.attribute("stroke") == Some("#d0021b"))
        .filter_map(|n| n.attribute("d"))
        .collect();
    assert_eq!(crosses, ["M7 8L9 8M8 7L8 9", "M31 8L33 8M32 7L32 9"]);
    assert!(
        !strut.contains("<text") && !strut.contains("<title"),
        "nothing but lines"
    );
    let list = std::fs::read_to_string(bench.path("sheets/parts.csv")).unwrap();
    assert!(list.contains("strut,2,plate,3,"), "{list}");
    // A second time only with --force.
    let again = bench.run(&["parts", &demo("eyelet-toggle"), "-o", "sheets"]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("--force"), "{}", again.err);
    let none = bench.run(&[
        "parts",
        concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/tests/files/ring-spreader.toml"
        ),
        "-o",
        "more",
    ]);
    assert_eq!(none.code, 2, "{}", none.err);
    assert!(none.err.contains("[outlines.PART]"), "{}", none.err);
    assert!(!bench.path("more").exists());
}

/// Measures of plates are what `check` tells.
#[test]
fn plates_are_measured() {
    let file = demo("eyelet-toggle-b");
    let room = &json(&["check", &file, "--json"])["room"];
    let pairs = room["pairs"].as_array().unwrap();
    assert_eq!(pairs.len(), 1);
    assert_eq!(pairs[0]["parts"], serde_json::json!(["lever", "ram"]));
    assert_eq!(pairs[0]["touches"], false);
    let value = |name: &str| {
        let (_, out, err) = run(&["measure", &file, name]);
        out.trim()
            .parse::<f64>()
            .unwrap_or_else(|_| panic!("{err}"))
    };
    let apart = number(&pairs[0]["distance"]);
    assert!((value("clearance") - apart).abs() < 1e-3);
    assert_eq!(value("clearance.ram.lever"), value("clearance"));
    assert!(value("mass") > 0.4);
    assert!(value("stress.ram") > 50.0);
    assert!(value("pinch") < 25.0);
}

/// 0.80 kg as drawn; of a metal four times as dense more than the 1.4 kg advised for one hand.
#[test]
fn a_heavy_tool_is_said_to_be() {
    let file = demo("pin-plunger");
    let (_, light, _) = run(&["check", &file]);
    assert!(!light.contains("advised for one hand"));
    let (_, heavy, _) = run(&["check", &file, "--set", "materials.plate.density=29000"]);
    let words = heavy.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("more than 1.40 kg, the most that is advised for one hand"),
        "{heavy}"
    );
}

/// Stress along the edges of the plunger's frame: pulled at the throat, pressed at the outer edge behind it.
#[test]
fn stress_is_drawn_along_the_edges() {
    let file = demo("pin-plunger");
    let report = json(&["draw", &file, "--at", "shut", "--part", "frame", "--json"]);
    let edges = report["positions"][0]["stresses"]
        .as_array()
        .unwrap()
        .clone();
    let near = |x: f64, y: f64| {
        let off = |edge: &Value| {
            let at = &edge["at"];
            (number(&at[0]) - x).hypot(number(&at[1]) - y)
        };
        let best = edges
            .iter()
            .min_by(|a, b| off(a).total_cmp(&off(b)))
            .unwrap();
        assert!(off(best) < 4.0);
        number(&best["stress"])
    };
    assert!(near(97.0, 14.0) > 0.0, "the throat opens");
    assert!(near(97.0, 37.0) < 0.0, "and its back is pressed");
    let (code, svg, err) = run(&["draw", &file, "--at", "shut", "--part", "frame", "--stress"]);
    assert_eq!(code, 0, "{err}");
    assert!(svg.contains("Strokes along the edges") && svg.contains("#b3261e"));
    let (code, _, err) = run(&["draw", &file, "--part", "plunger", "--stress"]);
    assert_eq!(code, 2);
    assert!(err.contains("[outlines.PART]"), "{err}");
}
