//! Arguments of what is asked of one tool as it stands.

use super::common::{ToolArgs, count};
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// Arguments of `stroke`.
#[derive(Debug, Args)]
pub(in crate::cli) struct StrokeArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    #[command(flatten)]
    pub tool: ToolArgs,
    /// Steps from open to shut, equal in handle angle (default: the file's)
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = count(2..=100_000))]
    pub steps: Option<u64>,
    /// Solve the return stroke instead: friction acts the other way round
    #[arg(long)]
    pub opening: bool,
    /// Print a row for every position, not for a selection
    #[arg(long)]
    pub all: bool,
    /// Also plot the force curves as characters below the table
    #[arg(long)]
    pub plot: bool,
    /// Run again each time the tool file changes, until Ctrl-C
    #[arg(long)]
    pub watch: bool,
    /// Draw the force curves across the handle's travel
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub svg: Option<PathBuf>,
    /// Write all positions as CSV (`-` to standard output)
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub csv: Option<PathBuf>,
    /// Print all results as JSON instead of the table
    #[arg(long, help_heading = "Output")]
    pub json: bool,
}

/// Arguments of `loads`.
#[derive(Debug, Args)]
pub(in crate::cli) struct LoadsArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Where: open, shut, gap=…, handle=…, span=… or stop=NAME, with commas between (default: where the least
    /// strength factor is)
    #[arg(long, value_name = "POSITIONS", allow_hyphen_values = true)]
    pub at: Option<String>,
    /// Print the free-body sheets of this part only
    #[arg(long, value_name = "NAME")]
    pub part: Option<String>,
    /// The return stroke: friction acts the other way round
    #[arg(long)]
    pub opening: bool,
    /// Write the free-body sheets as CSV (`-` to standard output)
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub csv: Option<PathBuf>,
    /// Print all results as JSON instead of text
    #[arg(long, help_heading = "Output")]
    pub json: bool,
    #[command(flatten)]
    pub tool: ToolArgs,
}

/// Arguments of `draw`.
#[derive(Debug, Args)]
pub(in crate::cli) struct DrawArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Where: open, shut, gap=…, handle=…, span=… or stop=NAME, with commas between; open and shut where none is named
    #[arg(long, value_name = "POSITIONS", allow_hyphen_values = true)]
    pub at: Option<String>,
    /// Draw over the picture that the [sketch] was read off, to see whether pins sit on its holes: as sketched, or at
    /// the one position of --at
    #[arg(
        long,
        value_name = "PICTURE",
        conflicts_with_all = ["part", "scale", "no_forces", "stress", "page", "json"]
    )]
    pub over: Option<PathBuf>,
    /// Draw the free body of this part: its forces, their arms and sums
    #[arg(long, value_name = "NAME")]
    pub part: Option<String>,
    /// Paper to tool: 1:1, 2:1, 1:2 …, or fit: the largest standard scale for a sheet of A4 (in inches: Letter)
    #[arg(long, value_name = "SCALE", default_value = "1:1")]
    pub scale: String,
    /// Leave the forces out
    #[arg(long)]
    pub no_forces: bool,
    /// With --part: draw the stress along the edges of its plates, which need an outline and no width
    #[arg(long, requires = "part")]
    pub stress: bool,
    /// The return stroke: friction acts the other way round
    #[arg(long)]
    pub opening: bool,
    /// Write the tool in motion here, with its force curves, as a web page
    #[arg(
        long,
        value_name = "FILE",
        help_heading = "Output",
        conflicts_with_all = ["at", "part", "scale", "no_forces", "stress", "svg", "json"]
    )]
    pub page: Option<PathBuf>,
    /// Write the drawing here instead of to standard output; where one small sheet cannot hold all positions, each on
    /// its own sheet, in files numbered NAME-1, NAME-2 …
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub svg: Option<PathBuf>,
    /// Print what is drawn as JSON instead: places in mm, forces
    #[arg(long, help_heading = "Output")]
    pub json: bool,
    #[command(flatten)]
    pub tool: ToolArgs,
}

/// Arguments of `points`.
#[derive(Debug, Args)]
pub(in crate::cli) struct PointsArgs {
    /// The picture: PNG, JPEG or SVG
    #[arg(value_name = "PICTURE")]
    pub picture: PathBuf,
    /// Write the page here instead of to standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// No remarks: only errors
    #[arg(short, long)]
    pub quiet: bool,
}

