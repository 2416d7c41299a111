//! One tool, one verdict: every command is asked about the same file, and each number and each
//! verdict that two of them share must be the same.

mod said;
mod texts;

use crate::cli::Bench;
use said::{Said, name};
use serde_json::Value;
use std::path::Path;
use texts::of_texts;

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

/// A demand of a report in JSON, as it is named here.
fn named(demand: &Value) -> String {
    let measure = demand["measure"].as_str().unwrap();
    name(measure, demand["at"].as_str(), demand["grip"].as_f64())
}

/// Asks every command about `tool.toml`; how many numbers and verdicts were shared.
fn ask_all(bench: &Bench) -> usize {
    let run = |args: &[&str]| bench.run(args);
    let stroke = run(&["stroke", "tool.toml", "--json"]);
    let code = stroke.code;
    if code > 1 {
        // Who cannot solve it says so, whatever the command.
        for command in ["loads", "compare", "measure", "draw", "report"] {
            let mut args = vec![command, "tool.toml"];
            match command {
                "measure" => args.extend(["safety"]),
                "report" => args.extend(["-o", "page.html"]),
                _ => {}
            }
            assert_eq!(run(&args).code, code, "{command}");
        }
        return 1;
    }
    let mut said = Said::default();
    let stroke = stroke.json();
    of_stroke(&mut said, &stroke);
    let grips: Vec<f64> = list(&stroke["grips"])
        .iter()
        .filter_map(Value::as_f64)
        .collect();
    let demands = list(&stroke["demands"]);
    let jaw = stroke["jaws"][0].as_str().unwrap();

    let check = run(&["check", "--demands", "--json", "tool.toml"]);
    assert_eq!(check.code, code, "check");
    let check = check.json();
    assert_eq!(list(&check["demands"]).len(), demands.len());
    for demand in list(&check["demands"]) {
        of_demand(&mut said, "check", demand);
    }

    of_measure(&mut said, bench, demands, &grips);
    of_compare(&mut said, bench, demands, &grips, code);
    of_loads(&mut said, bench);
    of_tolerance(&mut said, bench, demands, code);
    of_tune(&mut said, bench);
    of_texts(&mut said, bench, jaw, code);
    said.shared
}

fn of_demand(said: &mut Said, who: &str, demand: &Value) {
    let name = named(demand);
    said.number(who, &name, demand["value"].as_f64());
    said.verdict(who, &name, demand["met"].as_bool().unwrap());
}

fn of_stroke(said: &mut Said, stroke: &Value) {
    for demand in list(&stroke["demands"]) {
        of_demand(said, "stroke", demand);
    }
    let positions = list(&stroke["positions"]);
    let jaw = stroke["jaws"][0].as_str().unwrap();
    for (at, position) in [
        ("open", positions.first().unwrap()),
        ("shut", positions.last().unwrap()),
    ] {
        let gap = position["jaws"][jaw]["gap"].as_f64();
        said.number("stroke", &name("gap", Some(at), None), gap);
        for grip in list(&position["grips"]) {
            let held = grip["at"].as_f64();
            let mut one = |measure: &str, value: &Value| {
                if !value.is_null() {
                    said.number("stroke", &name(measure, Some(at), held), value.as_f64());
                }
            };
            one("span", &grip["span"]);
            for measure in ["ratio", "jaw_force", "hand_force", "efficiency"] {
                one(measure, &grip["jaws"][jaw][measure]);
            }
        }
    }
}

/// A demand as arguments of `measure`, read at the grip that it names.
fn asked(demand: &Value) -> (Vec<String>, Option<f64>) {
    let name = demand["measure"].as_str().unwrap();
    // Under the work at another jaw than the first.
    let (measure, jaw) = match name.split_once(", jaw ") {
        Some((measure, jaw)) => (measure, Some(jaw)),
        None => (name, None),
    };
    let mut args = vec![measure.to_owned()];
    args.extend(
        jaw.into_iter()
            .flat_map(|jaw| ["--jaw".to_owned(), jaw.to_owned()]),
    );
    if let Some(at) = demand["at"].as_str() {
        args.extend(["--at".to_owned(), at.to_owned()]);
    }
    let grip = demand["grip"].as_f64();
    if let Some(grip) = grip {
        args.extend(["--grip".to_owned(), grip.to_string()]);
    }
    (args, grip)
}

