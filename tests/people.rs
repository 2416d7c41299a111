//! Who can use a tool, once and again and again.

use crate::cli::{Bench, Ended};
use crate::level::level;
use approx::assert_abs_diff_eq as near;

/// A lever on one pin, by hand: shut, the hand needs 8000 / g N, 80 N at the grip of 100 mm, 40 N at 200 mm, and
/// nowhere more. Without a second handle there is no span.
fn lever(limit: &str, job: &str) -> String {
    let work = "[work]\nneed = [[5, 0], [0, 200]]\n";
    level(40.0, "", "[100, 200]", limit, &format!("{work}{job}"))
}

const JOB: &str = "[job]\nstrokes = \"6 /min\"\nheld = \"1.5 s\"\nhours = 8\npopulation = \"w-20-24\"\nshare = 0.75\n";

/// Strength: Mathiowetz 1985, women 20 to 24, 70.4 less 0.6745 SD of 14.5 lbf, 1 lbf = 4.44822 N.
const STRENGTH: f64 = (70.4 - 0.6745 * 14.5) * 4.44822;

fn number(value: &serde_json::Value) -> f64 {
    value.as_f64().expect("a number")
}

/// By hand from the published formulas: six efforts a minute of 1.5 s, so 15 % of the time; effort 80 / 269.65 =
/// 0.2967. HAL = 6.56 ln 15 · 0.1^1.31 / (1 + 3.18 · 0.1^1.31) = 0.753; Strain Index 3·1·1·1·1·1; revised index
/// 3.667 · 1.6 · 0.915 · 1 · 1 = 5.37; acceptable to all is what the first is, the end of its class, 30 %.
#[test]
fn methods_side_by_side() {
    let bench = Bench::with(&lever("", JOB));
    let report = bench.run(&["people", "tool.toml", "--json"]).code(0).json();
    let job = &report["job"];
    near!(number(&job["duty"]), 0.15, epsilon = 1e-12);
    near!(number(&job["hal"]), 0.753, epsilon = 1e-3);
    near!(number(&job["acceptable"]), 0.3, epsilon = 1e-12);
    let names: Vec<&str> = (job["methods"].as_array().expect("methods").iter())
        .map(|method| method["short"].as_str().expect("a name"))
        .collect();
    assert_eq!(names, ["RSI", "MAE", "TLV 2001", "TLV 2018", "SI"]);
    let at = &job["grips"][0];
    near!(number(&at["strength"]), STRENGTH, epsilon = 0.05);
    near!(number(&at["effort"]), 80.0 / STRENGTH, epsilon = 1e-4);
    near!(number(&at["acceptable"]), 0.3 * STRENGTH, epsilon = 0.05);
    let index = |k: usize| number(&at["methods"][k]["index"]);
    near!(index(0), 5.37, epsilon = 5e-3);
    near!(index(1), 80.0 / STRENGTH, epsilon = 1e-4);
    near!(index(2), 2.967 / (10.0 - 0.753), epsilon = 1e-3);
    near!(index(3), 2.967, epsilon = 1e-3);
    near!(index(4), 3.0, epsilon = 1e-12);
    // 0.2967 of the strength: 2.594 min by Rohmert's curve as T. E. Bernard (2006) has it.
    near!(number(&at["hold"]), 60.0 * 2.594, epsilon = 0.2);
    assert!(
        job["grips"][1]["hold"].is_null(),
        "15 % is outside of the curve"
    );
}

