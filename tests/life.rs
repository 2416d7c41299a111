//! How long a tool lasts, in a tool file.

use crate::cli::Bench;
use serde_json::Value;

/// A press: lever, strut, ram; the strut is pushed by the work.
fn press(more: &str) -> String {
    format!(
        r#"
[tool]
name = "Press"
units = "mm-N"
[parts.frame]
fixed = true
pins = {{ heel = [0, 0], post = [-25, -56] }}
marks = {{ anvil = [30, -61], hook = [-10, -80], seat = [-60, -40] }}
[parts.lever]
pins = {{ heel = [0, 0], knee = [-3, -28] }}
marks = {{ cup = [-60, 0] }}
[parts.strut]
pins = ["knee", "wrist"]
length = 26
[parts.ram]
pins = {{ post = [0, 0], wrist = [26, 2] }}
marks = {{ nose = [55, -5] }}
[sketch]
knee = [-8, -27]
wrist = [0, -52]
[hand]
part = "lever"
line = [[-15, 0], [-130, 0]]
against = {{ part = "frame", line = [[-15, -56], [-130, -44]] }}
grips = [95]
force = 140
[[jaw]]
name = "nose"
on = "ram.nose"
against = "frame.anvil"
axis = 90
[stroke]
open = {{ gap = 10 }}
shut = {{ gap = 0 }}
[work]
need = [[2.5, 0], [0.8, 500], [0.0, 1200]]
[joints]
diameter = 6
material = "plate"
[materials.plate]
yield = 355
ultimate = 510
surface = "machined"
[sections.strut]
width = 12
thickness = 3
material = "plate"
[life]
strokes = 200000
{more}
"#
    )
}

fn line<'v>(said: &'v Value, subject: &str, check: &str) -> &'v Value {
    let places = said["life"]["places"].as_array().unwrap();
    let own = |line: &&Value| line["subject"] == subject && line["check"] == check;
    places.iter().find(own).unwrap_or_else(|| panic!("{said}"))
}

fn number(value: &Value, key: &str) -> f64 {
    value[key]
        .as_f64()
        .unwrap_or_else(|| panic!("{key}: {value}"))
}

/// The strut is pushed from nothing to its load and back: Se = 0.8643 · 0.85 · 255 MPa by hand, 1 / (s/2 / Sf + s/2 / 510),
/// Sf at 200 000 strokes on the line from 459 MPa.
#[test]
fn a_strut_that_is_pushed_again_and_again() {
    let bench = Bench::with(&press(""));
    let said = bench.run(&["loads", "tool.toml", "--json"]).json();
    let strut = line(&said, "strut", "gross section");
    let factors = said["factors"].as_array().unwrap();
    let own = |f: &&Value| f["subject"] == "strut" && f["check"] == "gross section";
    let stress = number(factors.iter().find(own).unwrap(), "value");
    assert_eq!(
        (number(strut, "most"), number(strut, "least")),
        (stress, 0.0)
    );
    let limit = 4.51 * 510f64.powf(-0.265) * 0.85 * 255.0;
    assert!((number(strut, "endurance") - limit).abs() < 1e-6);
    let along = (200_000f64.log10() - 3.0) / 3.0;
    let finite = 459.0 * (limit / 459.0).powf(along);
    let factor = 1.0 / (0.5 * stress / finite + 0.5 * stress / 510.0);
    assert!(
        (number(strut, "factor") - factor).abs() < 1e-9,
        "{strut} {factor}"
    );
}

/// A spring that pulls the ram shut while another opens the lever pulls the strut when the hand lets go: with the load
/// of the free body there as the least stress.
#[test]
fn a_strut_that_is_pulled_on_the_way_back() {
    let springs = "[[springs]]\nfrom = \"ram.nose\"\nto = \"frame.hook\"\nrate = 2\nfree = 10\nacts = \"pull\"\n\
                   [[springs]]\nfrom = \"lever.cup\"\nto = \"frame.seat\"\nrate = 20\nfree = 70\nacts = \"push\"\n";
    let bench = Bench::with(&press(springs));
    let said = bench.run(&["loads", "tool.toml", "--json"]).json();
    let strut = line(&said, "strut", "gross section");
    let least = number(strut, "least");
    assert!(least < 0.0, "{strut}");
    // Over the opening stroke with nothing in the jaw, the greatest pull of the strut over 12 · 3 mm².
    let mut most = 0.0f64;
    for gap in ["gap=0", "gap=5", "gap=10"] {
        let force = |hand: &str| {
            let args = [
                "loads",
                "tool.toml",
                "--opening",
                "--json",
                "--at",
                gap,
                "--hand-force",
                hand,
            ];
            let said = bench.run(&args).json();
            let case = &said["cases"][0];
            (
                number(case, "jaw_force"),
                number(&case["links"][0], "axial"),
            )
        };
        // Without friction both are linear in the hand's force: the pull where the jaw carries nothing, from two.
        let ((j0, a0), (j1, a1)) = (force("600"), force("900"));
        most = most.max(a0 - (a1 - a0) * j0 / (j1 - j0));
    }
    assert!(
        (-least - most / 36.0).abs() < 0.01 * most / 36.0,
        "{least} {}",
        most / 36.0
    );
}

