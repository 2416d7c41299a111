//! Numbers that follow others, whatever changes those.

use crate::addresses::{read, run, study};
use jawforce::analysis::{Analysis, Outcome};
use jawforce::input::{apply_overrides, apply_values};
use jawforce::model::dimension;
use jawforce::model::{Direction, Tool};
use jawforce::tolerance::Hold;

/// The demo press; at its values 2 x 30 - 10 = 50 and 30 / 3 = 10. The spring by its free length, as that
/// of a made tool does not change.
fn text(ties: &str) -> String {
    let text = include_str!("../demo-data/pin-plunger.toml");
    let text = text
        .replace("preload = 25 ", "free = 15 ")
        .replace("clearance = 0.03", "clearance = 0");
    let work = "[[8, 0], [7, 180], [0.4, 520], [0, 640]]";
    let text = text.replace("\"pin-plunger-work.csv\"", work);
    let end = text.find("[tolerances]").expect("a table");
    format!("{}{ties}", &text[..end])
}

const TIES: &str = "[ties]\n\"plunger.nose.x\" = \"2 * lever.knee.x - 10\"\njaw.nose.closed = \"1/5 * plunger.nose.x\"\n";
const NOSE: &str = "[ties]\nplunger.nose.x = \"80 mm - lever.knee.x\"\n";

fn untied(mut tool: Tool) -> Tool {
    tool.ties.clear();
    tool
}

fn pairs(set: &[(&str, f64)]) -> Vec<(String, f64)> {
    set.iter().map(|(a, v)| ((*a).to_owned(), *v)).collect()
}

/// By hand: the knee at 33 takes the nose to 56, and a tie on a tie the gap's zero to 11.2.
#[test]
fn what_is_tied_follows_what_is_set() {
    let mut tied = read(&text(TIES));
    assert_eq!(untied(tied.clone()), read(&text("")));
    apply_overrides(&mut tied, &[("lever.knee.x".to_owned(), "33".to_owned())]).expect("set");
    let mut free = read(&text(""));
    let set = [
        ("lever.knee.x", 33.0),
        ("plunger.nose.x", 56.0),
        ("jaw.nose.closed", 56.0 / 5.0),
    ];
    apply_values(&mut free, &pairs(&set)).expect("set");
    let value = |tool: &Tool, address: &str| dimension::get(tool, address).expect("a value");
    for (address, expected) in set {
        assert!(
            (value(&tied, address) - expected).abs() < 1e-12,
            "{address}"
        );
        assert!(
            (value(&free, address) - expected).abs() < 1e-12,
            "{address}"
        );
    }
}

#[test]
fn what_is_tied_has_no_value_of_its_own() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("tied.toml");
    std::fs::write(&file, text(TIES)).expect("written");
    let name = file.to_str().expect("a name");
    for args in [
        vec!["stroke", name, "--set", "plunger.nose.x=51"],
        vec!["compare", name, "--vary", "plunger.nose.x=49:51:1"],
    ] {
        let (code, _, err) = run(&args);
        assert_eq!(code, 2, "{err}");
        assert!(
            err.contains("`plunger.nose.x` follows `2 * lever.knee.x - 10`"),
            "{err}"
        );
    }
    // What it follows makes variants.
    let (code, out, err) = run(&[
        "compare",
        name,
        "--vary",
        "lever.knee.x=29.9:30.1:0.1",
        "--measure",
        "ratio@shut",
    ]);
    assert!(code < 2, "{out} {err}");
}

