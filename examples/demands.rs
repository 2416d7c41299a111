//! Reads every demand of a demo tool, and one measure that it does not ask for.
//!
//! `cargo run --example demands`

use jawforce::analysis::{Analysis, Direction};
use jawforce::input::{no_side_files, read_tool};
use jawforce::model::{At, JawId, Measure};
use std::error::Error;

const FILE: &str = include_str!("../demo-data/eyelet-toggle.toml");

fn main() -> Result<(), Box<dyn Error>> {
    let analysis = Analysis::of(read_tool(FILE, &no_side_files)?.tool);
    let tool = analysis.tool();
    for outcome in analysis.demands(Direction::Closing)? {
        let name = tool.demands[outcome.demand]
            .measure
            .name_of(tool, tool.demands[outcome.demand].jaw);
        println!(
            "{name} at grip {:?}: {:?}, met: {}",
            outcome.grip,
            outcome.value(),
            outcome.met
        );
    }
    let span = analysis.measure(
        &Measure::Span,
        JawId::FIRST,
        Some(At::Open),
        None,
        Direction::Closing,
    )?;
    println!("span at open: {:.2} mm", span?);
    Ok(())
}
