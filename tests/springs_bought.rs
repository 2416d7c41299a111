//! Springs of wire: what a tool does with them, what is said of them, what can be bought.

use crate::cli::Bench;
use crate::level::level;
use serde_json::Value;

/// A lever on one pin, level at shut, with a spring of wire from 20 mm below its nose, 40 mm from the heel: at shut it is
/// 20 mm long. Wire 1, coils 10, 10 active: G d^4 / (8 D^3 n) = 79300 / 80000 N/mm.
fn lever(spring: &str) -> String {
    let head = "[[springs]]\nfrom = \"base.seat\"\nto = \"lever.nose\"\nfree = 32\n";
    level(
        40.0,
        ", seat = [40, -20]",
        "[100]",
        "",
        &format!("{head}{spring}"),
    )
}

const WIRE: &str = "wire = 1\ncoil = 10\nturns = 10\nmade-of = \"music wire\"\nends = \"ground\"\n";
const RATE: f64 = 79_300.0 / 80_000.0;

fn near(value: &Value, hand: f64) {
    let value = value.as_f64().unwrap();
    assert!(
        (value - hand).abs() < 1e-6 * hand.abs().max(1.0),
        "{value} {hand}"
    );
}

#[test]
fn the_rate_follows_from_the_wire() {
    let bench = Bench::with(&lever(WIRE));
    let said = bench.run(&["check", "tool.toml", "--json"]).json();
    near(&said["springs"][0]["pull"][1], -12.0 * RATE);
    let spring = &said["wound"][0];
    near(&spring["rate"], RATE);
    near(&spring["outside"], 11.0);
    near(&spring["loads"][1], 12.0 * RATE);
    near(&spring["solid"], 12.0);
    near(&spring["shortest"], 20.0);
    // By hand: K_W = 39 / 36 + 0.0615, 8 F D / (pi d^3); 293.8 ksi of music wire of 1 mm between the rows .038 and .040 of the standard.
    let stress = (39.0 / 36.0 + 0.0615) * 80.0 * 12.0 * RATE / std::f64::consts::PI;
    let inches = 1.0 / 25.4;
    let strength = (318.0 + (315.0 - 318.0) * (inches - 0.038) / 0.002) * 6.894_757;
    near(&spring["checks"][0]["stress"], stress);
    near(&spring["checks"][0]["factor"], 0.45 * strength / stress);
    assert_eq!(spring["faults"].as_array().unwrap().len(), 0);
    // The same as the tool whose rate is stated.
    let stated = Bench::with(&lever(&format!("rate = {RATE}\nacts = \"push\"\n")));
    let other = stated.run(&["check", "tool.toml", "--json"]).json();
    assert_eq!(said["opens"], other["opens"]);
    assert!(other["wound"].is_null());
}

/// Every number has an address: it can be set, varied and measured with.
#[test]
fn numbers_of_the_spring_can_be_changed() {
    let bench = Bench::with(&lever(WIRE));
    let rate = |set: &str| {
        let said = bench
            .run(&["check", "tool.toml", "--json", "--set", set])
            .json();
        said["wound"][0]["rate"].as_f64().unwrap()
    };
    let is = |set: &str, hand: f64| assert!((rate(set) - hand).abs() < 1e-9, "{set}");
    is("springs.1.wire=0.9", RATE * 0.9f64.powi(4));
    is("springs.1.coil=11", RATE / 1.1f64.powi(3));
    is("springs.1.turns=8", RATE * 10.0 / 8.0);
    let done = bench.run(&["check", "tool.toml", "--set", "springs.1.coil=1.1"]);
    assert_eq!(done.code, 2, "{}", done.err);
    assert!(done.err.contains("cannot be wound"), "{}", done.err);
    let done = bench.run(&["check", "tool.toml", "--set", "springs.1.rate=2"]);
    assert_eq!(done.code, 2, "{}", done.err);
    let done = bench.run(&[
        "compare",
        "tool.toml",
        "--vary",
        "springs.1.wire=0.8:1:0.1",
        "--json",
    ]);
    assert_eq!(done.code, 0, "{}", done.err);
}

