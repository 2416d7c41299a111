//! `check`: what a file describes.

use super::{Bench, SETTER, edited};
use crate::level::level;

#[test]
fn a_good_file_is_reported_in_words() {
    let ended = Bench::with(SETTER)
        .run(&["check", "tool.toml"])
        .code(0)
        .leaves_no_file();
    assert_eq!(ended.err, "");
    for line in ended.out.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    ended
        .prints("Test setter tool.toml: file is valid; linkage assembles and moves")
        .prints("frame fixed; pins heel, post; marks anvil lever pins heel, knee")
        .prints("4 parts, 4 pin joints, 0 slots: one degree of freedom, as a tool needs.")
        .prints("gap of nose 9.00 0.20 mm")
        .prints("heel 0.00 0.00 0.00 0.00")
        .prints("The whole motion: the gap of nose runs from -0.17 to 45.31 mm")
        .prints("toggle of jaw nose")
        .prints("the hand pushes across");
}

#[test]
fn what_the_file_leaves_out_is_reported() {
    let text = edited(SETTER, &[("force = 150\n", ""), ("axis = 90\n", "")]);
    let bench = Bench::with(&text);
    bench
        .run(&["check", "tool.toml"])
        .code(0)
        .prints("the hand force is 100.0 N (`[hand] force`, or --hand-force)")
        .prints("the gap of `nose` is the distance of its two points");
    let given = bench
        .run(&["check", "tool.toml", "--hand-force", "120"])
        .code(0);
    assert!(!given.out.contains("the hand force is"), "{}", given.out);
    let full = edited(
        SETTER,
        &[(
            "force = 150",
            "force = 150\npush = \"across\"\nthickness = 10",
        )],
    );
    let ended = Bench::with(&full).run(&["check", "tool.toml"]).code(0);
    assert!(!ended.out.contains("Taken"), "{}", ended.out);
}

#[test]
fn one_bad_file_among_several_decides_the_status_but_not_the_others() {
    let bench = Bench::with(SETTER);
    bench.put(
        "bad.toml",
        edited(SETTER, &[("length = 24", "lenght = 24")]),
    );
    bench.put("far.toml", edited(SETTER, &[("gap = 0.2", "gap = -3")]));
    let all = bench
        .run(&["check", "bad.toml", "tool.toml", "missing.toml"])
        .code(2);
    assert!(all.out.contains("tool.toml: file is valid"), "{}", all.out);
    assert!(!all.out.contains("bad.toml"), "{}", all.out);
    all.says("bad.toml:16:").says("missing.toml: no such file");
    bench
        .run(&["check", "bad.toml", "far.toml"])
        .code(3)
        .says("bad.toml:")
        .says("far.toml:");
    bench
        .run(&["check", "tool.toml", "tool.toml", "-q"])
        .code(0)
        .leaves_nothing();
}

#[test]
fn advice_is_reported_and_is_no_error() {
    let text = edited(SETTER, &[("length = 24", "length = 24.0013")]);
    let bench = Bench::with(&text);
    bench
        .run(&["check", "tool.toml"])
        .code(0)
        .says("finer than calipers read")
        .says("tool.toml:16:");
    let quiet = bench
        .run(&["check", "tool.toml", "-q"])
        .code(0)
        .leaves_nothing();
    assert_eq!(quiet.err, "");
}

#[test]
fn a_sketch_far_off_and_a_stroke_near_a_toggle_are_worth_a_look() {
    let text = edited(SETTER, &[("gap = 0.2", "gap = -0.165")]);
    Bench::with(&text)
        .run(&["check", "tool.toml"])
        .code(0)
        .prints("Worth a look")
        .prints("from a toggle");
    let text = edited(SETTER, &[("wrist = [0, -46]", "wrist = [40, -46]")]);
    Bench::with(&text)
        .run(&["check", "tool.toml"])
        .prints("the sketch is far from the assembled position");
}

#[test]
fn files_that_the_program_writes_itself_are_good() {
    let bench = Bench::empty();
    for concept in [
        "pliers", "toggle", "plunger", "compound", "nests", "geared", "cam",
    ] {
        bench
            .run(&["new", concept, "-o", "tool.toml", "--force"])
            .code(0);
        bench
            .run(&["check", "tool.toml"])
            .code(0)
            .prints("file is valid");
    }
}