impl Ended {
    /// What was printed, without line breaks and the blanks behind them.
    fn flat(&self) -> String {
        self.out.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

#[test]
fn first_lines_say_once_and_again_and_again() {
    let bench = Bench::with(&lever("limit = 90", JOB));
    let said = bench.run(&["stroke", "tool.toml"]).code(0).flat();
    assert!(
        said.contains("Can a hand do it? Yes, once: grip 100 mm (peak 80.0 N, limit 90.0 N)"),
        "{said}"
    );
    assert!(
        said.contains(
            "And 6 times a minute, 1.5 s each, 8 h a day? Yes: grip 100 mm (80.0 N, 30 % of the strength; acceptable 80.9 N)"
        ),
        "{said}"
    );
    // Twenty a minute for 2.5 s: five sixths of the time.
    let often = ["--set", "job.strokes=20 /min", "--set", "job.held=2.5 s"];
    let call = |command: &'static str| [&[command, "tool.toml"][..], &often].concat();
    let said = bench.run(&call("stroke")).code(1).flat();
    assert!(
        said.contains(
            "And 20 times a minute, 2.5 s each, 8 h a day? NO: grip 100 mm (80.0 N, 30 % of the strength;"
        ),
        "{said}"
    );
    assert!(
        said.contains("no force is acceptable to every method; above the limit of 3 of 5 methods"),
        "{said}"
    );
    bench.run(&call("people")).code(1);
    // Nothing is said of it where the file says nothing.
    let silent = Bench::with(&lever("limit = 90", ""));
    let said = silent.run(&["stroke", "tool.toml"]).code(0).flat();
    assert!(
        !said.contains("a minute") && said.contains("Yes, once: "),
        "{said}"
    );
    let none = silent.run(&["people", "tool.toml"]).code(2);
    assert!(none.err.contains("[job]"), "{}", none.err);
}

/// Without a limit the strength of the group says whether a hand can do it once.
#[test]
fn strength_of_the_group_stands_for_a_limit() {
    let bench = Bench::with(&lever("", JOB));
    let said = bench.run(&["stroke", "tool.toml"]).code(0).flat();
    assert!(
        said.contains("Yes, once: grip 100 mm (peak 80.0 N, limit 270 N)"),
        "{said}"
    );
    let heavy = ["stroke", "tool.toml", "--set", "work.scale=4"];
    let said = bench.run(&heavy).code(1).flat();
    // 320 N at the grip of 100 mm, 160 N at 200 mm.
    let once = "Yes, once: grip 200 mm (peak 160 N, limit 270 N). NO, it stalls: grip 100 mm (peak 320 N, limit 270 N).";
    assert!(said.contains(once), "{said}");
    assert!(said.contains(
        "NO: grip 100 mm (320 N, 119 % of the strength; acceptable 80.9 N; above the limit of all 5 methods)"
    ));
}

#[test]
fn measures_of_repeated_use() {
    let bench = Bench::with(&lever("", JOB));
    let read = |name: &str, at: &[&str]| -> f64 {
        let call = [&["measure", "tool.toml", name, "--grip", "100"][..], at].concat();
        bench
            .run(&call)
            .code(0)
            .out
            .trim()
            .parse()
            .expect("a number")
    };
    near!(
        read("effort", &["--at", "peak"]),
        80.0 / STRENGTH,
        epsilon = 1e-4
    );
    near!(
        read("strain_index", &["--at", "peak"]),
        5.37,
        epsilon = 5e-3
    );
    near!(
        read("acceptable_force", &["--at", "shut"]),
        0.3 * STRENGTH,
        epsilon = 0.05
    );
    near!(read("hal", &[]), 0.753, epsilon = 1e-3);
    let demand = "[[demand]]\nmeasure = \"strain_index\"\nat = \"peak\"\ngrip = 100\nmax = 5\n";
    let strict = Bench::with(&lever("", &format!("{JOB}{demand}")));
    let said = strict.run(&["stroke", "tool.toml"]).code(1).flat();
    assert!(
        said.contains("NOT MET strain_index at peak, grip 100 mm: 5.4"),
        "{said}"
    );
    // What the file does not have cannot be read.
    let silent = Bench::with(&lever("", ""));
    let none = silent.run(&["measure", "tool.toml", "hal"]).code(2);
    assert!(none.err.contains("[job]"), "{}", none.err);
}

/// The same job in inches and pounds-force: the same shares, forces over 4.44822.
#[test]
fn both_sets_of_units() {
    let bench = Bench::with(&lever("", JOB));
    let of = |units: &str| {
        let call = ["people", "tool.toml", "--json", "--units", units];
        bench.run(&call).code(0).json()["job"]["grips"][0].clone()
    };
    let (metric, inches) = (of("mm-N"), of("in-lbf"));
    assert_eq!(metric["effort"], inches["effort"]);
    for key in ["force", "strength", "acceptable"] {
        near!(
            number(&metric[key]),
            4.448_221_6 * number(&inches[key]),
            epsilon = 1e-5
        );
    }
}

/// An effort above the strength has no index, and the peak of the index says so.
#[test]
fn more_than_the_strength() {
    let bench = Bench::with(&lever("", JOB));
    let heavy = ["--set", "work.scale=4", "--grip", "100"];
    let call = [
        &["measure", "tool.toml", "strain_index", "--at", "peak"][..],
        &heavy,
    ]
    .concat();
    let none = bench.run(&call).code(3);
    assert!(none.err.contains("more than that hand has"), "{}", none.err);
    let page = [&["report", "tool.toml", "-o", "page.html"][..], &heavy].concat();
    bench.run(&page).code(1);
    let text = std::fs::read_to_string(bench.path("page.html")).expect("a page");
    assert!(text.contains("<h3>Repeated use</h3>") && text.contains("Revised Strain Index 2017"));
}

/// The effort is greatest where the span takes more of the strength than the work falls: by hand from the falloff of
/// Fransson and Winkel (1991), 10 % for each cm above 60 mm for women.
#[test]
fn the_span_counts() {
    let text = include_str!("../demo-data/eyelet-toggle.toml");
    let bench = Bench::with(&format!("{text}\n{JOB}"));
    let report = bench.run(&["people", "tool.toml", "--json"]).json();
    for at in report["job"]["grips"].as_array().expect("grips") {
        let span = number(&at["span"]);
        let left = 1.0 - 0.01 * (span - 60.0).max(0.0);
        near!(number(&at["strength"]), STRENGTH * left, epsilon = 0.05);
    }
}

/// NIOSH and Cal/OSHA 2004-164: 2 to 3½ in for a power grip, 1 to 3 in for precision work.
#[test]
fn spans_for_precision_work_are_named() {
    let text = include_str!("../demo-data/wire-crimp-pliers.toml");
    let near_pivot = Bench::with(text).run(&["stroke", "tool.toml", "--grip", "15"]);
    assert!(
        near_pivot
            .flat()
            .contains("within those for precision work"),
        "{}",
        near_pivot.out
    );
    // Of several grips outside the range and its source are said once.
    let all = Bench::with(include_str!("../demo-data/eyelet-toggle.toml"));
    let said = all.run(&["stroke", "tool.toml"]).flat();
    assert_eq!(said.matches("Easy Ergonomics").count(), 1, "{said}");
    assert!(
        said.contains("grip 60 mm from 90.24 to 63.22 mm; grip 75 mm from"),
        "{said}"
    );
}

const OPERATORS: &str = "[[operators]]\ngroup = \"w-20-24\"\ncount = 12\n[[operators]]\ngroup = \"w-60-64\"\ncount = 4\n";

/// Mathiowetz 1985: at 200 N 96.0 % of women 20 to 24 and 84.2 % of women 60 to 64 are able, at 160 N 99.1 and 97.1;
/// of 12 and 4 together (12 · 96.0 + 4 · 84.2) / 16.
#[test]
fn shares_of_operators() {
    let bench = Bench::with(&lever("", OPERATORS));
    let of = |scale: &str| {
        let set = format!("work.scale={scale}");
        let call = ["people", "tool.toml", "--json", "--set", &set];
        bench.run(&call).code(0).json()["operators"].clone()
    };
    // 80 N at the grip of 100 mm, times the scale.
    for (scale, young, old) in [("2.5", 96.0, 84.2), ("2", 99.1, 97.1)] {
        let found = of(scale);
        let once = |k: usize| 100.0 * number(&found["groups"][k]["able"][0]["once"]);
        near!(once(0), young, epsilon = 0.05);
        near!(once(1), old, epsilon = 0.05);
        let mix = 100.0 * number(&found["mix"][0]["once"]);
        near!(mix, (12.0 * young + 4.0 * old) / 16.0, epsilon = 0.05);
        assert!(
            found["groups"][0]["able"][0]["repeated"].is_null(),
            "no job"
        );
    }
    // Half as many of the old: another mix.
    let fewer = [
        "people",
        "tool.toml",
        "--json",
        "--set",
        "work.scale=2.5",
        "--set",
        "operators.2.count=2",
    ];
    let found = bench.run(&fewer).code(0).json();
    let mix = 100.0 * number(&found["operators"]["mix"][0]["once"]);
    near!(mix, (12.0 * 96.0 + 2.0 * 84.2) / 14.0, epsilon = 0.05);
}

/// Again and again: 0.3 of the strength is acceptable, so that 48 N asks for 160 N and 60 N for 200 N.
#[test]
fn shares_of_operators_again_and_again() {
    let bench = Bench::with(&lever("", &format!("{JOB}{OPERATORS}")));
    for (scale, young, old) in [("0.75", 96.0, 84.2), ("0.6", 99.1, 97.1)] {
        let set = format!("work.scale={scale}");
        let call = ["people", "tool.toml", "--json", "--set", &set];
        let found = bench.run(&call).code(0).json();
        for (k, share) in [(0, young), (1, old)] {
            let able = &found["operators"]["groups"][k]["able"][0];
            near!(100.0 * number(&able["repeated"]), share, epsilon = 0.05);
            assert!(number(&able["once"]) > 0.99);
        }
    }
    let said = bench.run(&["people", "tool.toml"]).code(0).flat();
    assert!(
        said.contains("group count mean N SD N 100 mm: once % again % 200 mm: once % again %"),
        "{said}"
    );
}

#[test]
fn the_chart_has_a_curve_for_each_group_and_one_for_all() {
    let bench = Bench::with(&lever("", OPERATORS));
    bench
        .run(&["people", "tool.toml", "--svg", "able.svg"])
        .code(0)
        .writes(&["able.svg"]);
    let svg = std::fs::read_to_string(bench.path("able.svg")).expect("a chart");
    let document = roxmltree::Document::parse(&svg).expect("an SVG");
    let count = |class: &str| {
        let all = document.descendants();
        all.filter(|node| {
            node.attribute("class")
                .is_some_and(|c| c.split(' ').any(|c| c == class))
        })
        .count()
    };
    assert!(count("curve") >= 2 && count("limit") >= 1, "{svg}");
    assert!(svg.contains("w-20-24, 12") && svg.contains("what the work needs"));
    // The upright line is named below the axis.
    let texts = document.descendants().filter(|n| n.has_tag_name("text"));
    let named = texts.filter(|n| n.text() == Some("grip 100 mm")).count();
    assert_eq!(named, 1, "{svg}");
    // Without groups there is nothing to draw.
    let limit = Bench::with(&lever("limit = 90", "[job]\nstrokes = 6\nheld = 1\n"));
    let none = limit
        .run(&["people", "tool.toml", "--svg", "able.svg"])
        .code(2);
    assert!(none.err.contains("[[operators]]"), "{}", none.err);
}

/// By hand: the hand line is 200 mm long. A palm of 95 mm (men, 95th percentile) in a glove of 5 mm takes 105 mm, from
/// 47.5 to 152.5 at the grip of 100 mm, beyond the inner end at 200 - 115 = 85 mm; from 147.5 to 252.5 at 200 mm, where
/// the end of the handle lies in the palm. Of women the palm is 85 mm, and 100 mm are enough.
#[test]
fn handles_against_hands() {
    let hand = "handle = { length = 115, width = 25, depth = 20 }\nglove = 5";
    let bench = Bench::with(&lever(hand, ""));
    let of = |bench: &Bench, more: &[&str]| {
        let call = [&["people", "tool.toml", "--json"][..], more].concat();
        bench.run(&call).code(0).json()["handle"].clone()
    };
    let men = of(&bench, &[]);
    near!(number(&men["taken"]), 105.0, epsilon = 1e-9);
    assert_eq!(men["long_enough"], true);
    let at = |k: usize| {
        [
            number(&men["grips"][k]["hand"][0]),
            number(&men["grips"][k]["hand"][1]),
        ]
    };
    assert_eq!((at(0), at(1)), ([47.5, 152.5], [147.5, 252.5]));
    assert_eq!(men["grips"][0]["beyond_inner_end"], true);
    assert_eq!(men["grips"][0]["end_in_palm"], false);
    assert_eq!(men["grips"][1]["end_in_palm"], true);
    assert_eq!(men["findings"].as_array().expect("a list").len(), 2);
    // A glove of 10 mm makes 115 mm, one of 11 more than there is.
    assert_eq!(of(&bench, &["--set", "hand.glove=10"])["long_enough"], true);
    assert_eq!(
        of(&bench, &["--set", "hand.glove=11"])["long_enough"],
        false
    );
    let women = Bench::with(&lever(hand, OPERATORS));
    let least = |set: &str| number(&of(&women, &["--set", set])["least"]);
    assert_eq!(least("hand.glove=0"), 100.0);
    assert_eq!(least("hand.glove=10"), 105.0);
    let said = bench.run(&["people", "tool.toml"]).code(0).flat();
    assert!(
        said.contains("held at 200 mm the end of the handle presses into the widest palm"),
        "{said}"
    );
    let square = ["--set", "hand.handle.depth=25"];
    let findings = of(&bench, &square)["findings"].to_string();
    assert!(findings.contains("1 to 1;"), "{findings}");
}
