//! Sweeps one dimension of a demo tool: the jaw force at shut for each length of a link.
//!
//! `cargo run --example sweep`

use jawforce::analysis::{Analysis, Direction};
use jawforce::input::{no_side_files, read_tool};
use jawforce::model::{At, JawId, Measure, dimension};
use std::error::Error;

const FILE: &str = include_str!("../demo-data/eyelet-toggle.toml");

fn main() -> Result<(), Box<dyn Error>> {
    let drawn = read_tool(FILE, &no_side_files)?.tool;
    let length = dimension::get(&drawn, "strut.length").ok_or("no such dimension")?;
    for step in -2..=2 {
        let (mut tool, value) = (drawn.clone(), length + 0.05 * f64::from(step));
        if !dimension::set(&mut tool, "strut.length", value) {
            continue;
        }
        let made = Analysis::of(tool);
        match made.measure(
            &Measure::JawForce,
            JawId::FIRST,
            Some(At::Gap(1.0)),
            None,
            Direction::Closing,
        ) {
            Ok(force) => println!("strut {value:.2} mm: {:.0} N at gap 1 mm", force?),
            Err(error) => println!("strut {value:.2} mm: {error}"),
        }
    }
    Ok(())
}
