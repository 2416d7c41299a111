//! `freeze`: what the sketch gave, written down.

use jawforce::analysis::Analysis;
use jawforce::input::{freeze, read_tool};
use jawforce::model::dimension;
use jawforce::model::{Direction, Shape, Tool};
use std::process::Command;

const EVERYTHING: &str = include_str!("files/everything.toml");

/// The demo press with a link and a nose that only the sketch knows.
fn sketched() -> String {
    let mut text = include_str!("../demo-data/pin-plunger.toml").to_owned();
    let work = "[[8, 0], [7, 180], [0.4, 520], [0, 640]]";
    for (old, new) in [
        ("\"pin-plunger-work.csv\"", work),
        (
            "pins   = [\"knee\", \"wrist\"]\nlength = 20.1\n",
            "pins   = [\"knee\", \"wrist\"]  # off a picture\n",
        ),
        (
            "marks = { nose = [50, 0] }",
            "marks = [\n  \"nose\",  # the tip\n]",
        ),
        (
            "knee  = [29, 6]",
            "knee  = [28.5017, 8.8013]\nnose = [96.6, 0]",
        ),
        ("wrist = [48, 0]", "wrist = [46.6, 0]"),
        // A plate keeps the axes that it is drawn in.
        ("[outlines.link]\nround = { knee = 6, wrist = 6 }\n", ""),
    ] {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    let end = text.find("[tolerances]").expect("a table");
    text[..end].to_owned()
}

fn read(text: &str) -> Tool {
    match read_tool(text, &crate::models::beside) {
        Ok(read) => read.tool,
        Err(problems) => panic!("{problems:?}\n{text}"),
    }
}

/// Handle angle, gap, ratio and jaw force over the stroke.
fn numbers(tool: &Tool) -> Vec<f64> {
    let analysis = Analysis::of(tool.clone());
    let solved = analysis
        .stroke(Direction::Closing)
        .map_err(|_| ())
        .expect("a stroke");
    let report = jawforce::report::stroke_report(
        tool,
        solved,
        &[],
        &jawforce::report::Source::default(),
        tool.units,
    );
    // Places of peaks are found to the root of rounding; what stands at positions is exact.
    let json = serde_json::to_value(&report.positions).expect("json");
    let mut all = Vec::new();
    collect(&json, &mut all);
    all
}

fn collect(json: &serde_json::Value, to: &mut Vec<f64>) {
    match json {
        serde_json::Value::Number(number) => to.extend(number.as_f64()),
        serde_json::Value::Array(items) => items.iter().for_each(|item| collect(item, to)),
        serde_json::Value::Object(map) => map.values().for_each(|item| collect(item, to)),
        _ => {}
    }
}

#[test]
fn a_frozen_tool_is_the_same_tool() {
    let text = sketched();
    let tool = read(&text);
    let exact = freeze(&text, &tool, true).expect("frozen");
    assert_eq!((exact.places, exact.lengths), (1, 1));
    let frozen = read(&exact.text);
    assert!(frozen.parts.iter().all(|part| part.shape != Shape::Sketch));
    let (before, after) = (numbers(&tool), numbers(&frozen));
    assert!(
        before.len() > 1000 && before.len() == after.len(),
        "{}",
        before.len()
    );
    for (a, b) in before.iter().zip(&after) {
        assert!((a - b).abs() <= 1e-9 * a.abs().max(1.0), "{a} {b}");
    }
    // Rounded: lengths to 0.005 mm, and with them what is read.
    let rounded = read(&freeze(&text, &tool, false).expect("frozen").text);
    let length = dimension::get(&rounded, "link.length").expect("a length");
    let drawn = (46.6_f64 - 28.5017).hypot(8.8013);
    assert!(
        (length - drawn).abs() <= 0.005
            && (length * 100.0).fract().min(1.0 - (length * 100.0).fract()) < 1e-6
    );
    let mut set = tool.clone();
    let link = set
        .parts
        .iter_mut()
        .find(|p| p.name == "link")
        .expect("a link");
    let way = [(46.6 - 28.5017) / drawn, -8.8013 / drawn];
    link.points[1].at = [
        link.points[0].at[0] + way[0] * length,
        link.points[0].at[1] + way[1] * length,
    ];
    for (a, b) in numbers(&set).iter().zip(&numbers(&rounded)) {
        assert!((a - b).abs() <= 1e-9 * a.abs().max(1.0), "{a} {b}");
    }
}

#[test]
fn every_other_byte_stays() {
    let text = sketched();
    let frozen = freeze(&text, &read(&text), false).expect("frozen").text;
    let expected = text
        .replace(
            "[\"knee\", \"wrist\"]  # off a picture\n",
            "[\"knee\", \"wrist\"]  # off a picture\nlength = 20.12\n",
        )
        .replace(
            "marks = [\n  \"nose\",  # the tip\n]",
            "# the tip\nmarks = { nose = [50, 0] }",
        );
    assert_eq!(frozen, expected);
    // The same with the line ends of another system.
    let other = text.replace('\n', "\r\n");
    let frozen = freeze(&other, &read(&other), false).expect("frozen").text;
    assert_eq!(frozen.replace("\r\n", "\n"), expected);
    assert!(frozen.contains("picture\r\nlength = 20.12\r\n"));
}

/// Every shape and mark that the sketch gives, in the axes of its part; links whose axes something is
/// counted in keep them.
#[test]
fn everything_is_frozen_in_its_own_axes() {
    let tool = read(EVERYTHING);
    let frozen = freeze(EVERYTHING, &tool, true).expect("frozen");
    let again = read(&frozen.text);
    for (part, new) in tool.parts.iter().zip(&again.parts) {
        assert_eq!(part.name, new.name);
        assert!(new.shape != Shape::Sketch, "{}", new.name);
        let turned = part.shape == Shape::Sketch && new.shape == Shape::Length;
        for (a, b) in part.points.iter().zip(&new.points).filter(|_| !turned) {
            let off = (a.at[0] - b.at[0]).hypot(a.at[1] - b.at[1]);
            assert!(off < 1e-12, "{}.{} {off}", part.name, a.name);
        }
        let apart = |p: &jawforce::model::Part| {
            (p.points.len() > 1).then(|| {
                (p.points[0].at[0] - p.points[1].at[0]).hypot(p.points[0].at[1] - p.points[1].at[1])
            })
        };
        assert!(
            apart(part)
                .zip(apart(new))
                .is_none_or(|(a, b)| (a - b).abs() < 1e-12)
        );
    }
    assert_eq!(frozen.lengths, 1, "the shackle");
    assert_eq!(frozen.places, 4, "the strut's middle and the rocker");
    let slotted = EVERYTHING.replace(
        "on      = \"frame\"\nthrough = [20, 0]\nangle   = \"0.5 rad\"",
        "on      = \"shackle\"\nthrough = [20, 0]\nangle   = \"0.5 rad\"",
    );
    assert_ne!(slotted, EVERYTHING);
    assert_eq!(
        freeze(&slotted, &read(&slotted), true)
            .expect("frozen")
            .lengths,
        0
    );
}

fn run(folder: &std::path::Path, args: &[&str]) -> (i32, String) {
    let done = Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(folder)
        .args(args)
        .output()
        .expect("a run");
    (
        done.status.code().unwrap_or(-1),
        String::from_utf8(done.stderr).expect("text"),
    )
}

#[test]
fn the_command_writes_a_new_file_or_says_why_not() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    std::fs::write(at.join("tool.toml"), sketched()).expect("written");
    let (code, err) = run(at, &["freeze", "tool.toml", "-o", "new.toml"]);
    assert_eq!(code, 0, "{err}");
    assert!(
        err.contains("1 place and 1 length") && err.contains("0.01 mm"),
        "{err}"
    );
    assert_eq!(run(at, &["check", "new.toml"]).0, 0);
    let plain = std::fs::read_to_string(at.join("new.toml")).expect("written");
    let none = plain
        .split("[sketch]")
        .next()
        .expect("a beginning")
        .to_owned()
        + &plain[plain.find("[[slots]]").expect("slots")..];
    std::fs::write(at.join("none.toml"), none).expect("written");
    for (args, said) in [
        (vec!["freeze", "tool.toml", "-o", "tool.toml"], "tool.toml"),
        (
            vec!["freeze", "tool.toml", "-o", "tool.toml", "--force"],
            "tool.toml",
        ),
        (vec!["freeze", "tool.toml", "-o", "new.toml"], "--force"),
        (
            vec!["freeze", "new.toml", "-o", "other.toml"],
            "nothing of a part comes from the sketch",
        ),
        (
            vec!["freeze", "none.toml", "-o", "other.toml"],
            "there is no [sketch]",
        ),
    ] {
        let (code, err) = run(at, &args);
        assert_eq!(code, 2, "{args:?} {err}");
        assert!(err.contains(said), "{args:?} {err}");
        assert!(!at.join("other.toml").exists());
    }
    assert_eq!(
        std::fs::read_to_string(at.join("tool.toml")).expect("there"),
        sketched()
    );
    let (code, err) = run(
        at,
        &[
            "freeze",
            "tool.toml",
            "-o",
            "new.toml",
            "--force",
            "--quiet",
            "--exact",
        ],
    );
    assert_eq!((code, err.as_str()), (0, ""));
}

