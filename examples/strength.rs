//! Prints the strength factors of a demo tool over its whole stroke, lowest first.
//!
//! `cargo run --example strength`

use jawforce::analysis::{Analysis, Direction};
use jawforce::input::{no_side_files, read_tool};
use std::error::Error;

const FILE: &str = include_str!("../demo-data/eyelet-toggle.toml");

fn main() -> Result<(), Box<dyn Error>> {
    let analysis = Analysis::of(read_tool(FILE, &no_side_files)?.tool);
    let mut factors = analysis.strength(Direction::Closing)?.factors.clone();
    factors.sort_by(|a, b| a.factor.total_cmp(&b.factor));
    for factor in factors {
        println!(
            "{:6.2}  {} of {}",
            factor.factor, factor.formula.check, factor.name
        );
    }
    Ok(())
}