/// Arguments of `measure`.
#[derive(Debug, Args)]
pub(in crate::cli) struct MeasureArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// What to read: one of the measures below
    #[arg(value_name = "MEASURE")]
    pub measure: String,
    /// Where: open, shut, peak, least, gap=…, handle=…, span=… or stop=NAME
    #[arg(long, value_name = "POSITION", allow_hyphen_values = true)]
    pub at: Option<String>,
    /// Print where the peak or the least value stands instead of the value
    #[arg(long, value_enum, value_name = "WHAT")]
    pub r#where: Option<Whereabouts>,
    /// The return stroke: friction acts the other way round
    #[arg(long)]
    pub opening: bool,
    #[command(flatten)]
    pub tool: ToolArgs,
}

/// What tells a position of the stroke.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum Whereabouts {
    /// Gap of the jaw
    Gap,
    /// Handle angle
    Handle,
}

/// Arguments of `parts`.
#[derive(Debug, Args)]
pub(in crate::cli) struct PartsArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    #[command(flatten)]
    pub tool: ToolArgs,
    /// Write PART.svg for every part with an outline and parts.csv into this folder
    #[arg(short, long, value_name = "DIR", help_heading = "Output")]
    pub output: Option<PathBuf>,
    /// Overwrite files of these names that exist
    #[arg(long, help_heading = "Output")]
    pub force: bool,
    /// Print the list as JSON instead of a table
    #[arg(long, help_heading = "Output")]
    pub json: bool,
}

/// Arguments of `setup`.
#[derive(Debug, Args)]
pub(in crate::cli) struct SetupArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    #[command(flatten)]
    pub tool: ToolArgs,
    /// Write the chart: gap, forces and ratio over the settings (`-` for standard output)
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub svg: Option<PathBuf>,
    /// Print all settings as JSON instead of tables
    #[arg(long, help_heading = "Output")]
    pub json: bool,
}

/// Arguments of `springs`.
#[derive(Debug, Args)]
pub(in crate::cli) struct SpringsArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    #[command(flatten)]
    pub tool: ToolArgs,
    /// Outside diameter of the coils, e.g. 12 or "0.5 in" (default: that of the spring, or whatever does it)
    #[arg(long, value_name = "LENGTH")]
    pub outside: Option<String>,
    /// Kind of wire (default: that of the spring, or music wire)
    #[arg(long, value_name = "WIRE", value_parser = ["music wire", "hard-drawn", "oil-tempered", "stainless 302"])]
    pub made_of: Option<String>,
    /// How often the spring is loaded and let go (default: as the file says)
    #[arg(long, value_name = "N", value_parser = count(1..=1_000_000_000_000))]
    pub cycles: Option<u64>,
    /// Print all numbers as JSON instead of tables
    #[arg(long, help_heading = "Output")]
    pub json: bool,
}

/// Arguments of `people`.
#[derive(Debug, Args)]
pub(in crate::cli) struct PeopleArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    #[command(flatten)]
    pub tool: ToolArgs,
    /// Write the chart: share of each group able over hand force (`-` for standard output)
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub svg: Option<PathBuf>,
    /// Print the result as JSON instead of text
    #[arg(long, help_heading = "Output")]
    pub json: bool,
}

/// Arguments of `trial`.
#[derive(Debug, Args)]
pub(in crate::cli) struct TrialArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// CSV file of the readings: gap, jaw_force, hand_force, direction (closing or opening), grip; left out, that
    /// of the tool file's [trial]
    #[arg(value_name = "DATA")]
    pub data: Option<PathBuf>,
    #[command(flatten)]
    pub tool: ToolArgs,
    /// Print what to measure, as a CSV file to fill in
    #[arg(long)]
    pub sheet: bool,
    /// Error of a reading in per cent of itself: what the band is widened by, and chi-square counts in
    /// [default: the tool file's, else 5]
    #[arg(long, value_name = "PERCENT")]
    pub error: Option<f64>,
    /// Write the chart: readings on the predicted curves (`-` for standard output)
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub svg: Option<PathBuf>,
    /// Print all numbers as JSON instead of text
    #[arg(long, help_heading = "Output")]
    pub json: bool,
}
