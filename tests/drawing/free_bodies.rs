//! Free bodies: sums, components, arrows.

use super::{DEMOS, check_page, demo, json, out};
use crate::cli::Bench;
use serde_json::Value;

/// Whether a number printed is this value, rounded to the digits printed.
fn prints(text: &str, value: f64) -> bool {
    let digits = text.split_once('.').map_or(0, |(_, d)| d.len());
    let close = |v: f64| (v - value).abs() <= 0.5 * 10f64.powi(-(digits as i32)) + 1e-9;
    number(text).is_some_and(close)
}

/// A number as a drawing prints it, with a true minus.
fn number(text: &str) -> Option<f64> {
    text.replace('\u{2212}', "-").parse().ok()
}

#[test]
fn free_bodies_balance_and_agree_with_loads() {
    let bench = Bench::empty();
    for name in DEMOS {
        let file = demo(name);
        let loads = json(&bench, &["loads", &file, "--at", "open,shut", "--json"]);
        let cases = loads["cases"].as_array().unwrap();
        let grips = cases.len() / 2;
        let parts: Vec<&Value> = cases[0]["sheets"].as_array().unwrap().iter().collect();
        for (p, part) in parts.iter().enumerate() {
            let part_name = part["part"].as_str().unwrap();
            let drawn = json(&bench, &["draw", &file, "--part", part_name, "--json"]);
            let svg = out(&bench, &["draw", &file, "--part", part_name]);
            check_page(&svg, &format!("{name} {part_name}"));
            let document = roxmltree::Document::parse(&svg).unwrap();
            let texts: Vec<&str> = document.descendants().filter_map(|n| n.text()).collect();
            let mut sums = texts.split(|t| *t == "sum").skip(1);
            for (k, case) in [&cases[0], &cases[grips]].into_iter().enumerate() {
                let sheet = &case["sheets"][p];
                assert_eq!(drawn["positions"][k]["sheet"], *sheet, "{name} {part_name}");
                for force in sheet["forces"].as_array().unwrap() {
                    for value in [&force["force"][0], &force["force"][1], &force["moment"]] {
                        let value = value.as_f64().unwrap();
                        assert!(
                            texts.iter().any(|t| prints(t, value)),
                            "{name} {part_name}: {value} is not in the table"
                        );
                    }
                }
                if part["fixed"] == Value::Bool(false) {
                    let printed = sums.next().unwrap();
                    let numbers = printed.iter().filter(|t| !t.trim().is_empty());
                    for sum in numbers.take(3) {
                        assert_eq!(number(sum).unwrap(), 0.0, "{name} {part_name}");
                    }
                }
            }
        }
    }
}

/// What a checker of a free body looks for: which way x, y and moments count, moments to four figures, what the sum of
/// the fixed part is to be, and couples that are not called forces.
#[test]
fn a_free_body_says_how_its_signs_count() {
    let bench = Bench::empty();
    let file = demo("eyelet-toggle");
    let svg = out(&bench, &["draw", &file, "--part", "lever", "--at", "shut"]);
    let document = roxmltree::Document::parse(&svg).unwrap();
    let texts: Vec<&str> = document
        .descendants()
        .filter(|n| n.is_text())
        .filter_map(|n| n.text())
        .collect();
    for sign in ["x", "y", "+M"] {
        assert_eq!(texts.iter().filter(|t| **t == sign).count(), 1, "{sign}");
    }
    let couple = texts.iter().find(|t| t.starts_with("friction at heel:"));
    assert!(couple.unwrap().ends_with(" N\u{b7}mm"), "{couple:?}");
    let loads = json(&bench, &["loads", &file, "--at", "shut", "--json"]);
    let sheets = loads["cases"][0]["sheets"].as_array().unwrap();
    let lever = sheets.iter().find(|s| s["part"] == "lever").unwrap();
    let moments = lever["forces"].as_array().unwrap().iter();
    let most = moments.map(|f| f["moment"].as_f64().unwrap().abs());
    let most = most.fold(0.0, f64::max);
    assert!(
        (1000.0..100_000.0).contains(&most),
        "four figures at least: {most}"
    );
    let whole = format!("{most:.0}");
    assert!(
        texts
            .iter()
            .any(|t| t.trim_start_matches('\u{2212}') == whole)
    );
    // A tool that a bench holds.
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(!text.contains("zero = nothing left"));
    let fixed = out(&bench, &["draw", &file, "--part", "frame", "--at", "shut"]);
    let held = fixed.contains("zero = nothing left for the bench to hold.");
    assert_eq!(held, fixed.contains("sum (fixed part)"));
}

/// Start and end of every line of this colour and of an arrow's width.
fn shafts(document: &roxmltree::Document, colour: &str) -> Vec<[[f64; 2]; 2]> {
    let lines = document.descendants().filter(|n| {
        n.attribute("stroke") == Some(colour) && n.attribute("stroke-width") == Some("0.7")
    });
    lines
        .map(|n| {
            let d = n.attribute("d").unwrap().trim_start_matches('M');
            let (a, b) = d.split_once('L').unwrap();
            [a, b].map(|p| {
                let (x, y) = p.split_once(' ').unwrap();
                [x.parse().unwrap(), y.parse().unwrap()]
            })
        })
        .collect()
}

#[test]
fn arrows_point_the_way_of_their_forces_in_proportion() {
    let bench = Bench::empty();
    let call = [
        "draw",
        &demo("eyelet-toggle"),
        "--part",
        "lever",
        "--at",
        "gap=0.4",
    ];
    let report = json(&bench, &[&call[..], &["--json"]].concat());
    let svg = out(&bench, &call);
    let document = roxmltree::Document::parse(&svg).unwrap();
    let forces = report["positions"][0]["forces"].as_array().unwrap();
    let greatest = forces
        .iter()
        .map(|f| f["size"].as_f64().unwrap())
        .fold(0.0, f64::max);
    for (kind, colour) in [("hand", "#0072b2"), ("pin", "#007a59")] {
        let of_kind = forces.iter().filter(|f| f["kind"] == kind);
        // The sample in the key is 5 mm long, shorter than the shaft of any arrow.
        let long = |[a, b]: &[[f64; 2]; 2]| (a[0] - b[0]).hypot(a[1] - b[1]) > 6.0;
        let shafts: Vec<_> = shafts(&document, colour).into_iter().filter(long).collect();
        assert_eq!(shafts.len(), of_kind.clone().count());
        for (force, [from, to]) in of_kind.zip(shafts) {
            let [x, y] = [0, 1].map(|k| force["force"][k].as_f64().unwrap());
            let way = [to[0] - from[0], to[1] - from[1]];
            let (size, long) = (x.hypot(y), way[0].hypot(way[1]));
            // Not across, and not the other way: y runs down on paper.
            assert!(
                (way[0] * -y - way[1] * x).abs() < 1e-3 * size * long,
                "{force}"
            );
            assert!(way[0] * x - way[1] * y > 0.0, "{force}");
            // The shaft ends 3.2 mm inside the head.
            let wanted = (25.0 * size / greatest).max(10.0) - 3.2;
            assert!((long - wanted).abs() < 0.01, "{force} {long} {wanted}");
        }
    }
}
