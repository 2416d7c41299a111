//! Dies that meet before the stroke is shut, handles that touch, a hand that opens the tool: every
//! command says the same.

use super::{Bench, SETTER, edited, flat, place};
use serde_json::Value;

fn change(text: &str, from: &str, to: &str) -> String {
    edited(text, &[(from, to)])
}

const SPREADER: &str = include_str!("../files/ring-spreader.toml");

/// The setter, shut by a handle angle that its strut is too long for: by hand, no more than that the
/// gap at that angle is below zero.
fn long_strut() -> String {
    let demo = include_str!("../../demo-data/eyelet-toggle.toml");
    let text = change(demo, "shut  = { gap = 0 }", "shut  = { handle = 183.03 }");
    change(&text, "length = 24", "length = 24.6")
}

fn json(bench: &Bench, args: &[&str]) -> Value {
    bench.run(args).json()
}

#[test]
fn all_commands_end_the_stroke_where_the_dies_meet() {
    let bench = Bench::with(&long_strut());
    let why = "the dies of a jaw meet before it";
    let stroke = json(&bench, &["stroke", "tool.toml", "--json"]);
    let meets = &stroke["dies_meet"];
    assert_eq!(meets["jaw"], "nose");
    assert!(meets["gap"].as_f64().is_some_and(|gap| gap.abs() < 1e-9));
    let at = meets["position"].as_u64().expect("a position") as usize;
    let positions = stroke["positions"].as_array().expect("positions");
    let hand = |position: &Value| position["grips"][0]["jaws"]["nose"]["hand_force"].as_f64();
    for (k, position) in positions.iter().enumerate() {
        assert_eq!(position["beyond"].as_bool(), Some(k > at));
        assert_eq!(hand(position).is_none(), k > at);
    }
    // The work grows up to the meeting, where it is 1750 N: there is the peak of the hand force.
    let peak = hand(&positions[at]).expect("a hand force");
    let measured = bench
        .run(&["measure", "tool.toml", "hand_force", "--at", "peak"])
        .code(0);
    let measured: f64 = measured.out.trim().parse().expect("a number");
    assert!((measured - peak).abs() < 1e-6 * peak, "{measured} {peak}");
    let compared = json(
        &bench,
        &[
            "compare",
            "tool.toml",
            "--measure",
            "hand_force@peak",
            "--measure",
            "jaw_force@shut",
            "--json",
        ],
    );
    let row = &compared["rows"][0];
    let value = row["values"][0].as_f64().expect("a value");
    assert!((value - peak).abs() < 1e-6 * peak, "{value} {peak}");
    assert!(row["values"][1].is_null());
    assert!(
        row["remark"]
            .as_str()
            .is_some_and(|r| r.contains("`nose` meet at gap 0 mm"))
    );
    // Demands: of both commands that read them.
    for args in [
        &["stroke", "tool.toml", "--json"][..],
        &["check", "tool.toml", "--demands", "--json"],
    ] {
        let read = json(&bench, args);
        let demands = read["demands"].as_array().expect("demands");
        let shut: Vec<&Value> = demands.iter().filter(|d| d["at"] == "shut").collect();
        assert!(!shut.is_empty());
        for demand in shut {
            assert!(
                demand["value"].is_null() && demand["met"] == false,
                "{demand}"
            );
            assert!(
                demand["why"].as_str().is_some_and(|w| w.contains(why)),
                "{demand}"
            );
        }
    }
    for measure in ["jaw_force", "ratio", "gap", "span"] {
        bench
            .run(&["measure", "tool.toml", measure, "--at", "shut"])
            .code(3)
            .says(why);
    }
    bench
        .run(&["loads", "tool.toml", "--at", "shut"])
        .code(3)
        .says("there are no forces at shut: the dies of a jaw meet before it");
    bench.run(&["loads", "tool.toml"]).code(0);
    bench
        .run(&["tolerance", "tool.toml", "--samples", "50"])
        .prints(why);
    let drawn = bench
        .run(&["draw", "tool.toml", "--at", "shut", "--json"])
        .code(0);
    assert!(
        drawn
            .out
            .contains("no forces here: the dies of a jaw meet before it")
    );
}