/// What cannot be stands in the first lines of every answer.
#[test]
fn what_cannot_be_is_said_first() {
    for (spring, says) in [
        // 23 active coils are solid at 25 mm, and the stroke asks for 20.
        (
            "wire = 1\ncoil = 10\nturns = 23\nmade-of = \"music wire\"\nends = \"ground\"\n",
            "goes solid: the stroke makes it 5 mm",
        ),
        (
            "wire = 1.5\ncoil = 6.5\nturns = 5\nmade-of = \"stainless 302\"\nends = \"ground\"\n",
            "is overstressed",
        ),
        (
            "wire = 1\ncoil = 10\nturns = 10\nmade-of = \"music wire\"\nends = \"ground\"\nguide = { pin = 9.5 }\n",
            "does not fit its guide (0.5 mm",
        ),
        (
            "wire = 1\ncoil = 4\nturns = 10\nmade-of = \"music wire\"\nends = \"ground\"\nultimate = 9000\n",
            "buckles below",
        ),
        (
            "wire = 1\ncoil = 7.8\nturns = 10\nmade-of = \"hard-drawn\"\nends = \"ground\"\ncycles = 1e6\nguide = { bore = 9.5 }\n",
            "does not last 1000000 times",
        ),
    ] {
        let bench = Bench::with(&lever(spring));
        for job in [&["stroke", "tool.toml"][..], &["check", "tool.toml"]] {
            let out = bench.run(job).out;
            let first: Vec<&str> = out.lines().take(8).collect();
            let first = first
                .join(" ")
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ");
            assert!(
                first.contains("Do the springs hold? NO: spring 1") && first.contains(says),
                "{says}\n{out}"
            );
        }
        let said = bench.run(&["stroke", "tool.toml", "--json"]).json();
        let springs = &said["verdict"]["springs"];
        assert!(springs[0].as_str().unwrap().contains(says), "{springs}");
    }
    let good = Bench::with(&lever(WIRE));
    let said = good.run(&["stroke", "tool.toml", "--json"]).json();
    assert!(said["verdict"]["springs"].is_null());
}

