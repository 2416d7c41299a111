//! What somebody meets who uses the program for the first time: copies of a file, inches, a picture,
//! a question put to a shell script.

use super::{Bench, SETTER};

const WORK: &str = "\n[work]\nneed = [[3, 0], [1, 300], [0.2, 1500]]\n";

/// The setter with work and this line in [hand].
fn limited(limit: &str) -> String {
    SETTER.replace("force = 150", &format!("force = 150\n{limit}")) + WORK
}

/// One number of `measure`.
fn number(bench: &Bench, args: &[&str]) -> f64 {
    let all = [&["measure", "tool.toml"], args].concat();
    let out = bench.run(&all).code(0).out;
    out.trim().parse().expect("a bare number")
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-7 * b.abs(), "{a} is not {b}");
}

#[test]
fn a_copy_and_its_original_are_distinct() {
    let bench = Bench::with(SETTER);
    bench.put(
        "longer.toml",
        SETTER.replace("length = 24", "length = 24.1"),
    );
    let files = ["tool.toml", "longer.toml"];
    let both = [&["compare"], &files[..], &["--grip", "60"]].concat();
    let table = bench.run(&both).code(0).out;
    for file in files {
        let rows = table.lines().filter(|l| l.starts_with(file)).count();
        assert!(rows > 0 && !table.contains("Test setter"), "{table}");
    }
    let review = [&["report"], &files[..], &["-o", "review.html"]].concat();
    let written = bench.run(&review).code(0).written;
    let page = String::from_utf8_lossy(&written["review.html"]).into_owned();
    assert!(page.contains("Test setter (longer.toml)"), "its heading");
    // Tools with names of their own keep them.
    bench.put("longer.toml", SETTER.replace("Test setter", "Another"));
    bench
        .run(&both)
        .code(0)
        .prints("Test setter")
        .prints("Another");
}

#[test]
fn why_a_variant_cannot_be_solved_is_said_once_for_all_grips() {
    let bench = Bench::with(SETTER);
    let vary = ["compare", "tool.toml", "--vary", "strut.length=20:24:4"];
    let table = bench.run(&vary).out;
    assert_eq!(table.matches("cannot be solved").count(), 1, "{table}");
}

/// Women of 60 to 64, right hand: 55.1 lbf, standard deviation 10.1 lbf (Mathiowetz et al. 1985).
#[test]
fn a_published_limit_is_reported_in_figures() {
    let bench = Bench::with(&limited("limit = \"norm-grip-w-60-64-p5\""));
    let limit = (55.1 - 1.645 * 10.1) * 4.448_221_615_260_5;
    let said = format!("Hand limit: {limit:.0} N, 5th percentile");
    bench.run(&["stroke", "tool.toml"]).code(0).prints(&said);
    // One that changes with the span: its ends, and what holds where the work is hardest.
    let by_span = limited("limit = [[40, 100], [120, 200]]");
    let bench = Bench::with(&by_span);
    // It stalls at that grip.
    let ended = bench.run(&["stroke", "tool.toml", "--grip", "60"]).code(1);
    let at = |place: &str| {
        let span = number(&bench, &["span", "--at", place, "--grip", "60"]);
        100.0 + (span - 40.0) * 100.0 / 80.0
    };
    let said = format!(
        "Hand limit: {:.0} to {:.0} N, depending on grip span",
        at("shut"),
        at("open")
    );
    let joined = ended.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(joined.contains(&said), "{said}: {joined}");
    assert!(joined.contains("mm, where the limit is 1"), "{joined}");
}

#[test]
fn the_share_of_the_hands_limit_is_a_measure() {
    let bench = Bench::with(&limited("limit = [[40, 100], [120, 200]]"));
    for place in ["open", "shut", "gap=0.7"] {
        let read = |measure| number(&bench, &[measure, "--at", place, "--grip", "90"]);
        let limit = 100.0 + (read("span") - 40.0) * 100.0 / 80.0;
        near(read("hand_share"), read("hand_force") / limit);
    }
    let peak = number(&bench, &["hand_share", "--at", "peak", "--grip", "90"]);
    let demand = |max: f64| {
        let text = limited("limit = [[40, 100], [120, 200]]");
        format!(
            "{text}[[demand]]\nmeasure = \"hand_share\"\nat = \"peak\"\ngrip = 90\nmax = {max}\n"
        )
    };
    for (max, met) in [(peak * 1.01, true), (peak * 0.99, false)] {
        // No hand can do it at either grip, whatever is demanded.
        let bench = Bench::with(&demand(max));
        let ended = bench.run(&["stroke", "tool.toml", "--json"]).code(1);
        assert!(ended.out.contains(&format!("\"met\": {met}")));
    }
    Bench::with(SETTER)
        .run(&["measure", "tool.toml", "hand_share", "--at", "peak"])
        .code(2)
        .says("[hand] limit");
}