/// A spring that pulls the jaws together and one that opens the lever pull the strut where the jaws have not come to the
/// work yet: closing there, with friction, is part of the cycle, and opening more so.
#[test]
fn a_strut_that_is_pulled_before_the_work_is_touched() {
    let springs = "[[springs]]\nfrom = \"ram.nose\"\nto = \"frame.hook\"\nrate = 2\nfree = 10\nacts = \"pull\"\n\
                   [[springs]]\nfrom = \"lever.cup\"\nto = \"frame.seat\"\nrate = 20\nfree = 70\nacts = \"push\"\n";
    let text = press(springs).replace("diameter = 6", "diameter = 6\nfriction = 0.1");
    let bench = Bench::with(&text);
    let said = bench.run(&["loads", "tool.toml", "--json"]).json();
    let least = -36.0 * number(line(&said, "strut", "gross section"), "least");
    let pull = |hand: f64| {
        let hand = hand.to_string();
        let args = [
            "loads",
            "tool.toml",
            "--json",
            "--at",
            "open",
            "--hand-force",
            &hand,
        ];
        let said = bench.run(&args).json();
        let case = &said["cases"][0];
        let force = case["jaw_force"].as_f64().unwrap_or(0.0);
        (force, case["links"][0]["axial"].as_f64())
    };
    // The least hand force that moves the empty jaw, by halving.
    let (mut low, mut high) = (0.0, 900.0);
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        match pull(middle).0 > 0.0 {
            true => high = middle,
            false => low = middle,
        }
    }
    let closing = pull(high).1.expect("a force");
    assert!(closing > 50.0, "{closing}");
    assert!(
        least >= closing - 0.01 && least < 1.2 * closing,
        "{least} {closing}"
    );
}

/// What breaks too soon stands in the first lines; what is missing is said.
#[test]
fn what_does_not_last_is_said_first() {
    let thin = press("").replace("width = 12\nthickness = 3", "width = 9\nthickness = 1");
    let bench = Bench::with(&thin);
    let out = bench.run(&["stroke", "tool.toml"]).out;
    let words = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("Does it last? NO: "), "{out}");
    assert!(words.contains("strokes"), "{out}");
    let said = bench.run(&["stroke", "tool.toml", "--json"]).json();
    assert!(!said["verdict"]["life"].as_array().unwrap().is_empty());
    let text = bench.run(&["loads", "tool.toml"]).out;
    assert!(
        text.contains("Life: 200 000 strokes wanted, Goodman"),
        "{text}"
    );
    let bare = Bench::with(&press("").replace("surface = \"machined\"\n", ""));
    let text = bare.run(&["loads", "tool.toml"]).out;
    assert!(
        text.contains("give `surface` in [materials.plate]"),
        "{text}"
    );
    let none = Bench::with(&press("").replace("[life]\nstrokes = 200000\n", ""));
    let said = none.run(&["loads", "tool.toml", "--json"]).json();
    assert!(said["life"].is_null());
    let done = bench.run(&["report", "tool.toml", "-o", "review.html"]);
    assert!(!done.err.contains("error"), "{}", done.err);
    let page = std::fs::read_to_string(bench.path("review.html")).unwrap();
    assert!(page.contains("Life: 200 000 strokes wanted"));
}

/// What is asked of the life can be set: ten times the strokes leave less, more parts that have to last too.
#[test]
fn strokes_and_reliability_have_addresses() {
    let bench = Bench::with(&press(""));
    let factor = |set: &[&str]| {
        let args = [&["loads", "tool.toml", "--json"], set].concat();
        let said = bench.run(&args).code(0).json();
        number(line(&said, "strut", "gross section"), "factor")
    };
    let drawn = factor(&[]);
    let more = factor(&["--set", "life.strokes=2000000"]);
    let surer = factor(&["--set", "life.reliability=99"]);
    assert!(more < drawn && surer < drawn, "{drawn} {more} {surer}");
    for (set, help) in [
        ("life.reliability=101", "from 50 to 99.99"),
        ("life.strokes=0", "above 0"),
    ] {
        let said = bench.run(&["loads", "tool.toml", "--set", set]);
        assert!(
            said.code == 2 && said.err.contains(help),
            "{set}: {}",
            said.err
        );
    }
}
