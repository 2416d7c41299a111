//! Trials from the command line.

use super::Bench;
use crate::models::DEMOS;

fn bench() -> Bench {
    let (_, text) = DEMOS
        .iter()
        .find(|demo| demo.0 == "eyelet-toggle")
        .expect("a demo tool");
    Bench::with(text)
}

/// The sheet filled in with what it predicts, times a factor.
fn filled(bench: &Bench, factor: f64) -> String {
    let sheet = bench
        .run(&["trial", "tool.toml", "--sheet", "--json"])
        .code(0)
        .json();
    let mut text = "gap,jaw_force,hand_force,direction,grip\n".to_owned();
    for row in sheet["rows"].as_array().expect("rows") {
        let number = |key: &str| row[key].as_f64().expect("a number");
        text.push_str(&format!(
            "{},{},{},{},{}\n",
            number("gap"),
            factor * number("predicted"),
            number("hand_force"),
            row["direction"].as_str().expect("a word"),
            number("grip")
        ));
    }
    text
}

#[test]
fn a_sheet_is_printed_to_be_filled_in() {
    let bench = bench();
    let sheet = bench.run(&["trial", "tool.toml", "--sheet"]).code(0).out;
    assert!(
        sheet.contains("gap,jaw_force,hand_force,direction,grip"),
        "{sheet}"
    );
    assert!(
        sheet
            .lines()
            .filter(|line| line.contains(",closing,"))
            .count()
            == 18,
        "{sheet}"
    );
    bench.put("bench.csv", &sheet);
    // Not filled in, it is refused line by line.
    let empty = bench.run(&["trial", "tool.toml", "bench.csv"]).code(2);
    assert!(
        empty.err.contains("there is no `jaw_force`"),
        "{}",
        empty.err
    );
}

#[test]
fn readings_as_predicted_are_in_and_others_are_out() {
    let bench = bench();
    bench.put("bench.csv", filled(&bench, 1.0));
    let text = bench
        .run(&["trial", "tool.toml", "bench.csv", "--svg", "trial.svg"])
        .code(0)
        .out;
    assert!(text.contains("IN: all 36 readings"), "{text}");
    // The readings are of the rigid tool with the friction of the file.
    let json = bench
        .run(&["trial", "tool.toml", "bench.csv", "--json"])
        .code(0)
        .json();
    let value = |key: &str| json[key]["value"].as_f64().expect("a number");
    assert!((value("friction") - 0.10).abs() < 1e-4, "{json}");
    assert!(value("compliance").abs() < 1e-6, "{json}");
    assert!(value("zero").abs() < 1e-3, "{json}");
    let chart = std::fs::read_to_string(bench.path("trial.svg")).expect("a chart");
    assert!(chart.contains("fits best") && chart.contains("predicted"));
    bench.put("bench.csv", filled(&bench, 0.6));
    let text = bench.run(&["trial", "tool.toml", "bench.csv"]).code(1).out;
    assert!(text.contains("OUT: "), "{text}");
}

#[test]
fn without_tolerances_there_is_no_band() {
    let (_, text) = DEMOS
        .iter()
        .find(|demo| demo.0 == "eyelet-toggle")
        .expect("a demo tool");
    let from = text.find("[tolerances]").expect("a table");
    let to = text.find("# Could it ask").expect("what follows");
    let bench = Bench::with(&format!("{}{}", &text[..from], &text[to..]));
    bench.put("bench.csv", filled(&bench, 1.0));
    let text = bench.run(&["trial", "tool.toml", "bench.csv"]).code(0).out;
    assert!(text.contains("in or out is not checked"), "{text}");
}

#[test]
fn what_is_wrong_is_said() {
    let bench = bench();
    bench.put(
        "few.csv",
        "gap,jaw_force,hand_force,direction\n1,900,150,closing\n",
    );
    bench.put(
        "far.csv",
        "gap,jaw_force,hand_force,direction,grip\n1,900,150,closing,500\n",
    );
    for (args, said) in [
        (&["trial", "tool.toml"][..], "[trial] data"),
        (&["trial", "tool.toml", "none.csv"], "none.csv"),
        (&["trial", "tool.toml", "few.csv"], "too few"),
        (
            &["trial", "tool.toml", "far.csv"],
            "off the end of the hand line",
        ),
        (
            &["trial", "tool.toml", "few.csv", "--error", "0"],
            "--error",
        ),
        (
            &["trial", "tool.toml", "few.csv", "--sheet"],
            "without readings",
        ),
    ] {
        let wrong = bench.run(args).code(2);
        assert!(wrong.err.contains(said), "{args:?}: {}", wrong.err);
    }
}

