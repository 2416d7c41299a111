//! Adjusters from the command line.

use super::Bench;

fn lever() -> String {
    let text = include_str!("../adjusters.rs");
    let from = text.find("r#\"").expect("a file") + 3;
    let to = text.find("\"#;").expect("its end");
    text[from..to].to_owned() + "[tolerances]\n\"base.pad.y\" = 0.2\n"
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
        assert!(text.contains(said), "{said}:\n{text}");
    }
}

#[test]
fn an_adjuster_is_not_turned_beyond_its_range() {
    let bench = Bench::with(&lever());
    for (adjust, said) in [
        ("set-up=90", "its range is -80 to 80 deg"),
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