#[test]
fn another_hand_needs_no_new_file() {
    let set = "norm-grip-w-65-69-p5";
    let bench = Bench::with(&limited(&format!("limit = \"{set}\"")));
    let share = ["hand_share", "--at", "peak", "--grip", "60"];
    let from_file = number(&bench, &share);
    bench.put("tool.toml", limited("limit = 500"));
    let typed = |limit| number(&bench, &[&share[..], &["--limit", limit]].concat());
    near(typed(set), from_file);
    near(typed("250 N"), 2.0 * number(&bench, &share));
    let refused = |limit: &str, help: &str| {
        let all = [&["measure", "tool.toml"], &share[..], &["--limit", limit]].concat();
        bench.run(&all).code(2).says(help);
    };
    refused("women", "names begin with");
    refused("women", "norm-grip-w-…");
    refused("norm-grip-w-60", "norm-grip-w-60-64-p5");
    refused("-3", "zero");
    refused("3 mm", "not a force");
    // The review says that it is not the file's.
    let review = ["report", "tool.toml", "--limit", set, "-o", "r.html"];
    let written = bench.run(&review).code(0).written;
    assert!(String::from_utf8_lossy(&written["r.html"]).contains(&format!("--limit {set}")));
}

/// At a limit that is the same at all spans, all that moves the force moves the share as much.
#[test]
fn the_share_has_the_stack_up_of_the_force() {
    let demand = |measure| {
        format!("[[demand]]\nmeasure = \"{measure}\"\nat = {{ gap = 0.7 }}\ngrip = 90\nmax = 900\n")
    };
    let text = limited("limit = 160") + &demand("hand_force") + &demand("hand_share");
    let bench = Bench::with(&(text + "[tolerances]\nclass = 0.02\n"));
    let run = ["tolerance", "tool.toml", "--samples", "200", "--json"];
    let out = bench.run(&run).code(0).out;
    let report: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    let of = |k: usize, what: &str| report["measures"][k][what].as_f64().expect("a number");
    for what in ["nominal", "worst_case", "root_sum_square", "mean"] {
        near(of(1, what), of(0, what) / 160.0);
    }
    // Percentiles stand in a row, each number below its own.
    let text = bench.run(&run[..4]).code(0).out;
    let lines: Vec<&str> = text.lines().collect();
    let row = lines
        .iter()
        .position(|l| l.contains("percentile "))
        .expect("a row");
    let heads: Vec<&str> = lines[row]
        .trim()
        .split("  ")
        .filter(|h| !h.is_empty())
        .collect();
    let numbers: Vec<f64> = (lines[row + 1].split_whitespace().skip(1))
        .map(|n| n.parse().expect("a number"))
        .collect();
    assert!(
        heads[2].trim() == "5 %" && heads.len() == numbers.len() + 1,
        "{text}"
    );
    assert!(numbers.is_sorted());
    let wanted = &report["measures"][0]["at_percentiles"];
    let off = wanted[1].as_f64().expect("a number") - numbers[1];
    assert!(off.abs() <= 0.051, "{text}");
}

#[test]
fn a_script_can_ask_where_the_peak_is() {
    let bench = Bench::with(&(SETTER.to_owned() + WORK));
    let peak = ["hand_force", "--at", "peak", "--grip", "60"];
    for what in ["gap", "handle"] {
        let place = number(&bench, &[&peak[..], &["--where", what]].concat());
        let there = format!("{what}={place}");
        let force = number(&bench, &["hand_force", "--at", &there, "--grip", "60"]);
        near(force, number(&bench, &peak));
    }
    let shut = [
        "measure",
        "tool.toml",
        "gap",
        "--at",
        "shut",
        "--where",
        "gap",
    ];
    bench.run(&shut).code(2).says("--at peak");
}