fn of_measure(said: &mut Said, bench: &Bench, demands: &[Value], grips: &[f64]) {
    let mut calls: Vec<(String, Vec<String>)> = demands
        .iter()
        .map(|demand| (named(demand), asked(demand).0))
        .collect();
    calls.push(("safety".to_owned(), vec!["safety".to_owned()]));
    for at in ["open", "shut"] {
        let args = ["gap", "--at", at].map(str::to_owned).to_vec();
        calls.push((name("gap", Some(at), None), args));
        for grip in grips {
            for measure in ["span", "ratio", "jaw_force", "hand_force", "efficiency"] {
                let own = grip.to_string();
                let args = [measure, "--at", at, "--grip", &own].map(str::to_owned);
                calls.push((name(measure, Some(at), Some(*grip)), args.to_vec()));
            }
        }
    }
    for grip in grips {
        let own = grip.to_string();
        let args = ["hand_force", "--at", "peak", "--grip", &own].map(str::to_owned);
        calls.push((name("hand_force", Some("peak"), Some(*grip)), args.to_vec()));
    }
    for (name, args) in calls {
        let mut all = vec!["measure", "tool.toml", "--quiet"];
        all.extend(args.iter().map(String::as_str));
        let ended = bench.run(&all);
        if ended.code == 0 {
            said.number("measure", &name, ended.out.trim().parse().ok());
        } else if said.met.contains_key(&name) {
            said.number("measure", &name, None);
        }
    }
}

fn of_compare(said: &mut Said, bench: &Bench, demands: &[Value], grips: &[f64], code: i32) {
    let mut args = vec![
        "compare".to_owned(),
        "tool.toml".to_owned(),
        "--json".to_owned(),
    ];
    // A column is read at every grip of the tool, which a demand on all of it together is not.
    let mut columns: Vec<(String, Option<String>, bool)> = vec![("safety".to_owned(), None, false)];
    for (measure, at) in [("gap", "shut"), ("ratio", "shut"), ("jaw_force", "shut")] {
        columns.push((measure.to_owned(), Some(at.to_owned()), measure != "gap"));
    }
    for demand in demands {
        let grip = demand["grip"].as_f64();
        let measure = demand["measure"].as_str().unwrap();
        // Nor is one under the work at another jaw than the row's.
        if measure.starts_with("safety") && grip.is_some() || measure.contains(", jaw ") {
            continue;
        }
        let at = demand["at"].as_str().map(str::to_owned);
        columns.push((measure.to_owned(), at, grip.is_some()));
    }
    for (measure, at, _) in &columns {
        args.push("--measure".to_owned());
        args.push(match at {
            Some(at) => format!("{measure}@{at}"),
            None => measure.clone(),
        });
    }
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    let ended = bench.run(&args);
    assert_eq!(ended.code, code, "compare");
    let report = ended.json();
    for row in list(&report["rows"]) {
        let grip = row["grip"].as_f64();
        for ((measure, at, by_grip), value) in columns.iter().zip(list(&row["values"])) {
            let name = name(measure, at.as_deref(), grip.filter(|_| *by_grip));
            said.number("compare", &name, value.as_f64());
        }
        // Demands of other grips than the row's count if these were named for them.
        let total: usize = row["demands"].as_u64().map_or(0, |n| n as usize);
        let met = row["met"].as_u64().map_or(0, |n| n as usize);
        let here = |d: &&Value| d["grip"].as_f64().is_none_or(|g| Some(g) == grip);
        let all = demands.iter().filter(here).count();
        let missed = |d: &&Value| d["met"] == false;
        assert!(total >= all, "{total} of {all}");
        let row_missed = total - met;
        assert!(row_missed >= demands.iter().filter(here).filter(missed).count());
        assert!(row_missed <= demands.iter().filter(missed).count());
    }
    assert_eq!(list(&report["rows"]).len(), grips.len());
}

fn of_loads(said: &mut Said, bench: &Bench) {
    let report = bench.run(&["loads", "tool.toml", "--json"]).json();
    let factors = list(&report["factors"]);
    let least = factors.first().and_then(|f| f["factor"].as_f64());
    said.number("loads", "safety", least);
    let mut seen = Vec::new();
    for factor in factors {
        let subject = factor["subject"].as_str().unwrap();
        if !seen.contains(&subject) {
            seen.push(subject);
            let name = format!("safety.{subject}");
            said.number("loads", &name, factor["factor"].as_f64());
        }
    }
    for at in ["open", "shut"] {
        let ended = bench.run(&["loads", "tool.toml", "--at", at, "--json"]);
        if ended.code != 0 {
            continue;
        }
        for case in list(&ended.json()["cases"]) {
            let grip = case["grip"].as_f64();
            said.number("loads", &name("gap", Some(at), None), case["gap"].as_f64());
            for measure in ["jaw_force", "span"] {
                if let Some(value) = case[measure].as_f64() {
                    said.number("loads", &name(measure, Some(at), grip), Some(value));
                }
            }
        }
    }
}

