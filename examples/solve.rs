//! Solves the stroke of a demo tool and prints gap and force ratio at each position.
//!
//! `cargo run --example solve`

use jawforce::analysis::{Analysis, Direction};
use jawforce::input::{no_side_files, read_tool};
use std::error::Error;

const FILE: &str = include_str!("../demo-data/eyelet-toggle.toml");

fn main() -> Result<(), Box<dyn Error>> {
    let analysis = Analysis::of(read_tool(FILE, &no_side_files)?.tool);
    for position in &analysis.stroke(Direction::Closing)?.positions {
        // The library speaks mm, N and radians. A ratio is `None` at a toggle, where the jaw stands still.
        let ratios: Vec<_> = position.grips.iter().map(|grip| grip.ratio[0]).collect();
        println!(
            "gap {:6.3} mm, ratio at each grip {ratios:.3?}",
            position.gap[0]
        );
    }
    Ok(())
}
