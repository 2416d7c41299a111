//! `compare`: rows, best marks, variants that fail.

use serde_json::Value;
use std::process::{Command, Output};

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .arg("compare")
        .args(args)
        .output()
        .unwrap()
}

fn json(args: &[&str]) -> Value {
    let done = run(args);
    serde_json::from_slice(&done.stdout)
        .unwrap_or_else(|e| panic!("{e}: {}", String::from_utf8_lossy(&done.stderr)))
}

const A: &str = "demo-data/eyelet-toggle.toml";
const B: &str = "demo-data/eyelet-toggle-b.toml";

#[test]
fn rows_say_what_measure_says() {
    let report = json(&[A, B, "--json"]);
    let names: Vec<&str> = report["columns"]
        .as_array()
        .unwrap()
        .iter()
        .map(|c| c["name"].as_str().unwrap())
        .collect();
    assert_eq!(names[0], "hand_force at peak");
    let rows = report["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 6);
    for row in [&rows[2], &rows[4]] {
        let (file, grip) = (row["file"].as_str().unwrap(), row["grip"].to_string());
        for (column, args) in [(0, ["hand_force", "peak"]), (1, ["jaw_force", "shut"])] {
            let done = Command::new(env!("CARGO_BIN_EXE_jawforce"))
                .current_dir(env!("CARGO_MANIFEST_DIR"))
                .args(["measure", file, args[0], "--at", args[1], "--grip", &grip])
                .output()
                .unwrap();
            let alone: f64 = String::from_utf8(done.stdout)
                .unwrap()
                .trim()
                .parse()
                .unwrap();
            let here = row["values"][column].as_f64().unwrap();
            assert!(
                (here - alone).abs() < 1e-8 * alone,
                "{file} {grip}: {here} {alone}"
            );
        }
    }
    // The least hand force is at the long grip of concept A.
    assert_eq!(report["columns"][0]["best"], 2);
}

#[test]
fn a_variant_that_cannot_be_solved_is_a_row_that_says_so() {
    let report = json(&[
        A,
        "--grip",
        "90",
        "--vary",
        "strut.length=23.8:24.2:0.2",
        "--json",
    ]);
    let rows = report["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 3);
    assert!(
        rows[0]["problem"]
            .as_str()
            .unwrap()
            .contains("out of reach")
    );
    assert!(
        rows[0]["values"]
            .as_array()
            .unwrap()
            .iter()
            .all(Value::is_null)
    );
    assert!(rows[1]["problem"].is_null() && rows[2]["problem"].is_null());
    assert_eq!(rows[2]["set"][0][1], 24.2);
}

#[test]
fn the_rows_do_not_depend_on_the_number_of_threads() {
    let args = [
        A,
        "--vary",
        "strut.length=23.9:24.3:0.05",
        "--vary",
        "lever.knee.y=-24.2:-23.8:0.1",
        "--json",
    ];
    let with = |threads: &str| {
        Command::new(env!("CARGO_BIN_EXE_jawforce"))
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .env("RAYON_NUM_THREADS", threads)
            .arg("compare")
            .args(args)
            .output()
            .unwrap()
            .stdout
    };
    let one = with("1");
    assert!(!one.is_empty());
    assert_eq!(one, with("2"));
    assert_eq!(one, with("5"));
}

#[test]
fn the_panels_are_one_well_formed_picture() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("compare.svg");
    let done = run(&[A, B, "--svg", path.to_str().unwrap(), "--quiet"]);
    assert_eq!(done.status.code(), Some(1), "concept B misses a demand");
    let svg = std::fs::read_to_string(&path).unwrap();
    let page = roxmltree::Document::parse(&svg).unwrap();
    let panels = page
        .root_element()
        .children()
        .filter(|n| n.has_tag_name("svg"))
        .count();
    assert_eq!(panels, 2 + 3, "two tools, and three grips that both have");
    let ids: Vec<&str> = page
        .descendants()
        .filter_map(|n| n.attribute("id"))
        .collect();
    let mut once = ids.clone();
    once.sort_unstable();
    once.dedup();
    assert_eq!(ids.len(), once.len(), "ids of the panels differ");
}

#[test]
fn what_cannot_be_compared_is_said() {
    for (args, phrase) in [
        (
            ["--vary", "strut.lenth=1:2:1"],
            "did you mean `strut.length`",
        ),
        (["--vary", "strut.length=1:2"], "three values are needed"),
        (["--vary", "strut.length=2:1:1"], "the range must rise"),
        (["--vary", "strut.length=1:2:0.00001"], "10000 variants"),
        (["--measure", "jaw_farce@shut"], "there is no measure"),
        (["--measure", "jaw_force"], "say where"),
        (["--csv", A], "which is read"),
    ] {
        let done = run(&[A, args[0], args[1]]);
        let text = String::from_utf8(done.stderr).unwrap();
        assert_eq!(done.status.code(), Some(2), "{args:?}: {text}");
        assert!(text.contains(phrase), "{args:?}: {text}");
    }
}

/// Curves of variants that differ in several dimensions say which value is whose; of one dimension the heading says it.
#[test]
fn values_of_several_dimensions_are_named_in_the_picture() {
    let strut = ["--vary", "strut.length=24:24.2:0.2"];
    let knee = ["--vary", "lever.knee.y=-24:-23.9:0.1"];
    let picture = |vary: &[&str]| -> String {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("x.svg");
        let path = path.to_str().unwrap();
        let done = run(&[&[A, "--quiet", "--svg", path], vary].concat());
        assert!(done.status.code() < Some(2), "{done:?}");
        std::fs::read_to_string(path).unwrap()
    };
    let both = picture(&[strut, knee].concat());
    for label in [
        "strut 24.2, knee.y \u{2212}23.9",
        "strut 24.0, knee.y \u{2212}24.0",
    ] {
        assert!(both.contains(label), "{label}");
    }
    assert!(!picture(&strut).contains("strut 24"));
}
