//! Arguments of what has to do with tool files and not with forces: writing, checking, looking up keys.

use super::common::ToolArgs;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// Arguments of `new`.
#[derive(Debug, Args)]
pub(in crate::cli) struct NewArgs {
    /// The kind of tool
    #[arg(value_enum, default_value = "toggle")]
    pub concept: Concept,
    /// Units of the file: mm-N or in-lbf
    #[arg(long, value_name = "UNITS", default_value = "mm-N", value_parser = ["mm-N", "in-lbf"])]
    pub units: String,
    /// Write here instead of to standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Overwrite the file if it exists
    #[arg(long)]
    pub force: bool,
}

/// Kinds of starter files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum Concept {
    /// Two levers on one pin
    Pliers,
    /// A four-bar: lever, strut and ram
    Toggle,
    /// A lever that drives a plunger in a guide
    Plunger,
    /// Two handles and two jaws on four pins
    Compound,
    /// Two levers on one pin, with three nests along the jaw
    Nests,
    /// Two halves on pins of their own whose teeth mesh
    Geared,
    /// A cam on a lever that pushes a ram
    Cam,
    /// A four-bar whose points are read off a picture, in pixels
    Picture,
}

/// Arguments of `check`.
#[derive(Debug, Args)]
pub(in crate::cli) struct CheckArgs {
    /// Tool files (`-` reads standard input)
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    #[command(flatten)]
    pub tool: ToolArgs,
    /// Also say which demands are met; exit code 1 if one is not
    #[arg(long)]
    pub demands: bool,
    /// Also list what the whole motion holds far from the stroke
    #[arg(long)]
    pub all: bool,
    /// Print all findings as JSON instead of text
    #[arg(long, help_heading = "Output")]
    pub json: bool,
}

/// Arguments of `freeze`.
#[derive(Debug, Args)]
pub(in crate::cli) struct FreezeArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// The new tool file: the old text with numbers in place of names
    #[arg(short, long, value_name = "NEW")]
    pub output: PathBuf,
    /// Write all digits instead of what calipers read
    #[arg(long)]
    pub exact: bool,
    /// Overwrite the new file if it exists
    #[arg(long)]
    pub force: bool,
    /// Say nothing of what was written
    #[arg(short, long)]
    pub quiet: bool,
}

/// Arguments of `keys`.
#[derive(Debug, Args)]
pub(in crate::cli) struct KeysArgs {
    /// A table such as hand or jaw, or a key of it such as hand.push (default: all tables)
    #[arg(value_name = "TABLE")]
    pub table: Option<String>,
    /// Print the keys as JSON instead of text
    #[arg(long, help_heading = "Output")]
    pub json: bool,
}

/// Arguments of `completions`.
#[derive(Debug, Args)]
pub(in crate::cli) struct CompletionsArgs {
    /// The shell
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

/// Arguments of `man`.
#[derive(Debug, Args)]
pub(in crate::cli) struct ManArgs {
    /// The command; left out: the program
    pub command: Option<String>,

    /// Write the pages of the program and of all commands into this folder
    #[arg(short, long, value_name = "DIR", conflicts_with = "command")]
    pub output: Option<PathBuf>,
}