#[test]
fn check_reads_demands_when_asked_to() {
    for (file, code, phrase) in [
        ("eyelet-toggle", 0, "Demands: all 12 met."),
        (
            "eyelet-toggle-b",
            1,
            "NOT MET  hand_force at peak, grip 90 mm",
        ),
    ] {
        let path = format!("{}/demo-data/{file}.toml", env!("CARGO_MANIFEST_DIR"));
        let run = |args: &[&str]| {
            std::process::Command::new(env!("CARGO_BIN_EXE_jawforce"))
                .arg("check")
                .arg(&path)
                .args(args)
                .output()
                .unwrap()
        };
        let asked = run(&["--demands"]);
        assert_eq!(asked.status.code(), Some(code));
        assert!(String::from_utf8_lossy(&asked.stdout).contains(phrase));
        assert_eq!(
            run(&[]).status.code(),
            Some(0),
            "without being asked it says nothing of them"
        );
        let json: serde_json::Value =
            serde_json::from_slice(&run(&["--demands", "--json"]).stdout).unwrap();
        assert_eq!(json["demands"].as_array().unwrap().len(), 12);
    }
}

/// What is next to the stroke in the order in which the tool comes by it, and the rest when asked for.
#[test]
fn the_motion_is_listed_in_its_order() {
    let bench = Bench::empty();
    let file = crate::drawing::demo("excluder-cutter");
    let found = bench.run(&["check", &file, "--json"]).code(0).json();
    let all = found["events"].as_array().unwrap().len();
    let others = found["others"].as_array().unwrap().len();
    let lines = |args: &[&str]| -> Vec<String> {
        let text = bench.run(args).code(0).out;
        let rows = text
            .lines()
            .skip_while(|l| !l.starts_with("The whole motion"));
        let rows = rows.filter(|l| l.starts_with("  handle"));
        rows.map(str::to_owned).collect()
    };
    let whole = lines(&["check", &file, "--all"]);
    assert_eq!(whole.len(), all + others, "{whole:?}");
    let near = lines(&["check", &file]);
    assert!(near.len() >= 2 && near.len() < 6, "{near:?}");
    let more = format!(
        "{} more far from the stroke: --all.",
        all + others - near.len()
    );
    bench
        .run(&["check", &file])
        .prints(&more)
        .prints("toggle: that jaw, whose gap is given, stands still");
    // The near ones keep their order in the whole list.
    let at = |line: &String| whole.iter().position(|w| w == line).unwrap();
    let places: Vec<usize> = near.iter().map(at).collect();
    assert!(places.is_sorted(), "{near:?} in {whole:?}");
    assert!(near.iter().any(|line| line.ends_with("in the stroke")));
}

/// Columns of `need` that are swapped, and a hand line from its outer end: both are good files that say another thing.
#[test]
fn what_was_entered_the_other_way_round_is_asked_about() {
    let tool = |need: &str, line: &str| {
        let work = format!("[work]\nneed = {need}\n");
        level(40.0, "", "[100]", "force = 50", &work).replace("[[0, 0], [-200, 0]]", line)
    };
    let said = |text: &str| {
        let bench = Bench::with(text);
        let check = bench.run(&["check", "tool.toml"]).code(0).out;
        let stroke = bench.run(&["stroke", "tool.toml"]).code(0).out;
        [check, stroke].map(|out| out.split_whitespace().collect::<Vec<_>>().join(" "))
    };
    let (right, along) = ("[[5, 0], [0, 200]]", "[[0, 0], [-200, 0]]");
    for out in said(&tool("[[0, 5], [200, 0]]", along)) {
        assert!(
            out.contains("touched at gap 200 mm already, and jaw `jaw` opens to 5 mm"),
            "{out}"
        );
    }
    for out in said(&tool(right, "[[-200, 0], [0, 0]]")) {
        assert!(out.contains("begins at its outer end"), "{out}");
    }
    for out in said(&tool(right, along)) {
        assert!(
            !out.contains("go in") && !out.contains("outer end"),
            "{out}"
        );
    }
}
