//! Mechanisms with a closed-form answer, built as tools.

pub mod build;
pub mod chain;
pub mod four_bar;
pub mod moved;
pub mod random;
pub mod read;
pub mod slider_crank;
pub mod track;

/// The tool with its first jaw's axis turned round if that jaw opens on the way from open to shut.
pub fn closing(mut tool: jawforce::model::Tool) -> jawforce::model::Tool {
    use jawforce::motion::{MotionError, survey};
    let linkage = jawforce::mechanism::Linkage::new(&tool).expect("a linkage");
    if let Err(MotionError::Opens { .. }) = survey(&linkage.into(), &tool.stroke) {
        let axis = &mut tool.jaws[0].axis;
        *axis = axis.map(|a| a + std::f64::consts::PI);
    }
    tool
}

/// The demo tools.
pub const DEMOS: [(&str, &str); 9] = [
    (
        "eyelet-toggle",
        include_str!("../../demo-data/eyelet-toggle.toml"),
    ),
    (
        "eyelet-toggle-b",
        include_str!("../../demo-data/eyelet-toggle-b.toml"),
    ),
    (
        "excluder-cutter",
        include_str!("../../demo-data/excluder-cutter.toml"),
    ),
    (
        "pin-plunger",
        include_str!("../../demo-data/pin-plunger.toml"),
    ),
    (
        "wire-crimp-pliers",
        include_str!("../../demo-data/wire-crimp-pliers.toml"),
    ),
    (
        "sleeve-crimper",
        include_str!("../../demo-data/sleeve-crimper.toml"),
    ),
    (
        "ferrule-crimper",
        include_str!("../../demo-data/ferrule-crimper.toml"),
    ),
    (
        "seal-pliers",
        include_str!("../../demo-data/seal-pliers.toml"),
    ),
    (
        "snap-press",
        include_str!("../../demo-data/snap-press.toml"),
    ),
];

/// The work curve of the pin plunger.
pub const PLUNGER_WORK: &str = include_str!("../../demo-data/pin-plunger-work.csv");

/// Invented readings of a bench, for the file that has every key.
pub const BENCH: &str = include_str!("../files/bench.csv");

/// The files that tool files of the tests and demos name.
pub fn beside(path: &str) -> Result<String, String> {
    match path {
        "pin-plunger-work.csv" => Ok(PLUNGER_WORK.to_owned()),
        "bench.csv" => Ok(BENCH.to_owned()),
        "wire-crimp-bench.csv" => {
            Ok(include_str!("../../demo-data/wire-crimp-bench.csv").to_owned())
        }
        other => Err(format!("no file {other}")),
    }
}

/// A demo tool, read.
pub fn demo(name: &str) -> jawforce::model::Tool {
    let (_, text) = DEMOS.iter().find(|d| d.0 == name).expect("a demo tool");
    match jawforce::input::read_tool(text, &beside) {
        Ok(read) => read.tool,
        Err(found) => panic!("{name}: {found:?}"),
    }
}
