//! The summary over all jaws of a tool, against closed forms: a lever on one pin of grip L has at a nest of
//! radius r the ratio L / r, and a need of N there asks the hand for N r / L.

use crate::cli::{Bench, edited};
use serde_json::Value;

const NESTS: &str = include_str!("files/three-nests.toml");
const RADII: [(&str, f64); 3] = [("near", 20.0), ("middle", 40.0), ("far", 60.0)];
const NEEDS: [f64; 3] = [600.0, 500.0, 450.0];
const GRIPS: [f64; 2] = [120.0, 90.0];

fn near(found: &Value, expected: f64) {
    let found = found.as_f64().unwrap_or_else(|| panic!("{found}"));
    assert!(
        (found - expected).abs() <= 1e-9 * expected.abs().max(1.0),
        "{found}, expected {expected}"
    );
}

fn stroke(text: &str, more: &[&str]) -> Value {
    let args = [&["stroke", "tool.toml", "--json"], more].concat();
    Bench::with(text).run(&args).json()
}

#[test]
fn every_jaw_in_a_line() {
    let report = stroke(NESTS, &[]);
    for (k, (name, radius)) in RADII.into_iter().enumerate() {
        let jaw = &report["all_jaws"][k];
        assert_eq!(jaw["jaw"], name);
        // Open is where the middle nest, at 40 mm, stands open by 8 mm.
        near(&jaw["gap"][0], 0.2 * radius);
        near(&jaw["gap"][1], 0.0);
        for (g, grip) in GRIPS.into_iter().enumerate() {
            let at = &jaw["grips"][g];
            near(&at["at"], grip);
            near(&at["ratio"], grip / radius);
            near(&at["jaw_force"], 150.0 * grip / radius);
            let hand = NEEDS[k] * radius / grip;
            near(&at["peak"], hand);
            assert_eq!(at["can"], hand <= 210.0, "{name} {grip}");
        }
    }
    assert_eq!(report["ends"][0]["jaw"], "middle");
    near(&report["ends"][0]["value"], 8.0);
}

/// The whole motion is a full turn: a nest at a radius of r goes from r above its seat to r below it. That of the jaw in
/// view is told.
#[test]
fn the_motion_reaches_as_far_as_the_jaw_in_view() {
    for (jaw, radius) in RADII {
        let args = ["check", "--json", "--jaw", jaw, "tool.toml"];
        let report = Bench::with(NESTS).run(&args).json();
        near(&report["reach"][0], -radius);
        near(&report["reach"][1], radius);
    }
}

/// The same numbers whichever jaw is in view, that one first; and in inches.
#[test]
fn the_jaw_in_view_changes_only_the_order() {
    let sorted = |report: &Value| {
        let mut list = report["all_jaws"].as_array().unwrap().clone();
        list.sort_by_key(|jaw| jaw["jaw"].as_str().unwrap().to_owned());
        list
    };
    let expected = sorted(&stroke(NESTS, &[]));
    let report = stroke(NESTS, &["--jaw", "far"]);
    assert_eq!(report["all_jaws"][0]["jaw"], "far");
    assert_eq!(report["ends"][1]["jaw"], "middle");
    for (found, expected) in sorted(&report).iter().zip(&expected) {
        assert_eq!(found["jaw"], expected["jaw"]);
        for g in 0..2 {
            for key in ["ratio", "jaw_force", "peak"] {
                near(
                    &found["grips"][g][key],
                    expected["grips"][g][key].as_f64().unwrap(),
                );
            }
            assert_eq!(found["grips"][g]["can"], expected["grips"][g]["can"]);
        }
    }
    let inches = stroke(NESTS, &["--units", "in-lbf"]);
    let (mm, newtons) = (25.4, 4.4482216152605);
    for (found, expected) in sorted(&inches).iter().zip(&expected) {
        near(&found["gap"][0], expected["gap"][0].as_f64().unwrap() / mm);
        let peak = expected["grips"][0]["peak"].as_f64().unwrap();
        near(&found["grips"][0]["peak"], peak / newtons);
        near(
            &found["grips"][0]["ratio"],
            expected["grips"][0]["ratio"].as_f64().unwrap(),
        );
    }
}

/// The row of a jaw in a table: its cells, bars left out.
fn row(text: &str, jaw: &str) -> Vec<String> {
    let line = text
        .lines()
        .find(|line| line.trim_start().starts_with(&format!("{jaw} ")));
    let line = line.unwrap_or_else(|| panic!("no row {jaw} in\n{text}"));
    let cells = line.split_whitespace().filter(|cell| *cell != "|");
    cells.map(str::to_owned).collect()
}

