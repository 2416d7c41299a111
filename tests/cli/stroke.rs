//! `stroke`: the options, and one answer in every form.

use super::json::{self, Stroke};
use super::{Bench, SETTER, edited};
use std::collections::BTreeMap;

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b}");
}

/// The rows of `--csv -`, by column.
fn rows(text: &str, more: &[&str]) -> Vec<BTreeMap<String, String>> {
    let args: Vec<&str> = ["stroke", "tool.toml", "--csv", "-"]
        .iter()
        .chain(more)
        .copied()
        .collect();
    let ended = Bench::with(text).run(&args);
    let mut reader = csv::Reader::from_reader(ended.out.as_bytes());
    let rows = reader.deserialize().map(|row| row.expect("a row"));
    rows.collect()
}

#[test]
fn the_table_has_the_numbers_of_the_json() {
    let answer = json::stroke(SETTER, &[]);
    let ended = Bench::with(SETTER)
        .run(&["stroke", "tool.toml", "--all"])
        .code(0);
    let lines: Vec<&str> = ended
        .out
        .lines()
        .filter(|l| l.contains('|'))
        .skip(4)
        .collect();
    assert_eq!(lines.len(), answer.positions.len());
    for (line, position) in lines.iter().zip(&answer.positions) {
        let shown: Vec<f64> = line
            .replace('|', " ")
            .split_whitespace()
            .map(|n| n.parse().expect(line))
            .collect();
        let mut wanted = vec![
            (position.handle, 0.005),
            (position.travel, 0.005),
            (position.jaws["nose"].gap, 0.005),
        ];
        for grip in &position.grips {
            wanted.push((grip.span.expect("a span"), 0.005));
            wanted.push((grip.jaws["nose"].ratio.expect("a ratio"), 0.005));
            wanted.push((grip.jaws["nose"].jaw_force.expect("a force"), 0.5));
        }
        assert_eq!(shown.len(), wanted.len(), "{line}");
        for (shown, (value, half)) in shown.iter().zip(wanted) {
            near(*shown, value, half * 1.000_001);
        }
    }
    for line in ended.out.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn csv_and_json_agree() {
    let text = format!(
        "{SETTER}\n[[jaw]]\nname = \"heelside\"\non = \"ram.wrist\"\nagainst = \"frame.anvil\"\naxis = 90\n"
    );
    for more in [
        &[][..],
        &["--units", "in-lbf", "--grip", "40,\"2 in\",100"],
        &["--opening", "--hand-force", "33 lbf"],
    ] {
        let more: Vec<String> = more.iter().map(|s| s.replace('"', "")).collect();
        let more: Vec<&str> = more.iter().map(String::as_str).collect();
        let answer = json::stroke(&text, &more);
        let (length, force) = (&answer.units.length, &answer.units.force);
        let mut rows = rows(&text, &more).into_iter();
        for position in &answer.positions {
            for grip in &position.grips {
                for (k, jaw) in answer.jaws.iter().enumerate() {
                    let row = rows.next().expect("a row");
                    let number = |column: &str| row[column].parse::<f64>().expect(column);
                    let same = |column: &str, value: f64| near(number(column), value, 0.5001e-6);
                    assert_eq!(&row["jaw"], jaw);
                    same("handle_deg", position.handle);
                    same("travel_deg", position.travel);
                    same(&format!("gap_{length}"), position.jaws[jaw].gap);
                    same(&format!("grip_{length}"), grip.at);
                    same(&format!("span_{length}"), grip.span.expect("a span"));
                    same("ratio", grip.jaws[jaw].ratio.expect("a ratio"));
                    same(
                        &format!("jaw_force_{force}"),
                        grip.jaws[jaw].jaw_force.expect("a force"),
                    );
                    for (pin, load) in &grip.pin_loads {
                        let column = format!("pin_{pin}_{force}");
                        match k {
                            0 => same(&column, load.expect("a load")),
                            _ => assert_eq!(row[&column], ""),
                        }
                    }
                }
            }
        }
        assert!(rows.next().is_none());
    }
}

/// The same stroke in other units: lengths and forces scaled, all else as it was.
fn scaled(a: &Stroke, b: &Stroke, length: f64, force: f64) {
    assert_eq!(a.positions.len(), b.positions.len());
    for (p, q) in a.positions.iter().zip(&b.positions) {
        near(p.handle, q.handle, 1e-9);
        near(p.jaws["nose"].gap, q.jaws["nose"].gap * length, 1e-9);
        near(p.pins["knee"].x, q.pins["knee"].x * length, 1e-9);
        for (g, h) in p.grips.iter().zip(&q.grips) {
            let (f, k) = (&g.jaws["nose"], &h.jaws["nose"]);
            near(g.at, h.at * length, 1e-9);
            near(
                g.span.expect("a span"),
                h.span.expect("a span") * length,
                1e-9,
            );
            near(f.ratio.expect("a ratio"), k.ratio.expect("a ratio"), 1e-9);
            near(
                f.jaw_force.expect("a force"),
                k.jaw_force.expect("a force") * force,
                1e-6,
            );
            near(
                g.pin_loads["knee"].expect("a load"),
                h.pin_loads["knee"].expect("a load") * force,
                1e-6,
            );
        }
    }
}

#[test]
fn other_units_are_the_same_stroke() {
    let metric = json::stroke(SETTER, &[]);
    let inch = json::stroke(SETTER, &["--units", "in-lbf"]);
    assert_eq!(
        (inch.units.length.as_str(), inch.units.force.as_str()),
        ("in", "lbf")
    );
    // 1 in = 25.4 mm and 1 lbf = 4.4482216152605 N, both exact by definition (NIST SP 811, app. B).
    scaled(&metric, &inch, 25.4, 4.448_221_615_260_5);
    assert_eq!(metric.sha256, inch.sha256);
    let back = json::stroke(SETTER, &["--units", "mm-N"]);
    scaled(&metric, &back, 1.0, 1.0);
}

#[test]
fn set_grip_force_and_steps_do_what_editing_the_file_does() {
    let options = json::stroke(
        SETTER,
        &[
            "--set",
            "strut.length=24.2",
            "--set",
            "ram.nose.y=-0.2 in",
            "--grip",
            "70,3 in",
            "--hand-force",
            "90",
            "--steps",
            "10",
        ],
    );
    let text = edited(
        SETTER,
        &[
            ("length = 24", "length = 24.2"),
            ("nose = [40, -5]", "nose = [40, \"-0.2 in\"]"),
            ("grips = [60, 90]", "grips = [70, \"3 in\"]"),
            ("force = 150", "force = 90"),
            ("steps = 24", "steps = 10"),
        ],
    );
    let edited = json::stroke(&text, &[]);
    scaled(&options, &edited, 1.0, 1.0);
    assert_eq!(options.hand_force, 90.0);
    assert_eq!((options.positions.len(), options.grips.len()), (11, 2));
    assert_ne!(options.sha256, edited.sha256);
}

#[test]
fn friction_helps_the_work_on_the_way_back() {
    let text = format!("{SETTER}\n[joints]\ndiameter = 5\nfriction = 0.2\n");
    let (there, back) = (
        json::stroke(&text, &[]),
        json::stroke(&text, &["--opening"]),
    );
    assert_eq!(
        (there.direction.as_str(), back.direction.as_str()),
        ("closing", "opening")
    );
    for (p, q) in there.positions.iter().zip(&back.positions) {
        let (p, q) = (&p.grips[0].jaws["nose"], &q.grips[0].jaws["nose"]);
        let ideal = 150.0 * p.ratio.expect("a ratio");
        let (closing, opening) = (p.jaw_force.expect("a force"), q.jaw_force.expect("a force"));
        assert!(
            closing < ideal && ideal < opening,
            "{closing} {ideal} {opening}"
        );
        assert!(p.efficiency.expect("a number") < 1.0);
    }
}

/// Work out over work in, by hand: without springs the hand force times the ratio is what the jaw would
/// give, or hold back, without friction.
#[test]
fn efficiency_is_work_out_over_work_in_both_ways() {
    let text = format!("{SETTER}\n[joints]\ndiameter = 5\nfriction = 0.2\n");
    let bench = Bench::with(&text);
    let read = |measure: &str, more: &[&str]| -> f64 {
        let call = ["measure", "tool.toml", measure, "--at", "gap=1", "--quiet"];
        let ended = bench.run(&[&call[..], more].concat()).code(0);
        ended.out.trim().parse().expect("a number")
    };
    let ideal = 150.0 * read("ratio", &[]);
    let (closing, opening) = (read("efficiency", &[]), read("efficiency", &["--opening"]));
    near(closing, read("jaw_force", &[]) / ideal, 1e-6);
    near(opening, ideal / read("jaw_force", &["--opening"]), 1e-6);
    assert!(closing < 1.0 && opening < 1.0, "{closing} {opening}");
}

/// A tool that is let open holds more than it gives: nobody is to take it for a stronger one.
#[test]
fn an_opening_stroke_is_reported_as_one() {
    let friction = "\n[joints]\ndiameter = 5\nfriction = 0.2\n";
    let work = "\n[work]\nneed = [[2, 0], [0, 900]]\n";
    let bench = Bench::with(&format!("{SETTER}{friction}{work}"));
    let said = |more: &[&str]| -> String {
        let call = ["stroke", "tool.toml", "--limit", "20"];
        let ended = bench.run(&[&call[..], more].concat());
        let words: Vec<&str> = ended.out.split_whitespace().collect();
        words.join(" ")
    };
    let picture = said(&["--opening", "--svg", "-"]);
    for phrase in [
        "Jaw force held back, N, with 150 N on the handles",
        "Hand force at which the tool starts to open, N",
        "\u{2190} opening",
        "the work pushes back",
        "over the limit at",
        "Opening: friction helps the hand to hold.",
    ] {
        assert!(picture.contains(phrase), "{phrase}: {picture}");
    }
    let words = said(&["--opening"]);
    for phrase in [
        "jaw @150: jaw force held back, with 150 N on the handles",
        "hand holds: hand force at which the tool starts to open",
        "to hold against the work takes up to",
        "; TOO MUCH: the 20.0 N limit is reached at gap",
        "Opening: friction helps the hand to hold.",
    ] {
        assert!(words.contains(phrase), "{phrase}: {words}");
    }
    for phrase in [
        "N hand force",
        "peak hand force",
        "STALLS",
        "the work needs",
    ] {
        assert!(
            !picture.contains(phrase) && !words.contains(phrase),
            "{phrase}"
        );
    }
    // Closing, and without friction, nothing holds back.
    assert!(!said(&[]).contains("pening"));
    let smooth = Bench::with(SETTER).run(&["stroke", "tool.toml", "--opening"]);
    assert!(!smooth.out.contains("friction helps"), "{}", smooth.out);
}

/// Without work, one thin line tells what the best grip holds at the hand's limit, opening as closing.
#[test]
fn the_line_at_the_limit_is_there_both_ways() {
    let text = format!("{SETTER}\n[joints]\ndiameter = 5\nfriction = 0.2\n");
    let bench = Bench::with(&text);
    for way in [&[][..], &["--opening"]] {
        let call = ["stroke", "tool.toml", "--limit", "200", "--svg", "-"];
        let svg = bench.run(&[&call[..], way].concat()).code(0).out;
        assert!(svg.contains("mm at the limit</text>"), "{way:?}");
    }
}

#[test]
fn quiet_says_nothing_that_was_not_asked_for() {
    let bench = Bench::with(SETTER);
    let ended = bench
        .run(&["stroke", "tool.toml", "--quiet"])
        .code(0)
        .leaves_nothing();
    assert_eq!(ended.err, "");
    bench
        .run(&["stroke", "tool.toml", "--quiet", "--json"])
        .code(0)
        .prints("\"format\": 1");
    bench
        .run(&["stroke", "tool.toml", "--quiet", "--grip", "900"])
        .code(2)
        .says("off the end");
}

#[test]
fn the_chart_is_a_drawing_with_words_for_those_who_cannot_see_it() {
    let ended = Bench::with(SETTER)
        .run(&["stroke", "tool.toml", "--svg", "out.svg"])
        .code(0);
    let text = String::from_utf8(ended.written["out.svg"].clone()).expect("UTF-8");
    let chart = roxmltree::Document::parse(&text).expect("XML");
    for name in ["title", "desc"] {
        let said = chart
            .descendants()
            .find(|n| n.has_tag_name(("http://www.w3.org/2000/svg", name)));
        assert!(
            said.and_then(|n| n.text())
                .is_some_and(|t| !t.trim().is_empty()),
            "{name}"
        );
    }
    let words: Vec<&str> = chart.descendants().filter_map(|n| n.text()).collect();
    for wanted in ["60 mm", "90 mm"] {
        assert!(
            words.iter().any(|w| w.contains(wanted)),
            "no {wanted} in {words:?}"
        );
    }
}

#[test]
fn both_handles_may_move_and_jaws_may_be_several() {
    let one = include_str!("../../src/cli/starters/compound.toml");
    let jaw = one.split("[[jaw]]").nth(1).expect("a jaw");
    let own: Vec<&str> = jaw
        .lines()
        .filter(|l| ["on ", "against "].iter().any(|k| l.starts_with(k)))
        .collect();
    let text = format!(
        "{one}\n[[jaw]]\nname = \"second\"\n{}\nclosed = 0.1\n",
        own.join("\n")
    );
    let text = text.as_str();
    let answer = json::stroke(text, &[]);
    assert!(answer.jaws.len() > 1);
    for position in &answer.positions {
        assert!(
            answer
                .jaws
                .iter()
                .all(|jaw| position.jaws.contains_key(jaw))
        );
    }
    let ended = Bench::with(text).run(&["stroke", "tool.toml"]);
    for jaw in &answer.jaws {
        assert!(ended.out.contains(&format!("Jaw {jaw}")), "{}", ended.out);
    }
}

/// A ram pushed along by an arm so near to square to its guide that friction holds it.
#[test]
fn a_tool_that_locks_itself_is_status_3_and_says_where() {
    let text = "[tool]\nunits = \"mm-N\"\n\
        [parts.frame]\nfixed = true\npins = { heel = [0, 0] }\nmarks = { bore = [50, 0], anvil = [60, 0] }\n\
        [parts.lever]\npins = { heel = [0, 0], knee = [0, 40] }\n\
        [parts.link]\npins = { knee = [0, 40], wrist = [20, 0] }\n\
        [parts.ram]\npins = { wrist = [20, 0] }\nmarks = { nose = [30, 0] }\n\
        [[slots]]\npart = \"ram\"\npoint = \"wrist\"\non = \"frame\"\nthrough = \"bore\"\nangle = 0\nkeyed = true\nfriction = 0.9\n\
        [hand]\npart = \"lever\"\nline = [[0, 40], [0, 140]]\ngrips = [50]\n\
        [[jaw]]\non = \"ram.nose\"\nagainst = \"frame.anvil\"\naxis = 180\n\
        [stroke]\nopen = { gap = 30 }\nshut = { gap = 22 }\n";
    let bench = Bench::with(text);
    let ended = bench.run(&["stroke", "tool.toml"]).code(3);
    assert!(
        ended
            .out
            .contains("LOCKS ITSELF: jaw at grip 50 mm, at the positions from gap"),
        "{}\n{}",
        ended.out,
        ended.err
    );
    let easy = Bench::with(&text.replace("friction = 0.9", "friction = 0"));
    easy.run(&["stroke", "tool.toml"]).code(0);
}

/// The span of a target is that at the file's first grip, wherever the tool is held for a run.
#[test]
fn the_stroke_does_not_move_with_the_grip() {
    let text = edited(SETTER, &[("open = { gap = 9 }", "open = { span = 72 }")]);
    let travel = |more: &[&str]| {
        let answer = json::stroke(&text, more);
        answer.positions.last().expect("a position").travel
    };
    let own = travel(&[]);
    assert!((travel(&["--grip", "75"]) - own).abs() < 1e-9);
    assert!((travel(&["--grip", "60,75"]) - own).abs() < 1e-9);
}