#[test]
fn tables_and_pictures_mark_what_is_beyond() {
    let bench = Bench::with(&long_strut());
    let ended = bench.run(&[
        "stroke",
        "tool.toml",
        "--csv",
        "out.csv",
        "--svg",
        "out.svg",
    ]);
    let table = flat(&ended.out);
    assert!(table.contains("DIES MEET: nose at handle"), "{table}");
    assert!(table.contains("met: dies have met before it."), "{table}");
    assert!(table.contains("write `shut = { gap = 0 }`"), "{table}");
    assert!(table.contains("in 90 steps; gap 9.00 to -"), "{table}");
    assert!(
        ended.out.lines().any(|line| {
            let cells: Vec<&str> = line.split_whitespace().collect();
            cells.windows(2).any(|pair| pair == ["met", "-"])
        }),
        "{}",
        ended.out
    );
    let csv = String::from_utf8(ended.written["out.csv"].clone()).expect("text");
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let head = reader.headers().expect("headers").clone();
    let column = |name: &str| head.iter().position(|h| h == name).expect("a column");
    let (beyond, gap, force) = (column("beyond"), column("gap_mm"), column("jaw_force_N"));
    let work = column("work_needs_N");
    let mut seen = [0; 2];
    for row in reader.records() {
        let row = row.expect("a row");
        let below = row[gap].parse::<f64>().expect("a gap") < 0.0;
        assert_eq!(&row[beyond], if below { "true" } else { "false" });
        assert_eq!(row[force].is_empty(), below);
        assert_eq!(row[work].is_empty(), below);
        seen[usize::from(below)] += 1;
    }
    assert!(seen[0] > 100 && seen[1] > 5, "{seen:?}");
    let svg = String::from_utf8(ended.written["out.svg"].clone()).expect("text");
    assert!(svg.contains("dies meet"));
    let report = bench.run(&["report", "tool.toml", "-o", "out.html"]);
    let page = String::from_utf8(report.written["out.html"].clone()).expect("text");
    assert!(page.contains("DIES MEET: nose at handle"));
    bench
        .run(&["check", "tool.toml"])
        .code(0)
        .prints("assembles and moves, but dies meet before it is shut")
        .prints("dies of jaw nose meet, the stroke ends")
        .prints("to end it there, write `shut = { gap = 0 }`");
    // What is written ends the stroke there, and nothing is said.
    let mended = change(
        &long_strut(),
        "shut  = { handle = 183.03 }",
        "shut = { gap = 0 }",
    );
    let ended = Bench::with(&mended).run(&["stroke", "tool.toml"]);
    assert!(!ended.out.contains("DIES MEET") && !ended.out.contains(" met    -"));
}

#[test]
fn handles_that_touch_are_named_with_their_place() {
    // The two lines of the setter are 49.64 mm apart at the far grip when it is shut.
    let thick = change(SETTER, "[hand]", "[hand]\nthickness = 60");
    let bench = Bench::with(&thick);
    let said = "the handles touch on the way, at handle";
    let why = "their centre lines come nearer than their thickness of 60 mm";
    bench
        .run(&["check", "tool.toml"])
        .code(0)
        .prints("assembles and moves, but its handles touch on the way")
        .prints(said)
        .prints(why);
    bench.run(&["stroke", "tool.toml"]).prints(said).prints(why);
    let report = bench.run(&["report", "tool.toml", "-o", "out.html"]);
    let page = String::from_utf8(report.written["out.html"].clone()).expect("text");
    assert!(page.contains(said));
}

/// By hand: the peg is 40 mm out and 2 mm up, the grip 100 mm, so that its ratio is
/// 100 / (40 cos φ − 2 sin φ), from φ = 0 to where 40 sin φ + 2 cos φ = 8.
#[test]
fn a_tool_that_spreads_is_written_with_its_axis_turned_round() {
    let stroke = json(&Bench::with(SPREADER), &["stroke", "tool.toml", "--json"]);
    let positions = stroke["positions"].as_array().expect("positions");
    assert!(stroke["dies_meet"].is_null());
    let mut last = 0.0;
    for position in positions {
        let phi = position["travel"].as_f64().expect("a travel").to_radians();
        let jaw = &position["grips"][0]["jaws"]["jaw"];
        let ratio = 100.0 / (40.0 * phi.cos() - 2.0 * phi.sin());
        assert!((jaw["ratio"].as_f64().expect("a ratio") - ratio).abs() < 1e-9);
        assert!((jaw["jaw_force"].as_f64().expect("a force") - 100.0 * ratio).abs() < 1e-7);
        let gap = 10.0 - (40.0 * phi.sin() + 2.0 * phi.cos() + 2.0);
        assert!((position["jaws"]["jaw"]["gap"].as_f64().expect("a gap") - gap).abs() < 1e-9);
        last = gap;
    }
    assert!(last.abs() < 1e-9);
}