#[test]
fn the_table_says_what_each_nest_gives_and_needs() {
    let ended = Bench::with(NESTS).run(&["stroke", "tool.toml"]);
    let text = ended.out;
    let head = "jaws near, middle, far; open and shut by the gap of middle";
    assert!(text.replace("\n  ", " ").contains(head), "{text}");
    let table = &text[text.find("All jaws\n").unwrap()..];
    let cells = [
        "near", "4.00", "0.00", "6.00", "900", "100", "yes", "4.50", "675", "133", "yes",
    ];
    assert_eq!(row(table, "near"), cells);
    let cells = [
        "far", "12.00", "0.00", "2.00", "300", "225", "NO", "1.50", "225", "300", "NO",
    ];
    assert_eq!(row(table, "far"), cells);
    // Ends that are given by two jaws, by one and a span, by none.
    let head = |edits: &[(&str, &str)]| {
        let text = Bench::with(&edited(NESTS, edits)).run(&["stroke", "tool.toml"]);
        text.out.replace("\n  ", " ")
    };
    let open = "open = { gap = 8, jaw = \"middle\" }";
    let shut = "shut = { gap = 0, jaw = \"middle\" }";
    let text = head(&[(open, "open = { gap = 4 }")]);
    assert!(
        text.contains("open by the gap of near, shut by that of middle"),
        "{text}"
    );
    let text = head(&[(shut, "shut = { handle = 180 }")]);
    assert!(text.contains("; open by the gap of middle\n"), "{text}");
    let text = head(&[
        (shut, "shut = { handle = 180 }"),
        (open, "open = { handle = 191.537 }"),
    ]);
    assert!(
        !text.contains("by the gap of") && text.contains("All jaws"),
        "{text}"
    );
}

/// What there is none of has no column; one jaw has no such table.
#[test]
fn columns_follow_what_the_file_says() {
    let text = |edits: &[(&str, &str)]| {
        let text = Bench::with(&edited(NESTS, edits))
            .run(&["stroke", "tool.toml"])
            .out;
        text[text.find("All jaws\n").unwrap()..].to_owned()
    };
    let limitless = text(&[("limit = 210\n", "")]);
    assert_eq!(row(&limitless, "near").len(), 9);
    assert!(!limitless.contains("can:"), "{limitless}");
    let one = include_str!("cli/setter.toml");
    let text = Bench::with(one).run(&["stroke", "tool.toml"]).out;
    assert!(
        !text.contains("All jaws") && !text.contains("by the gap of"),
        "{text}"
    );
    assert_eq!(stroke(one, &[])["all_jaws"].as_array().unwrap().len(), 1);
}

/// A nest whose dies meet before the others are shut ends the stroke: no ratio there, and the table says so.
#[test]
fn dies_that_meet_leave_no_ratio_at_shut() {
    let early = edited(
        NESTS,
        &[("on = \"lever.far\"\n", "on = \"lever.far\"\nclosed = 3\n")],
    );
    let report = stroke(&early, &["--grip", "120"]);
    for jaw in report["all_jaws"].as_array().unwrap() {
        assert_eq!(jaw["beyond"], true);
        assert!(jaw["grips"][0]["ratio"].is_null() && jaw["grips"][0]["jaw_force"].is_null());
    }
    let text = Bench::with(&early)
        .run(&["stroke", "tool.toml", "--grip", "120"])
        .out;
    let table = &text[text.find("All jaws\n").unwrap()..];
    assert_eq!(row(table, "near")[3..5], ["met", "-"]);
}

#[test]
fn the_page_shows_the_same_table() {
    let bench = Bench::with(NESTS);
    bench.run(&["report", "tool.toml", "-o", "page.html"]);
    let page = std::fs::read_to_string(bench.path("page.html")).unwrap();
    let start = page.find("<h3>All jaws</h3>").expect("a table of all jaws");
    let table = &page[start..start + page[start..].find("</table>").unwrap()];
    assert!(
        table.contains("open and shut by the gap of middle"),
        "{table}"
    );
    let far = table
        .lines()
        .find(|line| line.contains("<td class=\"first\">far"))
        .unwrap();
    let cells: Vec<&str> = (far.split("<td").skip(1))
        .map(|cell| cell.split(['>', '<']).nth(1).unwrap())
        .collect();
    let expected = [
        "far", "12.00", "0.00", "2.00", "300", "225", "NO", "1.50", "225", "300", "NO",
    ];
    assert_eq!(cells, expected);
    // Whose own summary is one of three; a tool with one jaw has none.
    let bench = Bench::with(include_str!("cli/setter.toml"));
    bench.run(&["report", "tool.toml", "-o", "page.html"]);
    let page = std::fs::read_to_string(bench.path("page.html")).unwrap();
    assert!(!page.contains("All jaws"));
}
