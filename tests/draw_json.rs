//! The JSON of `draw`, mirrored key by key: a key that is renamed, taken away, added, or of another
//! type breaks this test. A key that is added on purpose is added here.
#![allow(dead_code)] // the fields are there to be read by serde

use crate::loads_json::{Sheet, Units, there};
use serde::Deserialize;
use std::process::Command;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Drawing {
    format: u32,
    tool: String,
    #[serde(deserialize_with = "there")]
    note: Option<String>,
    file: String,
    sha256: String,
    units: Units,
    moment_unit: String,
    stress_unit: String,
    grip: f64,
    hand_force: f64,
    direction: String,
    #[serde(deserialize_with = "there")]
    part: Option<String>,
    positions: Vec<Position>,
    cautions: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Position {
    at: String,
    handle: f64,
    travel: f64,
    #[serde(deserialize_with = "there")]
    span: Option<f64>,
    parts: Vec<Part>,
    pins: Vec<Pin>,
    handles: Vec<Handle>,
    jaws: Vec<Jaw>,
    slots: Vec<Slot>,
    springs: Vec<Spring>,
    forces: Vec<Force>,
    #[serde(deserialize_with = "there")]
    no_forces: Option<String>,
    stresses: Vec<Stress>,
    touches: Vec<Touch>,
    earlier: Vec<Pose>,
    #[serde(deserialize_with = "there")]
    sheet: Option<Sheet>,
    #[serde(deserialize_with = "there")]
    about: Option<[f64; 2]>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Stress {
    at: [f64; 2],
    out: [f64; 2],
    stress: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Touch {
    parts: [String; 2],
    at: [f64; 2],
    borders: Vec<Border>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Pose {
    parts: Vec<Part>,
    handles: Vec<Handle>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Part {
    name: String,
    fixed: bool,
    points: Vec<Point>,
    roots: Vec<[f64; 2]>,
    round: f64,
    borders: Vec<Border>,
    #[serde(deserialize_with = "there")]
    layer: Option<u32>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Border {
    from: [f64; 2],
    steps: Vec<Step>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Step {
    to: [f64; 2],
    #[serde(deserialize_with = "there")]
    radius: Option<f64>,
    left: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Point {
    name: String,
    pin: bool,
    at: [f64; 2],
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Pin {
    name: String,
    at: [f64; 2],
    #[serde(deserialize_with = "there")]
    diameter: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Handle {
    part: String,
    line: Vec<[f64; 2]>,
    thickness: f64,
    grips: Vec<Grip>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Grip {
    distance: f64,
    at: [f64; 2],
    along: [f64; 2],
    held: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Jaw {
    name: String,
    on: [f64; 2],
    against: [f64; 2],
    #[serde(deserialize_with = "there")]
    axis: Option<[f64; 2]>,
    closed: f64,
    gap: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Slot {
    part: String,
    on: String,
    rider: [f64; 2],
    along: [f64; 2],
    reach: [[f64; 2]; 2],
    #[serde(deserialize_with = "there")]
    arc: Option<Arc>,
    #[serde(deserialize_with = "there")]
    roller: Option<f64>,
    keyed: bool,
    #[serde(deserialize_with = "there")]
    guide: Option<f64>,
    half: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Arc {
    centre: [f64; 2],
    radius: f64,
    from_to: [f64; 2],
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Spring {
    spring: usize,
    parts: [String; 2],
    ends: [[f64; 2]; 2],
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Force {
    what: String,
    kind: Kind,
    on: String,
    at: [f64; 2],
    #[serde(deserialize_with = "there")]
    force: Option<[f64; 2]>,
    #[serde(deserialize_with = "there")]
    size: Option<f64>,
    #[serde(deserialize_with = "there")]
    couple: Option<f64>,
}

#[derive(Debug, PartialEq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Kind {
    Hand,
    Work,
    Pin,
    Slot,
    Spring,
    Bench,
}

fn drawn(args: &[&str]) -> Drawing {
    let done = Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .arg("draw")
        .args(args)
        .args(["--json", "--at", "open,shut"])
        .output()
        .unwrap();
    serde_json::from_slice(&done.stdout).unwrap_or_else(|e| panic!("{args:?}: {e}"))
}

/// Each demo has what another lacks: springs, a keyed slot, no second handle.
#[test]
fn every_key_is_as_stated() {
    let [mut springs, mut slots, mut earlier, mut rings] = [0; 4];
    for (demo, part) in [
        ("eyelet-toggle", "lever"),
        ("pin-plunger", "plunger"),
        ("wire-crimp-pliers", "press-half"),
        ("excluder-cutter", "upper-handle"),
    ] {
        let file = format!("demo-data/{demo}.toml");
        let whole = drawn(&[&file]);
        assert_eq!((whole.format, whole.units.angle.as_str()), (1, "deg"));
        assert_eq!(whole.direction, "closing");
        assert!(whole.part.is_none() && whole.cautions.len() > 1);
        assert_eq!(whole.positions.len(), 2);
        for position in &whole.positions {
            assert!(position.sheet.is_none() && position.about.is_none());
            let outside = [Kind::Hand, Kind::Work];
            assert!(position.forces.iter().all(|f| outside.contains(&f.kind)));
            assert_eq!(position.forces.is_empty(), position.no_forces.is_some());
            for part in &position.parts {
                assert_eq!(
                    part.layer.is_some(),
                    !part.borders.is_empty(),
                    "{}",
                    part.name
                );
                for border in &part.borders {
                    let last = border.steps.last().expect("a border has steps");
                    let off = [0, 1].map(|k| (last.to[k] - border.from[k]).abs());
                    assert!(
                        off.iter().all(|v| *v < 1e-9),
                        "a border ends where it starts"
                    );
                    let arcs = border.steps.iter().filter(|step| step.radius.is_some());
                    rings += usize::from(arcs.filter(|step| !step.left).count() > 0);
                }
            }
            springs += position.springs.len();
            slots += position.slots.len();
            earlier += position.earlier.len();
        }
        let alone = drawn(&[&file, "--part", part, "--opening"]);
        assert_eq!(alone.part.as_deref(), Some(part));
        assert_eq!(alone.direction, "opening");
        for position in &alone.positions {
            for edge in &position.stresses {
                let [x, y] = edge.out;
                assert!(
                    (x.hypot(y) - 1.0).abs() < 1e-9 && edge.stress.is_finite(),
                    "{edge:?}"
                );
                assert!(edge.at.iter().all(|v| v.is_finite()));
            }
            assert_eq!(position.sheet.is_some(), position.no_forces.is_none());
            assert!(position.forces.iter().all(|f| f.on == part));
        }
    }
    assert!(springs > 0 && slots > 0 && earlier > 0 && rings > 0);
}

#[test]
fn what_does_not_exist_is_null() {
    let held = drawn(&["demo-data/eyelet-toggle.toml", "--hand-force", "0.5"]);
    let none = held.positions.iter().filter(|p| p.no_forces.is_some());
    assert!(none.count() > 0, "the springs hold a hand of 0.5 N");
}