fn of_tolerance(said: &mut Said, bench: &Bench, demands: &[Value], code: i32) {
    let ended = bench.run(&["tolerance", "tool.toml", "--samples", "50", "--json"]);
    if ended.err.contains("has no [tolerances]") {
        return;
    }
    assert_eq!(ended.code, code, "tolerance: {}", ended.err);
    let report = ended.json();
    let measures = list(&report["measures"]);
    let read: Vec<&Value> = measures.iter().chain(list(&report["left_out"])).collect();
    for one in &read {
        let name = one["name"].as_str().unwrap();
        said.number("tolerance", name, one["nominal"].as_f64());
        if let Some(met) = one["nominal_met"].as_bool() {
            said.verdict("tolerance", name, met);
        }
    }
    // The yield is the share of all these samples.
    for demand in demands.iter().filter(|demand| demand["measure"] != "yield") {
        let name = named(demand);
        assert!(
            read.iter().any(|one| one["name"] == name.as_str()),
            "{name}"
        );
    }
}

fn of_tune(said: &mut Said, bench: &Bench) {
    // One dimension is enough, and takes a second less.
    let mut text = std::fs::read_to_string(bench.path("tool.toml")).unwrap();
    if text.contains("measure = \"yield\"") {
        // A yield is that of hundreds of tools at every point: a short way to look is enough.
        let wide = "from = 23.1\nto   = 23.5\n";
        assert!(text.contains(wide), "the range of the tool with a yield");
        text = text.replace(wide, "from = 23.18\nto   = 23.22\n");
    }
    let mut tables = text.splitn(3, "\n[[tune]]");
    if let (Some(before), Some(first), Some(others)) = (tables.next(), tables.next(), tables.next())
    {
        let (_, aim) = others.split_once("[aim]").unwrap();
        bench.put("one.toml", format!("{before}\n[[tune]]{first}\n[aim]{aim}"));
    } else {
        bench.put("one.toml", &text);
    }
    let ended = bench.run(&["tune", "one.toml", "-o", "tuned.toml", "--json", "--force"]);
    if ended.err.contains("there is nothing to tune") {
        return;
    }
    let report = ended.json();
    for demand in list(&report["demands"]) {
        let name = named(demand);
        said.number("tune", &name, demand["before"].as_f64());
        said.verdict("tune", &name, demand["met"][0].as_bool().unwrap());
    }
    let aim = &report["aim"];
    let aim_name = name(
        aim["name"].as_str().unwrap(),
        report["aim_at"].as_str(),
        report["aim_grip"].as_f64(),
    );
    said.number("tune", &aim_name, aim["before"].as_f64());
    // What it promises of the new file is what the new file gives.
    let stroke = bench.run(&["stroke", "tuned.toml", "--json"]);
    let (code, stroke) = (stroke.code, stroke.json());
    assert_eq!(ended.code, code);
    let met = list(&stroke["demands"])
        .iter()
        .all(|demand| demand["met"] == true);
    let hand = list(&stroke["verdict"]["hand"]);
    // At some grip the work in no jaw stalls the tool.
    let stalls = |grip: &Value| {
        let mut here = hand.iter().filter(|hand| hand["grip"] == *grip);
        here.any(|hand| hand["can"] == false)
    };
    let able = hand.is_empty() || hand.iter().any(|hand| !stalls(&hand["grip"]));
    assert_eq!(code, i32::from(!met || !able));
    let mut new = Said::default();
    of_stroke(&mut new, &stroke);
    for demand in list(&report["demands"]) {
        let name = named(demand);
        new.number("tune", &name, demand["after"].as_f64());
        new.verdict("tune", &name, demand["met"][1].as_bool().unwrap());
    }
}

fn bench_of(text: &str, folder: &Path) -> Bench {
    let bench = Bench::with(text);
    for file in std::fs::read_dir(folder).unwrap() {
        let path = file.unwrap().path();
        if path.extension().is_some_and(|e| e == "csv") {
            let name = path.file_name().unwrap().to_str().unwrap();
            bench.put(name, std::fs::read(&path).unwrap());
        }
    }
    bench
}