#[test]
fn loads_and_reports_say_it_with_the_source() {
    let bench = Bench::with(&lever(&format!(
        "{WIRE}name = \"return\"\ncycles = 200000\n"
    )));
    let text = bench.run(&["loads", "tool.toml"]).out;
    assert!(text.contains("Spring return: music wire 1 mm"), "{text}");
    assert!(
        text.contains("45 % of") && text.contains("Shigley"),
        "{text}"
    );
    assert!(text.contains("200000 times"), "{text}");
    let said = bench.run(&["loads", "tool.toml", "--json"]).json();
    assert_eq!(said["springs"][0]["checks"].as_array().unwrap().len(), 2);
    let done = bench.run(&["report", "tool.toml", "-o", "review.html"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let page = std::fs::read_to_string(bench.path("review.html")).unwrap();
    assert!(page.contains("<h3>Springs</h3>") && page.contains("Spring return"));
}

/// Jindal, *Machine Design*, example 8-9, as a spring about a pin: 1.5 wire, 16 outside, 4.25 turns, legs 20 and 20, E 200
/// GPa, on a mandrel of 11.5. Its 497.25 N mm at .327 and .0225 turns are printed; the tool turns it so far from slack.
#[test]
fn a_published_spring_about_a_pin() {
    let ultimate = 2211.0 / 1.5f64.powf(0.145);
    let spring = format!(
        "[[springs]]\npin = \"heel\"\nwire = 1.5\noutside = 16\nturns = 4.25\nlegs = [20, 20]\nmandrel = 11.5\n\
         made-of = \"music wire\"\nmodulus = 200000\nultimate = {ultimate}\nfree = {}\n",
        360.0 * (0.326_86 + 0.022_51)
    );
    let bench = Bench::with(&level(40.0, "", "[100]", "", &spring));
    let said = bench.run(&["check", "tool.toml", "--json"]).json();
    let found = &said["wound"][0];
    let value = |key: &str| found[key].as_f64().unwrap();
    assert!(
        (found["loads"][1].as_f64().unwrap() - 497.25).abs() < 0.05,
        "{found}"
    );
    assert!((value("clearance") - 0.23).abs() < 0.005, "{found}");
    assert!(
        (found["checks"][0]["factor"].as_f64().unwrap() - 1.0).abs() < 1e-4,
        "{found}"
    );
}

/// In inches the wire is as thick, the force as great.
#[test]
fn both_systems_of_units_say_the_same() {
    let bench = Bench::with(&lever(WIRE));
    let said = bench
        .run(&["check", "tool.toml", "--json", "--units", "in-lbf"])
        .json();
    let spring = &said["wound"][0];
    near(&spring["wire"], 1.0 / 25.4);
    near(&spring["loads"][1], 12.0 * RATE / 4.448_221_615_260_5);
    near(&spring["rate"], RATE / 4.448_221_615_260_5 * 25.4);
    near(&spring["solid"], 12.0 / 25.4);
    assert_eq!(spring["stress_unit"], "psi");
}

/// Each spring proposed is put into the tool, and does what was promised.
#[test]
fn springs_to_buy_do_what_is_promised() {
    let bench = Bench::with(&lever("rate = 1.2\nacts = \"push\"\n"));
    let done = bench.run(&["springs", "tool.toml", "--cycles", "100000", "--json"]);
    assert_eq!(done.code, 0, "{}", done.err);
    let said = done.json();
    let choices = said["springs"][0]["choices"].as_array().unwrap();
    assert!(choices.len() >= 3, "{said}");
    for choice in choices {
        let spring = format!(
            "wire = {}\ncoil = {}\nturns = {}\nmade-of = \"music wire\"\nends = \"ground\"\ncycles = 100000\n",
            choice["wire"], choice["coil"], choice["turns"]
        );
        let tool = Bench::with(&lever(&spring));
        let found = tool.run(&["check", "tool.toml", "--json"]).json();
        let found = &found["wound"][0];
        near(&found["rate"], 1.2);
        assert_eq!(found["faults"].as_array().unwrap().len(), 0, "{found}");
        for (ours, theirs) in [0, 1].map(|k| (&found["checks"][k], &choice["checks"][k])) {
            near(&ours["factor"], theirs["factor"].as_f64().unwrap());
        }
    }
    let text = bench.run(&["springs", "tool.toml", "--outside", "9"]).out;
    assert!(
        text.contains("music wire, ground") && text.contains("9.00"),
        "{text}"
    );
    let none = bench.run(&["springs", "tool.toml", "--outside", "2"]);
    assert_eq!(none.code, 1, "{}", none.out);
    assert!(none.out.contains("Nothing to buy"), "{}", none.out);
    let bad = bench.run(&["springs", "tool.toml", "--outside", "2 N"]);
    assert_eq!(bad.code, 2, "{}", bad.out);
    assert!(bad.err.contains("--outside"), "{}", bad.err);
}

/// What `check` finds can be asked for by itself, and demanded.
#[test]
fn factors_and_stresses_are_measures() {
    let demands = "[[demand]]\nmeasure = \"spring_safety\"\nmin = 1.2\n[[demand]]\nmeasure = \"spring_stress\"\nmax = 100\n";
    let bench = Bench::with(&lever(&format!("{WIRE}{demands}")));
    let said = bench.run(&["check", "tool.toml", "--json"]).json();
    let spring = &said["wound"][0];
    for (measure, value) in [
        ("spring_safety", &spring["checks"][0]["factor"]),
        ("spring_stress", &spring["stress"]),
    ] {
        let printed = bench.run(&["measure", "tool.toml", measure]).out;
        let printed: f64 = printed.trim().parse().unwrap();
        assert!(
            (printed - value.as_f64().unwrap()).abs() < 1e-6 * printed,
            "{measure} {printed} {value}"
        );
    }
    let done = bench.run(&["stroke", "tool.toml"]);
    assert_eq!(done.code, 1, "{}", done.out);
    assert!(done.out.contains("1 of 2 demands met"), "{}", done.out);
    let none = Bench::with(&lever("rate = 1.5\n"));
    let done = none.run(&["measure", "tool.toml", "spring_safety"]);
    assert!(
        done.code == 3 && done.err.contains("no spring of wire"),
        "{}",
        done.err
    );
}
