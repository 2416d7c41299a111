//! Arguments of what looks at several tools, or at one tool with other dimensions.

use super::common::{ToolArgs, count};
use clap::Args;
use std::path::PathBuf;

/// Arguments of `compare`.
#[derive(Debug, Args)]
pub(in crate::cli) struct CompareArgs {
    /// Tool files (`-` reads standard input)
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// Vary a dimension over a range: dimension=from:to:step, e.g. strut.length=25:29:0.5 (twice at
    /// most, for a grid)
    #[arg(long, value_name = "RANGE")]
    pub vary: Vec<String>,
    /// Compare this measure, with its position behind @, instead of the usual ones (repeatable)
    #[arg(long, value_name = "MEASURE@POSITION")]
    pub measure: Vec<String>,
    /// Draw the force curves of each tool or variant, twelve at most
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub svg: Option<PathBuf>,
    /// Write the rows as CSV (`-` to standard output)
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub csv: Option<PathBuf>,
    /// Print the rows as JSON instead of the table
    #[arg(long, help_heading = "Output")]
    pub json: bool,
    #[command(flatten)]
    pub tool: ToolArgs,
}

/// Arguments of `report`.
#[derive(Debug, Args)]
pub(in crate::cli) struct ReportArgs {
    /// Tool files; several are put side by side (`-` reads standard input)
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// Write the page here
    #[arg(short, long, value_name = "FILE.html")]
    pub output: PathBuf,
    #[command(flatten)]
    pub tool: ToolArgs,
    /// Samples for tools whose file states tolerances (default: 512, fewer where that takes long)
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = count(2..=10_000_000))]
    pub samples: Option<u64>,
}

/// Arguments of `tolerance`.
#[derive(Debug, Args)]
pub(in crate::cli) struct ToleranceArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Number of samples (default: 20000, fewer where that takes long)
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = count(1..=10_000_000))]
    pub samples: Option<u64>,
    /// Seed of the samples: the same seed gives the same numbers
    #[arg(
        long,
        value_name = "N",
        allow_negative_numbers = true,
        default_value_t = 1,
        value_parser = count(0..=u64::MAX)
    )]
    pub seed: u64,
    /// Spread evenly within the tolerances instead of normally (tolerance = 3 sigma)
    #[arg(long)]
    pub uniform: bool,
    /// Threads to use (default: all cores); the numbers do not depend on it
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = count(1..=256))]
    pub threads: Option<u64>,
    /// Draw ranked shares and histograms
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub svg: Option<PathBuf>,
    /// Write the shares as CSV (`-` to standard output)
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub csv: Option<PathBuf>,
    /// Print all results as JSON instead of text
    #[arg(long, help_heading = "Output")]
    pub json: bool,
    #[command(flatten)]
    pub tool: ToolArgs,
}

/// Arguments of `tune`.
#[derive(Debug, Args)]
pub(in crate::cli) struct TuneArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// The new tool file: the old text with the tuned numbers
    #[arg(short, long, value_name = "NEW")]
    pub output: PathBuf,
    /// Overwrite the new file if it exists
    #[arg(long)]
    pub force: bool,
    /// Print the result as JSON instead of text
    #[arg(long, help_heading = "Output")]
    pub json: bool,
    #[command(flatten)]
    pub tool: ToolArgs,
}
