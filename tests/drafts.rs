//! Drafts to be tuned, made from the demo tools: for the tests of `tune` and for the benches.

use jawforce::input::read_tool;
use jawforce::model::Tool;
use std::fmt::Write;
use std::path::Path;

type Ranges = &'static [(&'static str, f64, f64)];

const EYELET: Ranges = &[
    ("strut.length", 16.6, 17.6),
    ("lever.knee.x", -3.5, -2.5),
    ("lever.knee.y", -29.6, -28.4),
    ("frame.post.x", -27.0, -25.0),
    ("frame.post.y", -49.0, -47.0),
    ("frame.anvil.x", 19.0, 21.0),
    ("frame.anvil.y", -57.5, -55.5),
    ("lever.cup.x", -28.0, -24.0),
    ("lever.cup.y", -6.0, -2.0),
    ("frame.heel.x", -0.5, 0.5),
];
const PLUNGER: Ranges = &[
    ("link.length", 19.7, 20.5),
    ("lever.knee.y", 2.1, 2.9),
    ("lever.knee.x", 29.0, 31.0),
    ("frame.heel.x", -1.0, 1.0),
    ("frame.heel.y", -1.0, 1.0),
    ("frame.anvil.x", 109.5, 110.5),
    ("plunger.nose.x", 49.5, 50.5),
    ("lever.tail.x", -8.0, -4.0),
    ("lever.tail.y", 10.0, 14.0),
    ("frame.hook.x", -38.0, -34.0),
];
/// In inches.
const CUTTER: Ranges = &[
    ("upper-handle.fulcrum.x", -0.90, -0.76),
    ("upper-jaw.upper-knuckle.y", 0.68, 0.76),
    ("upper-handle.fulcrum.y", -0.02, 0.02),
    ("upper-jaw.upper-knuckle.x", -0.70, -0.62),
    ("lower-jaw.lower-knuckle.y", -0.76, -0.68),
    ("lower-jaw.lower-knuckle.x", -0.70, -0.62),
    ("lower-handle.fulcrum.x", -0.90, -0.76),
    ("lower-handle.fulcrum.y", -0.02, 0.02),
    ("upper-jaw.edge.x", 0.70, 0.80),
    ("lower-jaw.edge.y", -0.01, 0.01),
];
const LEAST_PEAK: &str = "measure = \"hand_force\"\nat = \"peak\"\ngrip = 75\nwant = \"least\"\n";
const SAFEST: &str = "measure = \"safety\"\nwant = \"most\"\n";

/// A demo tool with the first so many of these ranges, and its own aim or another.
fn demo(name: &str, ranges: Ranges, dimensions: usize, aim: Option<&str>) -> Tool {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    let text = std::fs::read_to_string(folder.join(name)).unwrap();
    let (before, tuned) = text.split_once("\n[[tune]]").unwrap();
    let own = tuned.split_once("[aim]\n").unwrap().1;
    let mut text = format!("{before}\n[aim]\n{}\n", aim.unwrap_or(own));
    for (dimension, from, to) in &ranges[..dimensions] {
        writeln!(
            text,
            "[[tune]]\ndimension = {dimension:?}\nfrom = {from}\nto = {to}"
        )
        .unwrap();
    }
    let beside = |name: &str| std::fs::read_to_string(folder.join(name)).map_err(|e| e.to_string());
    read_tool(&text, &beside)
        .unwrap_or_else(|e| panic!("{name}: {e:?}"))
        .tool
}

/// Demo tools with two dimensions to be tuned.
pub fn two_dimensions() -> Vec<(&'static str, Tool)> {
    vec![
        ("eyelet", demo("eyelet-toggle-b.toml", EYELET, 2, None)),
        ("plunger", demo("pin-plunger.toml", PLUNGER, 2, None)),
        (
            "plunger, least",
            demo("pin-plunger.toml", PLUNGER, 2, Some(LEAST_PEAK)),
        ),
        ("cutter", demo("excluder-cutter.toml", CUTTER, 2, None)),
    ]
}

/// Four with ten.
pub fn ten_dimensions() -> Vec<(&'static str, Tool)> {
    vec![
        ("eyelet", demo("eyelet-toggle-b.toml", EYELET, 10, None)),
        (
            "eyelet, safest",
            demo("eyelet-toggle-b.toml", EYELET, 10, Some(SAFEST)),
        ),
        (
            "plunger, least",
            demo("pin-plunger.toml", PLUNGER, 10, Some(LEAST_PEAK)),
        ),
        ("cutter", demo("excluder-cutter.toml", CUTTER, 10, None)),
    ]
}
