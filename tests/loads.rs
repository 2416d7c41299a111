//! `loads`: free-body sheets that close, factors, and what cannot be asked.

use serde_json::Value;
use std::process::{Command, Output};

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(args)
        .output()
        .unwrap()
}

fn json(args: &[&str]) -> Value {
    let done = run(args);
    assert_eq!(
        done.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    serde_json::from_slice(&done.stdout).unwrap()
}

const DEMOS: [&str; 5] = [
    "wire-crimp-pliers",
    "eyelet-toggle",
    "eyelet-toggle-b",
    "pin-plunger",
    "excluder-cutter",
];

/// The sums are made anew here from the forces and places printed.
#[test]
fn every_moving_part_of_every_demo_is_in_balance() {
    for demo in DEMOS {
        let file = format!("demo-data/{demo}.toml");
        let report = json(&["loads", &file, "--at", "open,shut", "--json"]);
        let cases = report["cases"].as_array().unwrap();
        assert!(cases.len() >= 2);
        for case in cases {
            let mut moving = 0;
            for sheet in case["sheets"].as_array().unwrap() {
                let forces = sheet["forces"].as_array().unwrap();
                let number = |v: &Value| v.as_f64().unwrap();
                let (mut sums, mut size, mut reach) = ([0.0; 3], 0.0_f64, 0.0_f64);
                let about = [number(&sheet["about"][1]), number(&sheet["about"][2])];
                for f in forces {
                    let (x, y) = (
                        number(&f["at"][0]) - about[0],
                        number(&f["at"][1]) - about[1],
                    );
                    let (fx, fy) = (number(&f["force"][0]), number(&f["force"][1]));
                    sums[0] += fx;
                    sums[1] += fy;
                    sums[2] += x * fy - y * fx + number(&f["couple"]);
                    size = size.max(fx.hypot(fy));
                    reach = reach.max(x.hypot(y));
                }
                if sheet["fixed"] == Value::Bool(true) {
                    continue;
                }
                moving += 1;
                assert!(size > 0.0, "{demo}: {} carries nothing", sheet["part"]);
                assert!(
                    sums[0].abs().max(sums[1].abs()) < 1e-9 * size,
                    "{demo} {}",
                    sheet["part"]
                );
                assert!(
                    sums[2].abs() < 1e-9 * size * reach.max(1.0),
                    "{demo} {}",
                    sheet["part"]
                );
            }
            assert!(moving >= 1);
        }
    }
}

#[test]
fn factors_come_least_first_with_formula_source_and_numbers() {
    let report = json(&["loads", "demo-data/eyelet-toggle.toml", "--json"]);
    let factors = report["factors"].as_array().unwrap();
    assert!(factors.len() > 5);
    let values: Vec<f64> = factors
        .iter()
        .map(|f| f["factor"].as_f64().unwrap())
        .collect();
    assert!(values.windows(2).all(|w| w[0] <= w[1]), "{values:?}");
    for f in factors {
        let (value, allowable) = (
            f["value"].as_f64().unwrap(),
            f["allowable"].as_f64().unwrap(),
        );
        assert!((allowable / value / f["factor"].as_f64().unwrap() - 1.0).abs() < 1e-9);
        assert!(
            !f["source"].as_str().unwrap().is_empty()
                && !f["inputs"].as_array().unwrap().is_empty()
        );
    }
    // The same least factor as the measure gives.
    let done = run(&["measure", "demo-data/eyelet-toggle.toml", "safety"]);
    let measured: f64 = String::from_utf8(done.stdout)
        .unwrap()
        .trim()
        .parse()
        .unwrap();
    assert!((measured - values[0]).abs() < 1e-8);
}

#[test]
fn one_part_alone_and_its_cautions() {
    let done = run(&[
        "loads",
        "demo-data/eyelet-toggle.toml",
        "--at",
        "gap=0.5",
        "--grip",
        "75",
        "--part",
        "ram",
    ]);
    let text = String::from_utf8(done.stdout).unwrap();
    assert!(text.contains("Free body: ram") && !text.contains("Free body: lever"));
    assert!(text.contains("Caution:") && text.contains("competent engineer"));
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
}

#[test]
fn what_cannot_be_asked_is_said() {
    for (args, code, phrase) in [
        (["--part", "rum"], 2, "parts: frame, lever, strut, ram"),
        (["--at", "gap=90"], 3, "gap = 90 mm is not on the stroke"),
        (["--at", "middle"], 2, "write open, shut"),
        (["--at", "peak"], 3, "need a measure"),
    ] {
        let done = run(&["loads", "demo-data/eyelet-toggle.toml", args[0], args[1]]);
        let text = String::from_utf8(done.stderr).unwrap();
        assert_eq!(done.status.code(), Some(code), "{text}");
        assert!(text.contains(phrase), "{text}");
        assert!(done.stdout.is_empty());
    }
}