#[test]
fn a_spring_that_shuts_the_tool_is_reported() {
    let spring = "\n[[springs]]\nfrom = \"frame.anvil\"\nto = \"ram.nose\"\nrate = 2\n";
    let with = |more: &str| Bench::with(&format!("{SETTER}{spring}{more}\n"));
    let run = |bench: Bench| bench.run(&["stroke", "tool.toml"]).code(0).out;
    let said = "the springs alone close the tool from gap 9 to";
    let pulls = run(with("free = 0.1\nacts = \"pull\""));
    let joined = pulls.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(joined.contains(said), "{joined}");
    let pushes = run(with("free = 20\nacts = \"push\""));
    assert!(!pushes.contains("springs alone close"), "{pushes}");
}

#[test]
fn a_link_that_is_not_drawn_in_place_needs_a_sketch() {
    // The ram has its datum at the post, not at the frame's: knee and wrist are not where they
    // seem to be.
    let bare = SETTER.replace("[sketch]\nknee = [-6, -23]\nwrist = [0, -46]\n", "");
    let apart = bare.replace("heel = [0, 0], post = [-20, -50]", "heel = [0, 0]");
    let text = apart.replace(
        "[parts.ram]\npins = { post = [0, 0], wrist = [20, 2] }",
        "[parts.ram]\npins = { wrist = [0, 0] }",
    ) + "[[slots]]\npart = \"ram\"\npoint = \"wrist\"\non = \"frame\"\nthrough = [0, -40]\n\
         angle = 90\nkeyed = true\n";
    let far = text.replace("length = 24", "length = 30");
    let said = "the place of `strut` is a guess";
    let run = |text: &str| Bench::with(text).run(&["check", "tool.toml"]).err;
    assert!(run(&far).contains(said), "{}", run(&far));
    // 24.08 mm apart as drawn.
    assert!(!run(&text).contains(said), "{}", run(&text));
}

#[test]
fn pixels_are_not_taken_for_lengths_without_a_word() {
    let pixels = "[sketch]\nscale = { from = [0, 0], to = [100, 0], length = 10 }\n\
                  origin = \"heel\"\nheel = [500, 500]\nknee = [440, 730]\nwrist = [500, 960]\n";
    let good = SETTER.replace("[sketch]\nknee = [-6, -23]\nwrist = [0, -46]\n", pixels);
    let lengths = Bench::with(&good).run(&["check", "tool.toml"]).code(0);
    assert!(!lengths.err.contains("pixels"), "{}", lengths.err);
    let line = good.replace("[[-12, 2], [-125, -3]]", "[[380, 480], [-750, 530]]");
    let ended = Bench::with(&line).run(&["check", "tool.toml"]);
    assert!(
        ended.err.contains("not pixels of the picture"),
        "{}",
        ended.err
    );
}

#[test]
fn a_length_that_a_part_has_not_is_reported_in_figures() {
    // The ram's pins: (0, 0) and (20, 2).
    let apart = format!("{:.1} mm apart", 404f64.sqrt());
    let bench = Bench::with(SETTER);
    let set = ["stroke", "tool.toml", "--set", "ram.length=21"];
    bench.run(&set).code(2).says(&apart);
    let wrong = bench.run(&["stroke", "tool.toml", "--set", "lever.arm=21"]);
    assert!(!wrong.code(2).err.contains("apart"));
}

#[test]
fn who_works_in_inches_has_paper_in_inches() {
    let bench = Bench::with(SETTER);
    let draw = ["draw", "tool.toml", "--svg", "d.svg", "--scale", "fit"];
    let mm = bench.run(&draw).code(0);
    let inches = bench
        .run(&[&draw[..], &["--units", "in-lbf"]].concat())
        .code(0);
    let both = |e: &super::Ended| format!("{}{}", e.out, e.err);
    assert!(
        both(&mm).contains("prints on A4, landscape"),
        "{}",
        both(&mm)
    );
    // And the scale bar is measured with an inch rule.
    let run = ["draw", "tool.toml", "--svg", "-", "--units", "in-lbf"];
    let svg = bench.run(&run).code(0).out;
    let texts = svg
        .split('>')
        .filter_map(|piece| piece.split_once("</text"));
    let words: Vec<&str> = texts.map(|t| t.0).collect();
    let words = words.join(" ");
    assert!(words.contains("must measure 2 in on paper"), "{words}");
    assert!(
        both(&inches).contains("prints on Letter, landscape"),
        "{}",
        both(&inches)
    );
}