fn here(path: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// Every tool file of the demo and of the tests, each a test of its own, so that they run side by side.
macro_rules! one_verdict_on {
    ($($name:ident: $path:literal,)*) => {
        const FILES: &[&str] = &[$($path),*];

        $(#[test]
        fn $name() {
            one_verdict($path);
        })*
    };
}

one_verdict_on! {
    on_the_setter: "tests/cli/setter.toml",
    on_the_eyelet_toggle: "demo-data/eyelet-toggle.toml",
    on_the_other_eyelet_toggle: "demo-data/eyelet-toggle-b.toml",
    on_the_excluder_cutter: "demo-data/excluder-cutter.toml",
    on_the_pin_plunger: "demo-data/pin-plunger.toml",
    on_the_ferrule_crimper: "demo-data/ferrule-crimper.toml",
    on_the_sleeve_crimper: "demo-data/sleeve-crimper.toml",
    on_the_wire_crimp_pliers: "demo-data/wire-crimp-pliers.toml",
    on_the_seal_pliers: "demo-data/seal-pliers.toml",
    on_the_snap_press: "demo-data/snap-press.toml",
    on_everything: "tests/files/everything.toml",
    on_the_ring_spreader: "tests/files/ring-spreader.toml",
    on_the_stepped_press: "tests/files/stepped-press.toml",
    on_three_nests: "tests/files/three-nests.toml",
}

#[test]
fn no_file_is_left_out() {
    for folder in ["demo-data", "tests/files"] {
        for file in std::fs::read_dir(here(folder)).unwrap() {
            let name = file.unwrap().file_name();
            let path = format!("{folder}/{}", name.to_str().unwrap());
            let is_tool = path.ends_with(".toml");
            assert!(!is_tool || FILES.contains(&path.as_str()), "{path}");
        }
    }
}

fn one_verdict(path: &str) {
    let file = here(path);
    let text = std::fs::read_to_string(&file).unwrap();
    let bench = bench_of(&text, file.parent().unwrap());
    let shared = ask_all(&bench);
    println!("{path}: {shared} shared");
    assert!(shared > 0, "{path}");
}

/// The eyelet setter held at one grip, near the heel, where its demands name another: the strength that is
/// asked for is that at the tool's grip, not at those of the demands.
#[test]
fn strength_is_that_at_the_grips_of_the_tool() {
    let text = std::fs::read_to_string(here("demo-data/eyelet-toggle.toml")).unwrap();
    let one = text
        .replace("grips   = [60, 75, 90]", "grips   = [60]")
        .replace("min     = 1.5", "min     = 2.7");
    assert!(one.contains("[60]") && one.contains("2.7"));
    let bench = bench_of(&one, &here("demo-data"));
    assert!(ask_all(&bench) > 100);
    // A longer arm loads the tool more: a demand that names the grip of 90 is read there.
    let least = |args: &[&str]| -> f64 {
        let all = [&["measure", "tool.toml", "safety"], args].concat();
        bench.run(&all).code(0).out.trim().parse().unwrap()
    };
    let (near, far) = (least(&[]), least(&["--grip", "90"]));
    assert!(near > 2.7 && far < 2.7, "{near} {far}");
    let named = one.replace("min     = 2.7", "min     = 2.7\ngrip    = 90");
    let bench = bench_of(&named, &here("demo-data"));
    assert!(ask_all(&bench) > 100);
    let stroke = bench.run(&["stroke", "tool.toml", "--json"]).code(1).json();
    let demands = list(&stroke["demands"]);
    let safety = demands.iter().find(|d| d["measure"] == "safety").unwrap();
    assert_eq!(safety["met"], false);
    assert!((safety["value"].as_f64().unwrap() - far).abs() < 1e-8);
}

/// A position by span is another one at another grip: a demand that names the grip is read at that
/// grip's position.
#[test]
fn a_position_by_span_is_that_of_the_grip_named() {
    let text = std::fs::read_to_string(here("demo-data/eyelet-toggle.toml")).unwrap();
    let more = "\n[[demand]]\nmeasure = \"gap\"\nat = { span = 75 }\ngrip = 90\nmax = 9\n\
                [[demand]]\nmeasure = \"travel\"\nat = { span = 75 }\ngrip = 60\nmin = 1\n";
    let (before, after) = text.split_once("[tolerances]").unwrap();
    let bench = bench_of(
        &format!("{before}{more}\n[tolerances]{after}"),
        &here("demo-data"),
    );
    assert!(ask_all(&bench) > 100);
}