/// At both ends of the tolerance a sample is the tool that is set to it, what is tied included.
#[test]
fn the_deviation_of_one_moves_the_other() {
    for ties in [TIES, NOSE] {
        let tool = read(&text(ties));
        let study = study(&format!(
            "{}[tolerances]\n\"lever.knee.x\" = 0.05\n",
            text(ties)
        ));
        let ends = [29.95, 30.05].map(|knee| {
            let mut tool = tool.clone();
            apply_values(&mut tool, &pairs(&[("lever.knee.x", knee)])).expect("set");
            Analysis::of(tool)
                .demands(Direction::Closing)
                .map_err(|_| ())
                .expect("demands")
        });
        let mut compared = 0;
        for finding in &study.findings {
            let subject = &finding.subject;
            if finding.hold == Hold::NominalHandle || subject.bound.is_none() {
                continue;
            }
            let same = |o: &&Outcome| {
                let demand = &tool.demands[o.demand];
                demand.measure == subject.measure
                    && demand.at == subject.at
                    && o.grip == subject.grip
            };
            let falls = finding.shares[0].derivative < 0.0;
            for (corner, end) in finding.corners.iter().zip([falls, !falls]) {
                let Ok(corner) = corner else { continue };
                let end = ends[usize::from(end)]
                    .iter()
                    .find(same)
                    .and_then(Outcome::value);
                let end = end.expect("a value");
                assert!(
                    (corner - end).abs() <= 1e-5 * end.abs(),
                    "{subject:?} {corner} {end}"
                );
                compared += 1;
            }
        }
        assert!(compared >= 6, "{compared}");
        // Virtual work with what follows, against differences.
        let exact: Vec<f64> = study.findings.iter().filter_map(|f| f.exact).collect();
        assert!(exact.iter().all(|off| *off < 1e-6), "{exact:?}");
        assert_eq!(
            exact.is_empty(),
            ties == TIES,
            "the place where a gap is zero has no virtual work"
        );
    }
}

/// A class gives what is tied nothing of its own.
#[test]
fn what_is_tied_has_no_tolerance_of_its_own() {
    let varied = |ties: &str| {
        let study = study(&format!(
            "{}[tolerances]\nclass = \"ISO 2768-m\"\n",
            text(ties)
        ));
        let own: Vec<String> = study.plan.varied.into_iter().map(|v| v.address).collect();
        own
    };
    let (tied, free) = (varied(NOSE), varied(""));
    let gone: Vec<&String> = free.iter().filter(|a| !tied.contains(a)).collect();
    assert_eq!(gone, ["plunger.nose.x"]);
}

/// The file that `tune` writes still keeps its ties: both numbers are new.
#[test]
fn a_tuned_file_keeps_its_ties() {
    let folder = tempfile::tempdir().expect("a folder");
    let (old, new) = (
        folder.path().join("old.toml"),
        folder.path().join("new.toml"),
    );
    let whole = text(NOSE);
    let (start, end) = (
        whole.find("[[demand]]").expect("demands"),
        whole.find("[ties]").expect("ties"),
    );
    let tuned = "[[tune]]\ndimension = \"lever.knee.x\"\nfrom = 29.8\nto = 30.2\n\
                 [aim]\nmeasure = \"jaw_force\"\nat = { gap = 0.4 }\ngrip = 65\nwant = \"most\"\n";
    let before = format!("{}{}{tuned}", &whole[..start], &whole[end..]);
    std::fs::write(&old, &before).expect("written");
    let names = [&old, &new].map(|p| p.to_str().expect("a name").to_owned());
    let (code, out, err) = run(&["tune", &names[0], "-o", &names[1]]);
    assert_eq!(code, 0, "{out} {err}");
    let after = std::fs::read_to_string(&new).expect("written");
    let tool = read(&after);
    let value = |address: &str| dimension::get(&tool, address).expect("a value");
    assert!(
        (value("lever.knee.x") - 30.0).abs() > 0.05,
        "it was tuned: {after}"
    );
    assert!((value("plunger.nose.x") - (80.0 - value("lever.knee.x"))).abs() < 1e-9);
    let changed = before
        .lines()
        .zip(after.lines())
        .filter(|(a, b)| a != b)
        .count();
    assert_eq!(changed, 2, "{after}");
}

/// A number that is shown rounded agrees with its tie, and the tie is what holds.
#[test]
fn a_rounded_number_agrees() {
    let third = "[ties]\n\"plunger.nose.x\" = \"5/3 * lever.knee.x + 0.004 mm\"\n";
    let tool = read(&text(third));
    let value = dimension::get(&tool, "plunger.nose.x").expect("a value");
    assert!((value - 50.004).abs() < 1e-12, "{value}");
}
