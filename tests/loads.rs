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

const DEMOS: [&str; 9] = [
    "wire-crimp-pliers",
    "eyelet-toggle",
    "eyelet-toggle-b",
    "pin-plunger",
    "excluder-cutter",
    "sleeve-crimper",
    "ferrule-crimper",
    "seal-pliers",
    "snap-press",
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

/// A row for each factor, each formula once below them, and the numbers of every factor beneath its formula.
#[test]
fn factors_are_a_table_and_formulas_stand_once() {
    let report = json(&["loads", "demo-data/eyelet-toggle.toml", "--json"]);
    let done = run(&["loads", "demo-data/eyelet-toggle.toml"]);
    let text = String::from_utf8(done.stdout).unwrap();
    assert!(!text.contains("from memory") && text.lines().all(|l| l.chars().count() <= 80));
    let (table, formulas) = text.split_once("Formulas, with the numbers").unwrap();
    let flat = formulas.split_whitespace().collect::<Vec<_>>().join(" ");
    let factors = report["factors"].as_array().unwrap();
    let mut rows = table.lines().filter(|l| l.contains("  ["));
    for factor in factors {
        let row = rows.next().unwrap();
        let value = format!("  {:.2}  ", factor["factor"].as_f64().unwrap());
        assert!(row.contains(&value), "{row}: {value}");
        assert!(row.contains(factor["subject"].as_str().unwrap()), "{row}");
        let formula = factor["formula"].as_str().unwrap();
        let formula = formula.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(
            flat.matches(&format!("] {formula} [")).count(),
            1,
            "{formula}"
        );
        let [symbol, value, _] = &factor["inputs"][0].as_array().unwrap()[..] else {
            panic!("symbol, value, unit")
        };
        assert!(
            flat.contains(&format!("{} = ", symbol.as_str().unwrap())),
            "{value}"
        );
    }
    assert!(rows.next().is_none(), "{table}");
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
        (
            ["--part", "rum"],
            2,
            "did you mean `ram`? parts: frame, lever, strut, ram",
        ),
        (["--at", "gap=90"], 3, "gap = 90 mm is not on the stroke"),
        (["--at", "middle"], 2, "write open, shut"),
        (["--at", "peak"], 2, "need a measure"),
        (
            ["--csv", "demo-data/eyelet-toggle.toml"],
            2,
            "which is read; name another output file",
        ),
    ] {
        let done = run(&["loads", "demo-data/eyelet-toggle.toml", args[0], args[1]]);
        let text = String::from_utf8(done.stderr).unwrap();
        assert_eq!(done.status.code(), Some(code), "{text}");
        assert!(text.contains(phrase), "{text}");
        assert!(done.stdout.is_empty());
    }
    let both = [
        "loads",
        "demo-data/eyelet-toggle.toml",
        "--json",
        "--csv",
        "-",
    ];
    assert_eq!(run(&both).status.code(), Some(2));
}

#[test]
fn the_worst_case_is_shown_with_the_hand_force_that_made_it() {
    let worst = json(&["loads", "demo-data/eyelet-toggle.toml", "--json"]);
    let (case, least) = (&worst["cases"][0], &worst["factors"][0]);
    for key in ["handle", "gap", "grip", "hand_force", "case"] {
        assert_eq!(case[key], least[key], "{key}");
    }
    assert_eq!(case["case"], "at the hand's limit (L)");
    let args = ["loads", "demo-data/eyelet-toggle.toml", "--json"];
    let typed = json(&[&args[..], &["--hand-force", "80"]].concat());
    assert_eq!(typed["cases"][0]["hand_force"], 80.0);
    assert_eq!(typed["cases"][0]["case"], "at the stated hand force (H)");
}

/// Slot and edge forces are the slot's share of the sheet, told another way.
#[test]
fn a_keyed_slider_says_what_its_guide_carries() {
    let report = json(&["loads", "demo-data/pin-plunger.toml", "--json"]);
    let slot = &report["cases"][0]["slots"][0];
    let number = |v: &Value| v.as_f64().unwrap();
    assert_eq!(
        (&slot["on"], &slot["by"]),
        (&"plunger".into(), &"frame".into())
    );
    let (normal, friction) = (number(&slot["normal"]), number(&slot["friction"]));
    let (far, near) = (number(&slot["edges"][0]), number(&slot["edges"][1]));
    assert!((far + near - normal).abs() < 1e-9 * normal.abs());
    // Guide length 24 mm, friction 0.1 in the file.
    let moment = number(&slot["key_moment"]);
    assert!(((far - near) * 12.0 - moment).abs() < 1e-9 * moment.abs());
    let rubbed = 0.1 * normal.abs().max(2.0 * moment.abs() / 24.0);
    assert!(
        (friction.abs() - rubbed).abs() < 1e-9 * rubbed,
        "{friction} is not {rubbed}"
    );
    let sheets = report["cases"][0]["sheets"].as_array().unwrap();
    let plunger = sheets.iter().find(|s| s["part"] == "plunger").unwrap();
    let forces = plunger["forces"].as_array().unwrap();
    let whole = forces
        .iter()
        .find(|f| f["what"] == "slot of wrist")
        .unwrap();
    let size = number(&whole["force"][0]).hypot(number(&whole["force"][1]));
    assert!((normal.hypot(friction) - size).abs() < 1e-9 * size);
}

#[test]
fn sheets_as_csv_are_those_of_the_json() {
    let args = [
        "loads",
        "demo-data/excluder-cutter.toml",
        "--part",
        "upper-jaw",
    ];
    let done = run(&[&args[..], &["--csv", "-"]].concat());
    assert_eq!(done.status.code(), Some(0));
    let report = json(&[&args[..], &["--json"]].concat());
    let sheets = report["cases"][0]["sheets"].as_array().unwrap();
    assert_eq!(sheets.len(), 1);
    let forces = sheets[0]["forces"].as_array().unwrap();
    let mut reader = csv::Reader::from_reader(done.stdout.as_slice());
    let headers = reader.headers().unwrap().clone();
    let column = |name: &str| headers.iter().position(|h| h == name).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(|r| r.unwrap()).collect();
    assert_eq!(rows.len(), forces.len());
    for (row, force) in rows.iter().zip(forces) {
        for (name, value) in [
            ("x_in", &force["at"][0]),
            ("Fx_lbf", &force["force"][0]),
            ("Fy_lbf", &force["force"][1]),
            ("moment_in_lbf", &force["moment"]),
        ] {
            let cell: f64 = row[column(name)].parse().unwrap();
            assert!((cell - value.as_f64().unwrap()).abs() < 1e-6, "{name}");
        }
        assert_eq!(&row[column("part")], "upper-jaw");
    }
}
