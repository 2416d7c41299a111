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
