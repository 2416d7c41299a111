//! Adjusters from the command line.

use super::Bench;

fn lever() -> String {
    crate::adjusters::LEVER.to_owned() + "[tolerances]\n\"base.pad.y\" = 0.2\n"
}

#[test]
fn setup_and_adjust_say_the_same() {
    let bench = Bench::with(&lever());
    let setup = bench.run(&["setup", "tool.toml", "--json"]).code(0).json();
    let notches = setup["adjusters"][0]["settings"]
        .as_array()
        .expect("notches");
    for (k, notch) in notches.iter().enumerate() {
        let adjust = format!("set-up=notch{}", k + 1);
        let read = bench
            .run(&[
                "measure",
                "tool.toml",
                "gap",
                "--at",
                "shut",
                "--adjust",
                &adjust,
            ])
            .code(0);
        let read: f64 = read.out.trim().parse().expect("a number");
        let gap = notch["gap"].as_f64().expect("a gap");
        assert!((read - gap).abs() < 1e-6, "{read} {gap}");
    }
    // The pad to ± 0.2 is the gap to ± 0.3.
    let worst = setup["adjusters"][0]["tolerance"]["worst"]
        .as_f64()
        .expect("a worst case");
    assert!((worst - 0.3).abs() < 1e-9, "{worst}");
    let text = bench.run(&["setup", "tool.toml"]).code(0).out;
    for said in [
        "13 notches: gap 2.80 to 3.20 mm",
        "one turn is 0.75 mm",
        "0.30 mm, is NOT covered",
        "0.30 mm, is covered",
    ] {
        let lines: Vec<&str> = text.split_whitespace().collect();
        assert!(lines.join(" ").contains(said), "{said}:\n{text}");
    }
}

#[test]
fn an_adjuster_is_not_turned_beyond_its_range() {
    let bench = Bench::with(&lever());
    for (adjust, said) in [
        ("set-up=90", "its range is -80 to 80 deg"),
        ("set-up=20", "the nearest notch is 13.333333 deg"),
        ("set-up=notch14", "notch1 to notch13"),
        ("set-up=notch0", "notch1 to notch13"),
        ("screw=notch1", "no notches"),
        ("screw=2", "its range is -1 to 1 mm"),
        ("screw=nan", "--adjust screw=nan"),
        ("scre=1", "did you mean `screw`?"),
        ("screw", "write name=setting"),
    ] {
        let wrong = bench
            .run(&["stroke", "tool.toml", "--adjust", adjust])
            .code(2);
        assert!(wrong.err.contains(said), "{adjust}: {}", wrong.err);
    }
    let none = Bench::with(super::SETTER)
        .run(&["setup", "tool.toml"])
        .code(2);
    assert!(none.err.contains("[[adjusters]]"), "{}", none.err);
}

#[test]
fn settings_are_numbers_of_the_tool_for_set_vary_and_tune() {
    let tuned = lever().replace("from      = -1", "from = -1\nnow = 0")
        + "[[tune]]\ndimension = \"adjusters.screw.now\"\nfrom = -1\nto = 1\n\
         [aim]\nmeasure = \"gap\"\nat = \"shut\"\nwant = \"least\"\n";
    let bench = Bench::with(&tuned);
    // With e_y = 0 the gap is 1.5 (2 + v).
    let read = |file: &str, more: &[&str]| -> f64 {
        let call = [&["measure", file, "gap", "--at", "shut"], more].concat();
        let read = bench.run(&call).code(0).out;
        read.trim().parse().expect("a number")
    };
    let set = read("tool.toml", &["--set", "adjusters.screw.now=-0.4"]);
    assert!((set - 2.4).abs() < 1e-9, "{set}");
    let vary = [
        "compare",
        "tool.toml",
        "--vary",
        "adjusters.screw.now=-1:1:1",
        "--measure",
        "gap@shut",
        "--json",
    ];
    let rows = bench.run(&vary).code(0).json();
    assert_eq!(rows["rows"].as_array().map(Vec::len), Some(3), "{rows}");
    let beyond = bench
        .run(&[
            "measure",
            "tool.toml",
            "gap",
            "--at",
            "shut",
            "--set",
            "adjusters.screw.now=2",
        ])
        .code(2);
    assert!(
        beyond.err.contains("its range is -1 to 1 mm"),
        "{}",
        beyond.err
    );
    // The new file states the setting and where the pad stands with it.
    bench.run(&["tune", "tool.toml", "-o", "new.toml"]).code(0);
    assert!((read("new.toml", &[]) - 1.5).abs() < 1e-6);
    let new = text(&bench, "new.toml");
    assert!(
        new.contains("now = -1") && new.contains("pad = [20, 1]"),
        "{new}"
    );
}

#[test]
fn the_chart_and_the_report_show_every_adjuster() {
    let bench = Bench::with(&lever());
    bench
        .run(&["setup", "tool.toml", "--svg", "setup.svg"])
        .code(0);
    bench
        .run(&["report", "tool.toml", "-o", "review.html"])
        .code(0);
    let [chart, page] = [text(&bench, "setup.svg"), text(&bench, "review.html")];
    for said in [
        "Gap at the end of the stroke, mm",
        "Ratio there",
        // Its axes show what the curves reach.
        "Axes are cut: they do not begin at zero.",
    ] {
        assert!(chart.contains(said), "{said}");
        assert!(page.contains(said), "{said}");
    }
    for adjuster in ["set-up", "screw"] {
        assert!(chart.contains(&format!("tool: {adjuster}")), "{adjuster}");
        // The page, which names the tool, has a line above the pictures of each.
        let caption = format!("<p class=\"soft lead\">{adjuster}: ");
        assert!(page.contains(&caption), "{adjuster}");
    }
    assert!(page.contains("Setting up") && page.contains("NOT covered"));
    let check = bench.run(&["check", "tool.toml"]).code(0).out;
    assert!(
        check.contains("adjuster set-up: pin heel in base, -80 to 80 deg, 13 notches, now 0"),
        "{check}"
    );
}

fn text(bench: &Bench, name: &str) -> String {
    std::fs::read_to_string(bench.path(name)).expect("a file")
}