/// The spreader measured by how far its pegs are apart, with these ends and this push.
fn apart(open: &str, shut: &str, push: &str) -> String {
    let text = change(SPREADER, "axis    = 270 ", "axis    = 90 ");
    let text = change(&text, "closed  = -10 ", "closed  = 0 ");
    let text = change(&text, "open  = { gap = 6 }", &format!("open  = {open}"));
    let text = change(&text, "shut  = { gap = 0 }", &format!("shut  = {shut}"));
    change(&text, "push    = \"square\"", &format!("push    = {push}"))
}

const LINES: &str =
    "`axis = -90` and `closed = -10` in [[jaw]], `open = { gap = 6 }` and `shut = { gap = 0 }`";

#[test]
fn a_hand_that_opens_the_tool_is_refused_by_every_command_with_the_lines_to_write() {
    let text = apart("{ gap = 10 }", "{ gap = 4 }", "\"across\"");
    let bench = Bench::with(&text);
    for args in [
        &["stroke", "tool.toml"][..],
        &["check", "tool.toml"],
        &["measure", "tool.toml", "jaw_force", "--at", "shut"],
        &["loads", "tool.toml"],
        &["draw", "tool.toml"],
        &["report", "tool.toml", "-o", "out.html"],
    ] {
        bench
            .run(args)
            .code(3)
            .leaves_nothing()
            .says("the hand at grip 80 mm opens jaw `jaw` in place of closing it: ratio -2.55")
            .says(&place(&text, "[[jaw]]"))
            .says("its gap goes from 10 mm to 4 mm, the grip span from 33.148 mm to 48.222 mm")
            .says("`push = \"square\"` in [hand]")
            .says(LINES);
    }
    bench
        .run(&["compare", "tool.toml"])
        .prints("cannot be solved: the hand at grip 80 mm opens jaw `jaw`");
    // What is proposed is a tool: its ratio is that of the file.
    let mended = change(&text, "axis    = 90 ", "axis = -90 ");
    let mended = change(&mended, "closed  = 0 ", "closed = -10 ");
    let mended = change(&mended, "open  = { gap = 10 }", "open = { gap = 6 }");
    let mended = change(&mended, "shut  = { gap = 4 }", "shut = { gap = 0 }");
    let out = Bench::with(&change(
        &mended,
        "push    = \"across\"",
        "push = \"square\"",
    ))
    .run(&["measure", "tool.toml", "ratio", "--at", "open"])
    .code(0)
    .out;
    assert_eq!(out, "2.5\n");
}

#[test]
fn a_jaw_that_opens_from_open_to_shut_is_shown_the_same_lines() {
    // 8.66° from the level, where the pegs are 10 mm apart.
    let text = apart("{ handle = 180 }", "{ span = 33.14786 }", "\"square\"");
    Bench::with(&text)
        .run(&["stroke", "tool.toml"])
        .code(3)
        .says("its gap grows from 4 mm to 10 mm")
        .says("swap the targets")
        .says(LINES);
    // Said in gaps, it is seen before anything is solved.
    let text = apart("{ gap = 4 }", "{ gap = 10 }", "\"square\"");
    Bench::with(&text)
        .run(&["stroke", "tool.toml"])
        .code(2)
        .says("may be swapped")
        .says(LINES);
}

#[test]
fn a_further_jaw_that_the_hand_opens_is_shown_with_a_note() {
    // The pegs are driven apart: a jaw that measures their distance as its gap is opened.
    let more = "[[jaw]]\nname = \"far\"\non = \"upper.peg\"\nagainst = \"lower.peg\"\naxis = 90\n\n[stroke]";
    let text = change(SPREADER, "[[jaw]]\n", "[[jaw]]\nname = \"ring\"\n");
    let ended = Bench::with(&change(&text, "[stroke]", more))
        .run(&["stroke", "tool.toml"])
        .code(0)
        .prints("the hand at grip 80 mm opens jaw `far` from gap 4 to 10 mm (ratio below zero)")
        .prints("Jaw far");
    assert!(flat(&ended.out).contains("-2.50"), "{}", ended.out);
}