/// The starters that are read off a picture, in pixels: frozen, they are dimensioned, and the same tools.
#[test]
fn a_picture_becomes_dimensions() {
    for text in [
        include_str!("../src/cli/starters/picture.toml"),
        include_str!("../src/cli/starters/inch/picture.toml"),
    ] {
        let tool = read(text);
        let exact = freeze(text, &tool, true).expect("frozen");
        assert_eq!((exact.places, exact.lengths), (12, 1));
        let (before, after) = (numbers(&tool), numbers(&read(&exact.text)));
        assert!(before.len() > 1000 && before.len() == after.len());
        for (a, b) in before.iter().zip(&after) {
            assert!((a - b).abs() <= 1e-9 * a.abs().max(1.0), "{a} {b}");
        }
        let rounded = read(&freeze(text, &tool, false).expect("frozen").text);
        assert!(rounded.parts.iter().all(|part| part.shape != Shape::Sketch));
        // To 0.005 mm or 0.0005 in of each place.
        for (part, new) in tool.parts.iter().zip(&rounded.parts) {
            let coordinates = part.points.iter().zip(&new.points);
            for (a, b) in coordinates.filter(|_| new.shape == Shape::Coordinates) {
                let off = (a.at[0] - b.at[0]).abs().max((a.at[1] - b.at[1]).abs());
                assert!(off <= 0.0127 + 1e-9, "{}.{} {off}", part.name, a.name);
            }
        }
    }
}
