//! What may be typed.

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::ops::RangeInclusive;
use std::path::PathBuf;

const AFTER: &str = "\
Exit codes:
  0  done, and every demand is met
  1  a demand is not met
  2  the input or the call is wrong
  3  the linkage cannot do what is asked (does not assemble, target out of reach, locks itself)

Start with:
  jawforce new toggle -o mytool.toml
  jawforce stroke mytool.toml --svg mytool.svg

The model is planar, quasi-static and rigid; weights are left out. Prove a tool with a test piece
and a load cell behind a guard before anyone uses it.";

/// A count within limits, with a message that says which.
fn count(range: RangeInclusive<u64>) -> impl Fn(&str) -> Result<u64, String> + Clone {
    move |text: &str| {
        let number = text.trim().parse::<u64>().ok();
        number.filter(|n| range.contains(n)).ok_or_else(|| {
            let (least, most) = (range.start(), range.end());
            format!("write a whole number from {least} to {most}, in digits only")
        })
    }
}

/// Jaw force of a hand tool against hand force, grip by grip, over the stroke.
///
/// A tool file (TOML) describes parts, pins, grips and jaws; the linkage is closed position by
/// position, and virtual work and free bodies, checked against each other, give the forces.
#[derive(Debug, Parser)]
#[command(name = "jawforce", version, after_help = AFTER, max_term_width = 100)]
pub(super) struct Cli {
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Write a commented tool file to start from
    #[command(after_help = "Example:\n  jawforce new toggle -o setter.toml")]
    New(NewArgs),
    /// Say what tool files describe, or list every problem in them
    #[command(after_help = "Example:\n  jawforce check setter.toml")]
    Check(CheckArgs),
    /// Solve the stroke: the forces from open to shut as a table, a chart or data
    #[command(
        after_help = "Examples:\n  jawforce stroke setter.toml --svg setter.svg\n  \
                      jawforce stroke setter.toml --set strut.length=25.2 --grip 40,60 --csv -\n  \
                      jawforce stroke setter.toml --plot --watch"
    )]
    Stroke(StrokeArgs),
    /// Put tools, variants of their dimensions and grips side by side
    #[command(
        after_help = "Examples:\n  jawforce compare concept-a.toml concept-b.toml --svg compare.svg\n  \
                      jawforce compare setter.toml --vary strut.length=23.5:24.5:0.25 --measure hand_force@peak"
    )]
    Compare(CompareArgs),
    /// Pin and link forces, free-body sheets and strength factors
    #[command(after_help = "Examples:\n  jawforce loads setter.toml\n  \
                      jawforce loads setter.toml --at gap=0.4,shut --grip 60 --part ram")]
    Loads(LoadsArgs),
    /// Draw the linkage true to scale, or the free body of one part
    #[command(
        after_help = "Examples:\n  jawforce draw setter.toml --svg setter-drawing.svg\n  \
                      jawforce draw setter.toml --at gap=0.4 --scale 2:1 --part ram --svg ram.svg\n\n\
                      Print at 100 %, without fitting to the page, and measure the scale bar."
    )]
    Draw(DrawArgs),
    /// Print one number of a solved stroke, for shell scripts
    #[command(
        after_help = "Examples:\n  jawforce measure setter.toml hand_force --at peak --grip 60\n  \
                      jawforce measure setter.toml jaw_force --at gap=0.4\n\n\
                      Measures at a position: gap, handle, travel, span, ratio, jaw_force, hand_force,\n\
                      hand_share (hand force over the hand's limit), efficiency (work out over work in),\n\
                      pin_load.NAME;\n\
                      of the stroke: safety, safety.NAME, hand_work, jaw_work.\n\
                      peak and least: the greatest and least value of that very measure over the stroke;\n\
                      --where says at which gap. Units: mm, N, deg, N mm, or in, lbf, deg, in lbf"
    )]
    Measure(MeasureArgs),
    /// Write a design review as one HTML page: what was asked, curves, loads, factors, inputs
    #[command(
        after_help = "Examples:\n  jawforce report setter.toml -o setter.html\n  \
                      jawforce report concept-a.toml concept-b.toml -o review.html"
    )]
    Report(ReportArgs),
    /// Effect of tolerances: contribution of each dimension, worst case and RSS, sampled tools
    #[command(
        after_help = "Example:\n  jawforce tolerance setter.toml --samples 100000 --svg tolerance.svg"
    )]
    Tolerance(ToleranceArgs),
    /// Choose dimensions within their ranges, and write a new tool file with them
    #[command(
        after_help = "Example:\n  jawforce tune setter.toml -o setter-tuned.toml\n\n\
                      The ranges are those of [[tune]], the goal is that of [aim]; the demands are kept as limits.\n\
                      In the tool file:\n  \
                      [[tune]]\n  dimension = \"strut.length\"\n  from = 23.8\n  to = 24.4\n  \
                      [aim]\n  measure = \"hand_force\"\n  at = \"peak\"\n  want = \"least\"   # or \"most\", or a number"
    )]
    Tune(TuneArgs),
    /// Print every key of the tool file: what it takes, its unit, its default, an example
    #[command(after_help = "Examples:\n  jawforce keys\n  jawforce keys hand\n  \
                            jawforce keys stroke.open")]
    Keys(KeysArgs),
    /// Print the JSON Schema of the tool file, for editors
    #[command(after_help = "Example:\n  jawforce schema > tool.schema.json\n\n\
                            Editors that know TOML schemas read a first line\n  \
                            #:schema ./tool.schema.json")]
    Schema,
    /// Print completions for a shell
    #[command(
        hide = true,
        after_help = "Example:\n  jawforce completions bash > jawforce.bash"
    )]
    Completions(CompletionsArgs),
    /// Print the manual page
    #[command(hide = true, after_help = "Example:\n  jawforce man > jawforce.1")]
    Man,
}

