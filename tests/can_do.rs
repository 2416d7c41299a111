//! Whether a hand can do the job: the first thing that every command says, and ends with.

use crate::cli::Bench;
use crate::level::level;
use serde_json::Value;

/// A lever on one pin, by hand: at a grip g the hand needs F = W 40 cos(t) / g, with the nose at
/// 40 sin(t) above the anvil and W = 40 (5 - gap) N. Shut, F = 8000 / g: 80 N at 100 mm, 40 N at 200 mm.
fn lever(limit: &str, more: &str) -> String {
    let job = "[work]\nneed = [[5, 0], [0, 200]]\n[[demand]]\nmeasure = \"travel\"\nat = \"shut\"\nmax = 20\n";
    let hand = format!("force = 50\n{limit}");
    level(40.0, "", "[100, 200]", &hand, &format!("{job}{more}"))
}

fn bench(limit: &str) -> Bench {
    Bench::with(&lever(limit, ""))
}

/// All commands that judge a tool, as they end.
fn codes(bench: &Bench) -> Vec<i32> {
    let calls: [&[&str]; 4] = [
        &["stroke", "tool.toml"],
        &["check", "--demands", "tool.toml"],
        &["compare", "tool.toml"],
        &["report", "tool.toml", "-o", "page.html"],
    ];
    calls.iter().map(|args| bench.run(args).code).collect()
}

#[test]
fn a_hand_that_can_do_it_at_one_grip_of_two() {
    let bench = bench("limit = 60");
    assert_eq!(codes(&bench), [0; 4]);
    let said = bench.run(&["stroke", "tool.toml"]).out;
    let said = said.replace("\n  ", " ");
    assert!(
        said.contains("Can a hand do it? Yes, once: grip 200 mm (peak 40.0 N, limit 60.0 N). NO, it stalls: grip 100 mm at gap 1.25 mm (limit 60.0 N)."),
        "{said}"
    );
    let report = bench.run(&["stroke", "tool.toml", "--json"]).json();
    let hand = &report["verdict"]["hand"];
    let gap = hand[0]["stall_gap"].as_f64().unwrap();
    // The equation above at F = 60 N and g = 100 mm.
    let cos = (1.0 - (gap / 40.0_f64).powi(2)).sqrt();
    assert!(
        (40.0 * (5.0 - gap) * 40.0 * cos / 100.0 - 60.0).abs() < 1e-6,
        "{gap}"
    );
    assert_eq!(hand[0]["can"], false);
    assert_eq!(hand[1]["can"], true);
    let peak = hand[1]["peak"].as_f64().unwrap();
    assert!((peak - 40.0).abs() < 1e-9, "{peak}");
    // Only what can be used is recommended.
    let compared = bench.run(&["compare", "tool.toml", "--json"]).json();
    assert_eq!(compared["rows"][0]["can"], false);
    for column in compared["columns"].as_array().unwrap() {
        assert!(
            [Value::from(1), Value::Null].contains(&column["best"]),
            "{column}"
        );
    }
    let table = bench.run(&["compare", "tool.toml"]).out;
    assert!(table.contains("STALLS") && table.contains("yes"), "{table}");
}

