//! The JSON formats, mirrored key by key: a key that is renamed, taken away, added, or of another
//! type breaks a test, so that no change comes by accident. A key that is added on purpose is
//! added here.
#![allow(dead_code)] // the fields are there to be read by serde

use super::{Bench, SETTER};
use serde::Deserialize;
use std::collections::BTreeMap;

/// The answer of `stroke --json`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stroke {
    pub format: u32,
    pub tool: String,
    pub file: String,
    pub sha256: String,
    pub units: Units,
    pub grips: Vec<f64>,
    pub hand_force: f64,
    pub jaws: Vec<String>,
    pub all_jaws: Vec<JawSummary>,
    pub ends: [EndOfStroke; 2],
    pub direction: String,
    pub verdict: Verdict,
    pub positions: Vec<Position>,
    pub toggles: Vec<Turning>,
    pub dead_positions: Vec<Turning>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub dies_meet: Option<Meeting>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub work: Option<Work>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub limit: Option<Limit>,
    pub indeterminate: Vec<String>,
    pub checks: Checks,
    pub demands: Vec<Demand>,
    pub notes: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JawSummary {
    pub jaw: String,
    pub gap: [f64; 2],
    pub toggle: bool,
    pub beyond: bool,
    pub grips: Vec<JawAtGrip>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JawAtGrip {
    pub at: f64,
    #[serde(deserialize_with = "Option::deserialize")]
    pub ratio: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub jaw_force: Option<f64>,
    pub locked: bool,
    #[serde(deserialize_with = "Option::deserialize")]
    pub peak: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub can: Option<bool>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EndOfStroke {
    pub by: String,
    pub value: f64,
    #[serde(deserialize_with = "Option::deserialize")]
    pub jaw: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpringEnds {
    pub name: String,
    pub at: [f64; 2],
    pub unit: String,
    pub pull: [f64; 2],
    pub pull_unit: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Opens {
    pub grip: f64,
    #[serde(deserialize_with = "Option::deserialize")]
    pub hand_force: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Verdict {
    pub hand: Vec<Hand>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub hand_not_judged: Option<String>,
    pub met: usize,
    pub demands: usize,
    #[serde(deserialize_with = "Option::deserialize")]
    pub made: Option<Made>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub made_not_judged: Option<String>,
    pub strength_not_judged: Vec<String>,
    pub assumed: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hand {
    #[serde(deserialize_with = "Option::deserialize")]
    pub jaw: Option<String>,
    pub grip: f64,
    #[serde(deserialize_with = "Option::deserialize")]
    pub can: Option<bool>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub peak: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub limit: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub stall_gap: Option<f64>,
    pub locked: bool,
    pub meets_work: bool,
    #[serde(deserialize_with = "Option::deserialize")]
    pub short: Option<Short>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Short {
    pub gap: f64,
    pub force: f64,
    pub most: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Made {
    pub samples: usize,
    pub met: usize,
    #[serde(deserialize_with = "Option::deserialize")]
    pub cause: Option<String>,
    pub cause_tools: usize,
    #[serde(deserialize_with = "Option::deserialize")]
    pub cause_why: Option<String>,
    pub left_out: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Units {
    pub length: String,
    pub force: String,
    pub angle: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Position {
    pub handle: f64,
    pub travel: f64,
    pub toggle: bool,
    pub beyond: bool,
    pub pins: BTreeMap<String, Place>,
    pub marks: BTreeMap<String, Place>,
    pub jaws: BTreeMap<String, JawAt>,
    pub grips: Vec<Grip>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Place {
    pub x: f64,
    pub y: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JawAt {
    pub gap: f64,
}

// `deserialize_with` makes serde ask for the key even where null is allowed.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Grip {
    pub at: f64,
    #[serde(deserialize_with = "Option::deserialize")]
    pub span: Option<f64>,
    pub jaws: BTreeMap<String, Forces>,
    pub pin_loads: BTreeMap<String, Option<f64>>,
    pub axial: BTreeMap<String, Option<f64>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Forces {
    #[serde(deserialize_with = "Option::deserialize")]
    pub ratio: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub jaw_force: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub efficiency: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub hand_force: Option<f64>,
    pub locked: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Turning {
    pub handle: f64,
    pub gap: f64,
    pub jaw: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Meeting {
    pub jaw: String,
    pub handle: f64,
    pub travel: f64,
    pub gap: f64,
    pub position: usize,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Work {
    pub need: Vec<[f64; 2]>,
    pub needed: Vec<f64>,
    pub stalls: Vec<Option<f64>>,
    pub stall_limits: Vec<Option<f64>>,
    pub peaks: Vec<HandPeak>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HandPeak {
    #[serde(deserialize_with = "Option::deserialize")]
    pub hand_force: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub why: Option<String>,
    pub gap: f64,
    pub handle: f64,
    pub travel: f64,
    #[serde(deserialize_with = "Option::deserialize")]
    pub limit: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    pub text: String,
    #[serde(deserialize_with = "Option::deserialize")]
    pub source: Option<String>,
    pub hand_force: Vec<Vec<Option<f64>>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Checks {
    pub closure: f64,
    pub virtual_work: f64,
    pub free_body: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Demand {
    pub measure: String,
    #[serde(deserialize_with = "Option::deserialize")]
    pub at: Option<String>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub grip: Option<f64>,
    pub unit: String,
    #[serde(deserialize_with = "Option::deserialize")]
    pub value: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub why: Option<String>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub min: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub max: Option<f64>,
    pub met: bool,
}

/// The answer of `check --json`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Check {
    pub format: u32,
    pub tool: String,
    pub file: String,
    pub sha256: String,
    pub units: Units,
    pub parts: Vec<Part>,
    pub pin_joints: usize,
    pub slots: usize,
    pub freedom: usize,
    pub redundant: usize,
    pub open: BTreeMap<String, Place>,
    pub shut: BTreeMap<String, Place>,
    pub handle: [f64; 2],
    pub gaps: BTreeMap<String, [f64; 2]>,
    pub spans: Vec<Span>,
    pub events: Vec<Event>,
    pub motion: String,
    pub reach: [f64; 2],
    pub others: Vec<Event>,
    pub dies_meet: bool,
    pub handles_touch: bool,
    pub advice: Vec<String>,
    pub assumed: Vec<String>,
    pub verdict: Verdict,
    pub unread_demands: usize,
    pub springs: Vec<SpringEnds>,
    pub opens: Vec<Opens>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    pub name: String,
    pub fixed: bool,
    pub pins: Vec<String>,
    pub marks: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Span {
    pub at: f64,
    #[serde(deserialize_with = "Option::deserialize")]
    pub open: Option<f64>,
    #[serde(deserialize_with = "Option::deserialize")]
    pub shut: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Event {
    pub what: String,
    pub handle: f64,
    pub gap: f64,
    pub in_stroke: bool,
}

/// `stroke --json` of this text with these arguments.
pub fn stroke(text: &str, more: &[&str]) -> Stroke {
    let args: Vec<&str> = ["stroke", "tool.toml", "--json"]
        .iter()
        .chain(more)
        .copied()
        .collect();
    let ended = Bench::with(text).run(&args);
    assert!(ended.code <= 1, "{}", ended.err);
    serde_json::from_str(&ended.out).unwrap_or_else(|e| panic!("{e} in\n{}", ended.out))
}

#[test]
fn stroke_has_exactly_these_keys() {
    let found = stroke(SETTER, &[]);
    assert_eq!(
        (found.format, found.tool.as_str(), found.file.as_str()),
        (1, "Test setter", "tool.toml")
    );
    assert_eq!(found.grips, [60.0, 90.0]);
    assert_eq!(found.positions.len(), 25);
    assert_eq!(
        (found.all_jaws.len(), found.ends[0].by.as_str()),
        (1, "gap")
    );
    assert!(found.dies_meet.is_none() && found.positions.iter().all(|p| !p.beyond));
    let first = &found.positions[0];
    let names: Vec<&String> = first.pins.keys().collect();
    assert_eq!(names, ["heel", "knee", "post", "wrist"]);
    let names: Vec<&String> = first.marks.keys().collect();
    assert_eq!(names, ["frame.anvil", "ram.nose"]);
    assert!((first.jaws["nose"].gap - 9.0).abs() < 1e-9);
    assert_eq!(first.travel, 0.0);
    for position in &found.positions {
        assert_eq!(position.grips.len(), 2);
        for grip in &position.grips {
            let forces = &grip.jaws["nose"];
            let (ratio, force) = (
                forces.ratio.expect("a ratio"),
                forces.jaw_force.expect("a force"),
            );
            // No friction, no springs: the two are one number.
            assert!((force - 150.0 * ratio).abs() <= 1e-9 * force.abs());
            assert!((forces.efficiency.expect("a number") - 1.0).abs() < 1e-12);
            // Without [work] there is nothing to need.
            assert!(forces.hand_force.is_none());
            // A two-pin link is pulled or pushed by its pins.
            let (axial, knee) = (
                grip.axial["strut"].expect("a force"),
                grip.pin_loads["knee"].expect("a load"),
            );
            assert!((axial.abs() - knee).abs() <= 1e-9 * knee);
        }
    }
}

#[test]
fn check_has_exactly_these_keys() {
    let ended = Bench::with(SETTER)
        .run(&["check", "tool.toml", "--json"])
        .code(0);
    let found: Check = serde_json::from_str(&ended.out).expect("the format");
    assert_eq!(
        (
            found.freedom,
            found.redundant,
            found.pin_joints,
            found.slots
        ),
        (1, 0, 4, 0)
    );
    assert_eq!(found.parts.len(), 4);
    assert!(!found.dies_meet && !found.handles_touch);
    assert!((found.gaps["nose"][1] - 0.2).abs() < 1e-9);
    assert!(found.events.iter().any(|e| e.what.contains("toggle")));
}

#[test]
fn the_digest_is_that_of_the_files_bytes() {
    // SHA-256 by an implementation of its own kind: sha256sum of coreutils, where it is there.
    let bench = Bench::with(SETTER);
    let Ok(output) = std::process::Command::new("sha256sum")
        .arg(bench.path("tool.toml"))
        .output()
    else {
        return;
    };
    let said = String::from_utf8_lossy(&output.stdout);
    assert_eq!(
        said.split(' ').next(),
        Some(stroke(SETTER, &[]).sha256.as_str())
    );
}

#[test]
fn work_and_limit_have_their_keys() {
    let more = "[work]\nneed = [[3, 0], [1, 300], [0, 1500]]\nnote = \"measured\"\n[joints]\ndiameter = 5\nfriction = 0.1\n";
    let text = super::edited(SETTER, &[("force = 150", "force = 150\nlimit = 100")]) + more;
    let found = stroke(&text, &[]);
    let (work, limit) = (found.work.expect("work"), found.limit.expect("a limit"));
    assert_eq!(work.need, [[3.0, 0.0], [1.0, 300.0], [0.0, 1500.0]]);
    assert_eq!(work.note.as_deref(), Some("measured"));
    assert_eq!(
        (work.needed.len(), work.stalls.len()),
        (found.positions.len(), 2)
    );
    assert_eq!(limit.hand_force.len(), found.positions.len());
    for (k, position) in found.positions.iter().enumerate() {
        // Straight lines between the rows; nothing before the first.
        let gap = position.jaws["nose"].gap;
        let wanted = match gap {
            g if g > 3.0 => 0.0,
            g if g > 1.0 => 300.0 * (3.0 - g) / 2.0,
            g => 300.0 + 1200.0 * (1.0 - g),
        };
        assert!((work.needed[k] - wanted).abs() < 1e-9, "{gap}");
        assert_eq!(limit.hand_force[k], [Some(100.0); 2]);
        for (grip, stall) in position.grips.iter().zip(&work.stalls) {
            // Before the stall the hand's limit is enough, behind it not.
            let hand = grip.jaws["nose"].hand_force.expect("a force");
            match stall {
                Some(at) => assert_eq!(gap < *at, hand > 100.0, "{gap} {at} {hand}"),
                None => assert!(hand <= 100.0),
            }
        }
    }
    assert!(work.stalls.iter().any(Option::is_some));
    for (stall, limit) in work.stalls.iter().zip(&work.stall_limits) {
        assert_eq!(stall.map(|_| 100.0), *limit);
    }
    assert_eq!(work.peaks.len(), 2);
    for (grip, peak) in work.peaks.iter().enumerate() {
        let most = (found.positions.iter()).filter_map(|p| p.grips[grip].jaws["nose"].hand_force);
        let most = most.reduce(f64::max).expect("a force");
        assert!(peak.hand_force.expect("a peak") >= most && peak.why.is_none());
        let (first, last) = (
            &found.positions[0],
            &found.positions[found.positions.len() - 1],
        );
        let turned = (peak.handle - first.handle).abs();
        assert!((turned - peak.travel).abs() < 1e-9 && peak.travel <= last.travel + 1e-9);
        assert!(peak.gap >= last.jaws["nose"].gap - 1e-9);
        assert_eq!(peak.limit, Some(100.0));
    }
}

#[test]
fn a_demand_that_is_not_met_is_status_1() {
    let demand = |bound: &str| {
        format!(
            "{SETTER}\n[[demand]]\nmeasure = \"jaw_force\"\nat = \"shut\"\ngrip = 90\n{bound}\n"
        )
    };
    // Without friction the jaw force is the hand force times the ratio.
    let last = stroke(SETTER, &[]).positions.pop().expect("positions");
    let force = 150.0 * last.grips[1].jaws["nose"].ratio.expect("a ratio");
    for (bound, met) in [
        (format!("min = {}", force - 1.0), true),
        (format!("min = {}", force + 1.0), false),
        (format!("max = {}", force - 1.0), false),
        (format!("max = {}", force + 1.0), true),
    ] {
        let text = demand(&bound);
        let found = stroke(&text, &[]);
        assert_eq!(found.demands.len(), 1);
        let value = found.demands[0].value.expect("a value");
        assert!((value - force).abs() < 1e-6 * force, "{value} {force}");
        assert_eq!(found.demands[0].met, met, "{bound}");
        let ended = Bench::with(&text).run(&["stroke", "tool.toml", "--csv", "out.csv"]);
        // The results are all there, met or not.
        ended.code(i32::from(!met)).writes(&["out.csv"]);
    }
}