/// Readings that the tool file names: `trial` takes them without being told, a report shows them, in the words and
/// numbers of `trial`.
#[test]
fn a_tool_file_names_its_readings() {
    let bench = bench();
    bench.put("bench.csv", filled(&bench, 1.0));
    let text = read(&bench, "tool.toml");
    bench.put(
        "tool.toml",
        format!("{text}\n[trial]\ndata = \"bench.csv\"\nerror = 4\n"),
    );
    let typed = bench.run(&["trial", "tool.toml", "bench.csv", "--error", "4", "--json"]);
    let named = bench.run(&["trial", "tool.toml", "--json"]).code(0);
    assert_eq!(typed.code(0).json(), named.json());
    let said = bench.run(&["trial", "tool.toml"]).code(0).out;
    let first = said
        .lines()
        .find(|line| line.starts_with("IN: all"))
        .expect("a verdict");
    bench
        .run(&["report", "tool.toml", "-o", "page.html"])
        .code(0);
    let page = read(&bench, "page.html");
    assert!(page.contains("<h3>On the bench</h3>"));
    assert!(
        page.contains("Readings of bench.csv") && page.contains("IN: all 36 readings"),
        "{first}"
    );
    assert!(page.contains("id=\"trial1-1"), "the chart of the readings");
    // Twice what was predicted is out, and the first screen says so.
    bench.put("bench.csv", filled(&bench, 2.0));
    bench.run(&["trial", "tool.toml"]).code(1);
    bench.run(&["report", "tool.toml", "-o", "page.html"]);
    let page = read(&bench, "page.html");
    let answer = page
        .split("<table class=\"signoff\">")
        .next()
        .expect("a first screen");
    assert!(answer.contains("On the bench: OUT: "), "the first screen");
}

/// The chart of `stroke` has the readings that belong to its curves, and says how many do not.
#[test]
fn readings_stand_on_the_chart_of_the_stroke() {
    let bench = bench();
    let readings = filled(&bench, 1.0);
    bench.put("bench.csv", &readings);
    let marks = |text: String, more: &[&str]| {
        bench.put("tool.toml", text);
        let mut args = vec!["stroke", "tool.toml", "--json", "--svg", "s.svg"];
        args.extend(more);
        let json = bench.run(&args).json();
        let svg = read(&bench, "s.svg");
        (json, svg.matches("class=\"reading\"").count(), svg)
    };
    let plain = read(&bench, "tool.toml");
    let named = format!("{plain}\n[trial]\ndata = \"bench.csv\"\n");
    let (json, count, svg) = marks(named.clone(), &[]);
    let found = json["measured"]["readings"].as_array().expect("readings");
    assert_eq!((found.len(), count), (18, 18));
    assert_eq!(json["measured"]["others"], 18);
    assert!(svg.contains("+ measured: 18 readings of bench.csv. 18 more are not shown"));
    let rows = readings
        .lines()
        .skip(1)
        .filter(|row| row.contains("closing"));
    for (row, point) in rows.zip(found) {
        let cell = |k: usize| row.split(',').nth(k).and_then(|c| c.parse::<f64>().ok());
        let near = |key: &str, k: usize| {
            let (shown, typed) = (
                point[key].as_f64().expect("a number"),
                cell(k).expect("one"),
            );
            assert!(
                (shown - typed).abs() < 1e-9 * typed.abs().max(1.0),
                "{key}: {row}"
            );
        };
        near("gap", 0);
        near("jaw_force", 1);
        assert_eq!(point["grip"], 0, "{row}");
    }
    let (json, ..) = marks(named.clone(), &["--opening"]);
    assert_eq!(
        json["measured"]["readings"].as_array().map(Vec::len),
        Some(18)
    );
    // Of another hand force than that of the curves, or at another grip, none belongs to them.
    for (from, to) in [
        ("force   = 150", "force   = 170"),
        ("[60, 75, 90]", "[63, 75, 90]"),
    ] {
        assert!(named.contains(from), "{from}");
        let (json, count, svg) = marks(named.replacen(from, to, 1), &[]);
        assert_eq!(
            (count, &json["measured"]["others"]),
            (0, &36.into()),
            "{to}"
        );
        assert!(svg.contains("None of the 36 readings of bench.csv is shown"));
    }
    // A file that names no readings has none.
    let (json, count, _) = marks(plain, &[]);
    assert_eq!((count, json.get("measured")), (0, None));
}

fn read(bench: &Bench, name: &str) -> String {
    std::fs::read_to_string(bench.path(name)).expect("a file")
}

/// Readings that cannot be laid on the tool are no reason to keep back the rest of a review.
#[test]
fn a_report_comes_without_its_trial() {
    let (_, text) = DEMOS
        .iter()
        .find(|demo| demo.0 == "eyelet-toggle")
        .expect("a demo tool");
    let bench = Bench::with(&format!("{text}\n[trial]\ndata = \"bench.csv\"\n"));
    bench.put(
        "bench.csv",
        "gap,jaw_force,hand_force,direction,grip\n2,800,150,closing,90\n",
    );
    bench.run(&["report", "tool.toml", "-o", "page.html"]);
    let page = std::fs::read_to_string(bench.path("page.html")).expect("a page");
    assert!(
        page.contains("On the bench: ") && page.contains("1 readings are too few"),
        "no word of it"
    );
}