/// Every demand is met, and no hand can do it.
#[test]
fn a_tool_that_stalls_at_every_grip_ends_with_1() {
    let bench = bench("limit = 30");
    assert_eq!(codes(&bench), [1; 4]);
    let first = |args: &[&str]| {
        bench
            .run(args)
            .out
            .lines()
            .take(4)
            .collect::<Vec<_>>()
            .join(" ")
    };
    for args in [&["stroke", "tool.toml"][..], &["check", "tool.toml"]] {
        assert!(first(args).contains("NO, it STALLS"), "{}", first(args));
    }
    let page = std::fs::read_to_string(bench.path("page.html")).unwrap();
    assert!(page.contains("NO, it STALLS") && page.contains(r#"class="verdict bad""#));
    let compared = bench.run(&["compare", "tool.toml", "--json"]).json();
    for column in compared["columns"].as_array().unwrap() {
        assert_eq!(column["best"], Value::Null, "{column}");
    }
    // Asked for the one grip that can do it with more strength, the others do not matter.
    assert_eq!(bench.run(&["stroke", "tool.toml", "--limit", "45"]).code, 0);
    let one = ["stroke", "tool.toml", "--limit", "45", "--grip", "100"];
    assert_eq!(bench.run(&one).code, 1);
}

#[test]
fn what_was_not_judged_is_said_first() {
    let said = bench("")
        .run(&["stroke", "tool.toml"])
        .out
        .replace("\n  ", " ");
    assert!(
        said.contains("Can a hand do it? Not checked: the file does not say what a hand may give"),
        "{said}"
    );
    assert!(
        said.contains("Assumed, since the file is silent: no friction."),
        "{said}"
    );
    let checked = bench("limit = 60").run(&["check", "tool.toml"]).out;
    assert!(
        checked.contains("Demands: 1 not read here; ask for them with --demands."),
        "{checked}"
    );
}

/// The same tools are sampled whoever asks: the counts are those of the study.
#[test]
fn as_made_is_what_the_study_says() {
    let more = "[[demand]]\nmeasure = \"ratio\"\nat = \"shut\"\ngrip = 100\nmin = 2.5\n[tolerances]\n\"lever.nose.x\" = 1.0\n";
    let bench = Bench::with(&lever("limit = 60", more));
    let stroke = bench.run(&["stroke", "tool.toml", "--json"]).json();
    let made = &stroke["verdict"]["made"];
    let study = bench
        .run(&["tolerance", "tool.toml", "--samples", "512", "--json"])
        .json();
    assert_eq!(made["met"], study["all_met"]);
    assert_eq!(made["samples"], 512);
    assert_eq!(made["cause"], "ratio at shut, grip 100");
    // By hand: the ratio is 100 over the nose's distance, so every tool longer than 40 mm misses 2.5: half
    // of them, within four standard deviations (11.3 each) of 256.
    let met = made["met"].as_f64().unwrap();
    assert!((met - 256.0).abs() < 46.0, "{met}");
    let checked = bench
        .run(&["check", "--demands", "tool.toml", "--json"])
        .json();
    assert_eq!(checked["verdict"]["made"], *made);
}

/// With nothing demanded but a strength for which nothing is given, nothing is known of the made tools, and
/// that is said; and a pin that has neither diameter nor material is named once.
#[test]
fn what_no_sample_tells_is_said() {
    let demand = "[[demand]]\nmeasure = \"safety\"\nmin = 1\n";
    let rest = "[tolerances]\n\"lever.nose.x\" = 1.0\n";
    let bench = Bench::with(&level(40.0, "", "[100]", "", &format!("{demand}{rest}")));
    let stroke = bench.run(&["stroke", "tool.toml"]).out;
    let said = stroke.split_whitespace().collect::<Vec<_>>().join(" ");
    let made = "As made: not checked; none of the demands is read off samples.";
    assert!(said.contains(made), "{said}");
    let verdict = &bench.run(&["stroke", "tool.toml", "--json"]).json()["verdict"];
    let names = verdict["strength_not_judged"].as_array().unwrap();
    assert_eq!(
        names.iter().filter(|name| *name == "pin heel").count(),
        1,
        "{names:?}"
    );
}

/// Work that lies wholly between gaps that the jaws never come to asks nothing of the hand, and says nothing of it.
#[test]
fn work_that_the_jaws_never_come_to_is_not_judged() {
    let job = "[work]\nneed = [[35, 0], [30, 200], [25, 0]]\n";
    let hand = "force = 50\nlimit = 60";
    let text = |job: &str| level(40.0, "", "[100, 200]", hand, job);
    let bench = Bench::with(&text(job));
    let said = bench.run(&["stroke", "tool.toml"]).out.replace("\n  ", " ");
    assert!(
        said.contains("Can a hand do it? Not checked, the jaws never come to the work: grip 100 mm; grip 200 mm."),
        "{said}"
    );
    let report = bench.run(&["stroke", "tool.toml", "--json"]).json();
    let first = &report["verdict"]["hand"][0];
    assert_eq!(
        (&first["can"], &first["meets_work"]),
        (&Value::Null, &false.into())
    );
    let compared = bench.run(&["compare", "tool.toml", "--json"]).json();
    assert_eq!(compared["rows"][0]["can"], Value::Null);
    // Nor is it work for a whole shift, or less than a hand may give, because it asks for nothing.
    let more = "[job]\nstrokes = 10\nheld = 1\n[[demand]]\nmeasure = \"hand_force\"\nat = \"peak\"\nmax = 60\n";
    let often = Bench::with(&text(&format!("{job}{more}")));
    let said = often.run(&["stroke", "tool.toml"]).code(1).out;
    let said = said.replace("\n  ", " ");
    assert!(
        said.contains("And 10 times a minute, 1 s each, 8 h a day? Not checked, the jaws never come to the work: grip 100 mm; grip 200 mm."),
        "{said}"
    );
    assert!(said.contains("As drawn: 0 of 2 demands met"), "{said}");
    // A dip of the same kind within the stroke is met, though the force is none at both ends.
    let met = Bench::with(&text("[work]\nneed = [[3, 0], [2.9, 5], [2.8, 0]]\n"));
    let said = met.run(&["stroke", "tool.toml"]).out;
    assert!(said.contains("Can a hand do it? Yes"), "{said}");
}

/// A stop that is met before the work is done: by hand, the pad of the lever, 20 mm from the pin on the side of the
/// nose, comes to a post 1 mm above the level where the nose, twice as far out, is 2 mm above it: there the work takes
/// 40 (5 - 2) = 120 of 200 N. Little force is no good news there.
#[test]
fn a_stop_that_keeps_the_tool_from_its_work() {
    let stop = "[[stops]]\nname = \"post\"\non = \"lever.pad\"\nagainst = \"base.post\"\naxis = 90\nends = \"shut\"\n";
    let text = lever("limit = 60", stop)
        .replace(
            "marks = { nose = [40, 0] }",
            "marks = { nose = [40, 0], pad = [20, 0] }",
        )
        .replace(
            "marks = { anvil = [40, 0] }",
            "marks = { anvil = [40, 0], post = [20, 1] }",
        );
    let bench = Bench::with(&text);
    let said = bench
        .run(&["stroke", "tool.toml"])
        .code(1)
        .out
        .replace("\n  ", " ");
    assert!(
        said.contains("Can a hand do it? NO, the stroke ends before the work is done: grip 100 mm at gap 2.00 mm, where the work takes 120 of 200 N; grip 200 mm at gap 2.00 mm"),
        "{said}"
    );
    assert_eq!(codes(&bench), [1; 4]);
    let compared = bench.run(&["compare", "tool.toml"]).out;
    assert!(
        compared.contains("NO") && !compared.contains("STALLS"),
        "{compared}"
    );
    // Nor for repeated use, for people, for a demand on the force.
    let asked = format!(
        "{text}\n[job]\nstrokes = \"2/min\"\nheld = 1\npopulation = \"w-20-24\"\n[[demand]]\nmeasure = \"hand_force\"\nat = \"peak\"\ngrip = 100\nmax = 1000\n"
    );
    let bench = Bench::with(&asked);
    let said = bench.run(&["stroke", "tool.toml"]).code(1).out;
    let said = said.replace("\n  ", " ");
    assert_eq!(
        said.matches("NO, the stroke ends before the work is done: grip 100 mm")
            .count(),
        2,
        "{said}"
    );
    assert!(said.contains("0 of 2 demands met"), "{said}");
    let read = bench.run(&["measure", "tool.toml", "hand_force", "--at", "peak"]);
    assert!(
        read.err.contains("the stroke ends before the work is done"),
        "{}",
        read.err
    );
    // A stop where the work ends has let it be done.
    let done = text.replace("[[5, 0], [0, 200]]", "[[5, 0], [2.001, 200]]");
    let said = Bench::with(&done).run(&["stroke", "tool.toml"]).out;
    assert!(said.contains("Can a hand do it? Yes, once"), "{said}");
}

/// Without a limit the strength of the group stands for it, and what is asked again and again counts: `compare` says and
/// ends like the rest. By hand the work takes 8000 / g at shut for 200 N: 80 N of 270 at 100 mm, and ten times that.
#[test]
fn strength_and_repeated_use_count_in_every_command() {
    let job = |strokes: &str, held: f64| {
        format!("[job]\nstrokes = \"{strokes}\"\nheld = {held}\npopulation = \"w-20-24\"\n")
    };
    let strong = lever("", &job("1/min", 1.0)).replace("[0, 200]", "[0, 2000]");
    let bench = Bench::with(&strong);
    assert_eq!(codes(&bench), [1; 4]);
    let rows = bench.run(&["compare", "tool.toml", "--csv", "-"]).out;
    assert!(
        rows.lines().next().unwrap().contains(",hand_can,as_often,"),
        "{rows}"
    );
    assert_eq!(rows.matches(",no,above,").count(), 2, "{rows}");
    let table = bench.run(&["compare", "tool.toml"]).out;
    assert!(table.contains("NO") && !table.contains("STALLS"), "{table}");

    let often = Bench::with(&lever("", &job("20/min", 2.5)));
    assert_eq!(codes(&often), [1; 4]);
    let compared = often.run(&["compare", "tool.toml", "--json"]).json();
    let row = &compared["rows"][0];
    assert_eq!(
        (&row["can"], &row["again"]),
        (&Value::Bool(true), &"above".into())
    );

    let seldom = Bench::with(&lever("", &job("1/h", 1.0)));
    assert_eq!(codes(&seldom), [0; 4]);
    let compared = seldom.run(&["compare", "tool.toml", "--json"]).json();
    assert_eq!(compared["rows"][1]["again"], "within");
}
