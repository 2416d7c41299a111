//! Reads a demo tool file and prints gap and force ratio at each position of the stroke.
//!
//! `cargo run --example sweep`

use jawforce::analysis::{Direction, solve};
use jawforce::input::{read_tool, render_all};

const FILE: &str = include_str!("../demo-data/eyelet-toggle.toml");

fn main() -> Result<(), String> {
    // Curves in CSV files are read by the caller; this tool file names none.
    let no_files = |name: &str| Err(format!("{name}: not read by this example"));
    let tool = read_tool(FILE, &no_files)
        .map_err(|problems| render_all(&problems, "eyelet-toggle.toml", FILE, false))?
        .tool;
    let solved = solve(&tool, Direction::Closing).map_err(|failure| failure.text(&tool))?;

    // The library speaks mm, N and radians, whatever the file's units are.
    print!("{:>8}", "gap mm");
    for grip in &tool.hand.grips {
        print!("  {:>10}", format!("at {grip} mm"));
    }
    println!();
    for position in &solved.positions {
        print!("{:8.3}", position.gap[0]);
        for grip in &position.grips {
            match grip.ratio[0] {
                Some(ratio) => print!("  {ratio:10.3}"),
                None => print!("  {:>10}", "toggle"),
            }
        }
        println!();
    }
    Ok(())
}