/// Arguments of `new`.
#[derive(Debug, Args)]
pub(super) struct NewArgs {
    /// The kind of tool
    #[arg(value_enum, default_value = "toggle")]
    pub concept: Concept,
    /// Write here instead of to standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Overwrite the file if it exists
    #[arg(long)]
    pub force: bool,
}

/// Kinds of starter files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Concept {
    /// Two levers on one pin
    Pliers,
    /// A four-bar: lever, strut and ram
    Toggle,
    /// A lever that drives a plunger in a guide
    Plunger,
    /// Two handles and two jaws on four pins
    Compound,
}

/// How a tool file is read.
#[derive(Debug, Args)]
pub(super) struct ToolArgs {
    /// Change a dimension for this run, e.g. strut.length=26.5 or lever.knee.x="0.6 in" (repeatable)
    #[arg(long = "set", value_name = "DIMENSION=VALUE")]
    pub set: Vec<String>,
    /// Hold the tool at these distances along the hand line instead of the file's, e.g. 70,"4 in"
    #[arg(long, value_name = "LENGTHS", allow_hyphen_values = true)]
    pub grip: Option<String>,
    /// Hand force instead of the file's, e.g. 150 or "33 lbf"
    #[arg(long, value_name = "FORCE", allow_hyphen_values = true)]
    pub hand_force: Option<String>,
    /// Limit of the hand instead of the file's: a force, or a published set by name, e.g.
    /// norm-grip-w-60-64-p5
    #[arg(long, value_name = "LIMIT", allow_hyphen_values = true)]
    pub limit: Option<String>,
    /// Units of the output: mm-N or in-lbf (default: those of the file)
    #[arg(long, value_name = "UNITS")]
    pub units: Option<String>,
    /// No table and no remarks: only errors, and the files or data wanted
    #[arg(short, long)]
    pub quiet: bool,
}

/// Arguments of `check`.
#[derive(Debug, Args)]
pub(super) struct CheckArgs {
    /// Tool files (`-` reads standard input)
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    #[command(flatten)]
    pub tool: ToolArgs,
    /// Also say which demands are met; exit code 1 if one is not
    #[arg(long)]
    pub demands: bool,
    /// Print all findings as JSON instead of text
    #[arg(long, help_heading = "Output")]
    pub json: bool,
}

/// Arguments of `report`.
#[derive(Debug, Args)]
pub(super) struct ReportArgs {
    /// Tool files; several are put side by side (`-` reads standard input)
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// Write the page here
    #[arg(short, long, value_name = "FILE.html")]
    pub output: PathBuf,
    #[command(flatten)]
    pub tool: ToolArgs,
    /// Samples for tools whose file states tolerances (default: 1000, fewer where that takes long)
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = count(2..=10_000_000))]
    pub samples: Option<u64>,
}

/// Arguments of `compare`.
#[derive(Debug, Args)]
pub(super) struct CompareArgs {
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

/// Arguments of `tolerance`.
#[derive(Debug, Args)]
pub(super) struct ToleranceArgs {
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
pub(super) struct TuneArgs {
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

/// Arguments of `keys`.
#[derive(Debug, Args)]
pub(super) struct KeysArgs {
    /// A table such as hand or jaw, or a key of it such as hand.push (default: all tables)
    #[arg(value_name = "TABLE")]
    pub table: Option<String>,
    /// Print the keys as JSON instead of text
    #[arg(long, help_heading = "Output")]
    pub json: bool,
}

/// Arguments of `completions`.
#[derive(Debug, Args)]
pub(super) struct CompletionsArgs {
    /// The shell
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

/// Arguments of `loads`.
#[derive(Debug, Args)]
pub(super) struct LoadsArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Where: open, shut, gap=…, handle=… or span=…, with commas between (default: where the least
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
pub(super) struct DrawArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Where: open, shut, gap=…, handle=… or span=…, with commas between
    #[arg(
        long,
        value_name = "POSITIONS",
        default_value = "open,shut",
        allow_hyphen_values = true
    )]
    pub at: String,
    /// Draw the free body of this part: its forces, their arms and sums
    #[arg(long, value_name = "NAME")]
    pub part: Option<String>,
    /// Paper to tool: 1:1, 2:1, 1:2 …, or fit for an A4 page across (in inches: Letter)
    #[arg(long, value_name = "SCALE", default_value = "1:1")]
    pub scale: String,
    /// Leave the forces out
    #[arg(long)]
    pub no_forces: bool,
    /// The return stroke: friction acts the other way round
    #[arg(long)]
    pub opening: bool,
    /// Write the drawing here instead of to standard output
    #[arg(long, value_name = "FILE", help_heading = "Output")]
    pub svg: Option<PathBuf>,
    /// Print what is drawn as JSON instead: places in mm, forces
    #[arg(long, help_heading = "Output")]
    pub json: bool,
    #[command(flatten)]
    pub tool: ToolArgs,
}

/// Arguments of `measure`.
#[derive(Debug, Args)]
pub(super) struct MeasureArgs {
    /// The tool file (`-` reads standard input)
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// What to read: one of the measures below
    #[arg(value_name = "MEASURE")]
    pub measure: String,
    /// Where: open, shut, peak, least, gap=…, handle=… or span=…
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum Whereabouts {
    /// Gap of the first jaw
    Gap,
    /// Handle angle
    Handle,
}

/// Arguments of `stroke`.
#[derive(Debug, Args)]
pub(super) struct StrokeArgs {
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
