//! The JSON of `loads`, mirrored key by key: a key that is renamed, taken away, added, or of
//! another type breaks this test. A key that is added on purpose is added here.
#![allow(dead_code)] // the fields are there to be read by serde

use serde::Deserialize;
use std::process::Command;

/// Keys that may be null must still be there: `Option` alone would let them be left out.
pub fn there<'de, D, T>(value: D) -> Result<Option<T>, D::Error>
where
    D: serde::Deserializer<'de>,
    T: Deserialize<'de>,
{
    Option::deserialize(value)
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Loads {
    format: u32,
    tool: String,
    file: String,
    sha256: String,
    units: Units,
    moment_unit: String,
    cases: Vec<Case>,
    factors: Vec<Factor>,
    notes: Vec<String>,
    cautions: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Units {
    length: String,
    force: String,
    pub angle: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    handle: f64,
    travel: f64,
    gap: f64,
    grip: f64,
    #[serde(deserialize_with = "there")]
    span: Option<f64>,
    hand_force: f64,
    case: String,
    jaw_force: f64,
    pins: Vec<Pin>,
    links: Vec<Link>,
    slots: Vec<Slot>,
    springs: Vec<Spring>,
    sheets: Vec<Sheet>,
    residual: f64,
    #[serde(deserialize_with = "there")]
    give: Option<Give>,
    #[serde(deserialize_with = "there")]
    press: Option<Press>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Pin {
    pin: String,
    on: String,
    by: String,
    #[serde(deserialize_with = "there")]
    x: Option<f64>,
    #[serde(deserialize_with = "there")]
    y: Option<f64>,
    #[serde(deserialize_with = "there")]
    size: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Link {
    part: String,
    axial: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Slot {
    point: String,
    on: String,
    by: String,
    angle: f64,
    #[serde(deserialize_with = "there")]
    radius: Option<f64>,
    rolls: bool,
    normal: f64,
    friction: f64,
    #[serde(deserialize_with = "there")]
    key_moment: Option<f64>,
    #[serde(deserialize_with = "there")]
    edges: Option<[f64; 2]>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Spring {
    spring: usize,
    between: String,
    #[serde(deserialize_with = "there")]
    length: Option<f64>,
    #[serde(deserialize_with = "there")]
    force: Option<f64>,
    #[serde(deserialize_with = "there")]
    moment: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sheet {
    part: String,
    about: (String, f64, f64),
    fixed: bool,
    pub forces: Vec<Force>,
    #[serde(deserialize_with = "there")]
    sums: Option<[f64; 3]>,
    #[serde(deserialize_with = "there")]
    bench: Option<[f64; 3]>,
    #[serde(deserialize_with = "there")]
    base: Option<Base>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Base {
    at: [f64; 2],
    axial: f64,
    shear: f64,
    moment: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Force {
    what: String,
    #[serde(deserialize_with = "there")]
    point: Option<String>,
    at: [f64; 2],
    #[serde(deserialize_with = "there")]
    force: Option<[f64; 2]>,
    #[serde(deserialize_with = "there")]
    couple: Option<f64>,
    #[serde(deserialize_with = "there")]
    moment: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Give {
    per_thousand: f64,
    spread: f64,
    gap: f64,
    shares: Vec<(String, f64)>,
    rigid: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Press {
    thickness: f64,
    #[serde(deserialize_with = "there")]
    jaw_force: Option<f64>,
    #[serde(deserialize_with = "there")]
    spread: Option<f64>,
    text: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Factor {
    subject: String,
    check: String,
    formula: String,
    source: String,
    unconfirmed: bool,
    inputs: Vec<(String, f64, String)>,
    value: f64,
    allowable: f64,
    unit: String,
    against: String,
    factor: f64,
    #[serde(deserialize_with = "there")]
    place: Option<String>,
    handle: f64,
    gap: f64,
    grip: f64,
    hand_force: f64,
    case: String,
}

#[test]
fn every_key_is_as_stated() {
    for demo in ["eyelet-toggle", "pin-plunger", "wire-crimp-pliers"] {
        let done = Command::new(env!("CARGO_BIN_EXE_jawforce"))
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .args(["loads", &format!("demo-data/{demo}.toml"), "--json"])
            .args(["--at", "open,gap=0.3"])
            .output()
            .unwrap();
        let loads: Loads = serde_json::from_slice(&done.stdout).unwrap();
        assert_eq!((loads.format, loads.units.angle.as_str()), (1, "deg"));
        assert_eq!(loads.cases.len() % 2, 0);
        for case in loads.cases {
            assert!(case.pins.iter().all(|pin| pin.size.is_some()));
            assert!(case.sheets.iter().all(|sheet| sheet.sums.is_some()));
        }
        assert!(!loads.cautions.is_empty());
    }
}
