//! What may be typed.

mod common;
mod files;
mod one_tool;
mod several;

pub(super) use common::ToolArgs;
pub(super) use files::{
    CheckArgs, CompletionsArgs, Concept, FreezeArgs, KeysArgs, ManArgs, NewArgs,
};
pub(super) use one_tool::{
    DrawArgs, LoadsArgs, MeasureArgs, PartsArgs, PeopleArgs, PointsArgs, SetupArgs, SpringsArgs,
    StrokeArgs, TrialArgs, Whereabouts,
};
pub(super) use several::{CompareArgs, ReportArgs, ToleranceArgs, TuneArgs};

use clap::{Parser, Subcommand};

const AFTER: &str = "\
Exit codes:
  0  done, and every demand is met
  1  a demand is not met
  2  the input or the call is wrong
  3  the linkage cannot do what is asked (does not assemble, target out of reach, locks itself)
The help of a command says which of them it knows.

Start with:
  jawforce new toggle -o mytool.toml
  jawforce stroke mytool.toml --svg mytool.svg
  jawforce keys

Manual pages and completions are printed, to be put where your system looks for them:
  jawforce man --help
  jawforce completions --help

The model is planar, quasi-static and rigid; weights are left out. Prove a tool with a test piece
and a load cell behind a guard before anyone uses it.";

/// Exit codes of the commands that judge the demands of a file.
macro_rules! judged {
    () => {
        "\n\nExit codes:\n  0  every demand is met, and a hand can do the job at one grip at least,\n     \
         once and as often as [job] says\n  \
         1  a demand is not met, or no hand can do the job\n  2  the input or the call is wrong\n  \
         3  the linkage cannot do what is asked, or friction locks it on the way"
    };
}

macro_rules! checked {
    () => {
        "\n\nExit codes:\n  0  nothing is wrong; with --demands: every demand is met, and a hand can do the job\n  \
         1  with --demands: a demand is not met, or no hand can do the job\n  \
         2  the input or the call is wrong\n  \
         3  there is no stroke; with --demands also: friction locks it on the way"
    };
}

macro_rules! compared {
    () => {
        "\n\nExit codes:\n  0  every row meets its demands, and a hand can do the job at one grip at least,\n     \
         once and as often as [job] says\n  \
         1  a row does not, or cannot be solved, or no hand can do the job\n  \
         2  the input or the call is wrong\n  3  no row can be solved"
    };
}

macro_rules! able {
    () => {
        "\n\nExit codes:\n  0  a hand can do the job at one grip at least, once and as often as [job] says\n  \
         1  no hand can\n  2  the input or the call is wrong\n  3  the linkage cannot do what is asked"
    };
}

macro_rules! in_band {
    () => {
        "\n\nExit codes:\n  0  every reading is within the band of the tolerances, or there is no band\n  \
         1  a reading is not\n  2  the input or the call is wrong\n  3  the linkage cannot do what is asked"
    };
}

macro_rules! found {
    () => {
        "\n\nExit codes:\n  0  there is a spring for every place\n  1  for a place there is none\n  \
         2  the input or the call is wrong\n  3  the linkage cannot do what is asked"
    };
}

macro_rules! settled {
    () => {
        "\n\nExit codes:\n  0  every setting can be reached\n  2  the input or the call is wrong\n  \
         3  a setting, or the stroke itself, cannot be reached"
    };
}

macro_rules! done {
    () => {
        "\n\nExit codes (demands are not checked):\n  0  done\n  2  the input or the call is wrong\n  \
         3  the linkage cannot do what is asked"
    };
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
    #[command(
        after_help = "Examples:\n  jawforce new toggle -o setter.toml\n  jawforce new picture --units in-lbf -o mytool.toml"
    )]
    New(NewArgs),
    /// Say what tool files describe, or list every problem in them
    #[command(after_help = concat!("Example:\n  jawforce check setter.toml", checked!()))]
    Check(CheckArgs),
    /// Solve the stroke: the forces from open to shut as a table, a chart or data
    #[command(
        after_help = concat!("Examples:\n  jawforce stroke setter.toml --svg setter.svg\n  \
                      jawforce stroke setter.toml --set strut.length=25.2 --grip 40,60 --csv -\n  \
                      jawforce stroke setter.toml --plot --watch", judged!())
    )]
    Stroke(StrokeArgs),
    /// Put tools, variants of their dimensions and grips side by side
    #[command(
        after_help = concat!("Examples:\n  jawforce compare concept-a.toml concept-b.toml --svg compare.svg\n  \
                      jawforce compare setter.toml --vary strut.length=23.5:24.5:0.25 --measure hand_force@peak", compared!())
    )]
    Compare(CompareArgs),
    /// Pin and link forces, free-body sheets and strength factors
    #[command(after_help = concat!("Examples:\n  jawforce loads setter.toml\n  \
                      jawforce loads setter.toml --at gap=0.4,shut --grip 60 --part ram", done!()))]
    Loads(LoadsArgs),
    /// Draw the linkage true to scale, or the free body of one part
    #[command(
        after_help = concat!("Examples:\n  jawforce draw setter.toml --svg setter-drawing.svg\n  \
                      jawforce draw setter.toml --at gap=0.4 --scale 2:1 --part ram --svg ram.svg\n\n\
                      Print at 100 %, without fitting to the page, and measure the scale bar.", done!())
    )]
    Draw(DrawArgs),
    /// Read pins and marks off a picture: a page to click them in, which shows the tables for a tool file
    #[command(after_help = "Example:\n  jawforce points tool.png -o points.html\n\n\
                            Then draw FILE --over tool.png shows whether the pins sit on the holes.\n\n\
                            Exit codes:\n  0  done\n  2  the picture or the call is wrong")]
    Points(PointsArgs),
    /// List the plates, and write a sheet at full size to cut each of them from
    #[command(after_help = concat!("Examples:\n  jawforce parts setter.toml\n  \
                            jawforce parts setter.toml -o sheets", done!()))]
    Parts(PartsArgs),
    /// Print one number of a solved stroke, for shell scripts
    #[command(
        after_help = concat!("Examples:\n  jawforce measure setter.toml hand_force --at peak --grip 60\n  \
                      jawforce measure setter.toml jaw_force --at gap=0.4\n\n\
                      Measures at a position: gap, handle, travel, span, ratio, jaw_force, hand_force,\n\
                      hand_share (hand force over the hand's limit), efficiency (work out over work in),\n\
                      offset (of the jaw's points across its axis), pin_load.NAME,\n\
                      contact.NAME (normal force of a cam, or of slots.1), pressure_angle.NAME (of a cam);\n\
                      of the stroke: safety, safety.NAME, hand_work, jaw_work, toggle_margin and\n\
                      toggle_margin.gap (left from shut to the nearest toggle or dead position), stop_load.NAME (what a\n\
                      stop carries), spring_safety and spring_stress (of springs of wire), yield (share of\n\
                      the tools made within their tolerances that meet every other demand); of plates with outlines:\n\
                      mass, clearance, clearance.PART.PART (least distance in one layer), pinch (least width beside\n\
                      a handle that a finger fits into), stress.PART; of repeated use ([job]): effort (hand force\n\
                      over the strength of the hand), acceptable_force (by every method), strain_index (revised), hal.\n\
                      Of another jaw than the first: gap.JAW, ratio.JAW and so on, or --jaw JAW.\n\
                      peak and least: the greatest and least value of that very measure over the stroke;\n\
                      --where says at which gap. Units: mm, N, deg, N mm, or in, lbf, deg, in lbf", done!())
    )]
    Measure(MeasureArgs),
    /// Write a design review as one HTML page: what was asked, curves, loads, factors, inputs
    #[command(
        after_help = concat!("Examples:\n  jawforce report setter.toml -o setter.html\n  \
                      jawforce report concept-a.toml concept-b.toml -o review.html", judged!())
    )]
    Report(ReportArgs),
    /// What eccentric pins, screws and shims do to the gap and the forces, setting by setting
    #[command(after_help = concat!("Example:\n  jawforce setup crimper.toml --svg setup.svg", settled!()))]
    Setup(SetupArgs),
    /// Springs of stock wire that have the rate, the room and the strength for the places of a tool's springs
    #[command(after_help = concat!("Examples:\n  jawforce springs setter.toml\n  \
                      jawforce springs setter.toml --outside 12 --made-of \"stainless 302\" --cycles 200000", found!()))]
    Springs(SpringsArgs),
    /// Readings of a trial on the bench against the prediction; what friction, give and zero fit them
    #[command(after_help = concat!("Example:\n  jawforce trial setter.toml --sheet > bench.csv", in_band!()))]
    Trial(TrialArgs),
    /// Who can use the tool, once and again and again: published methods side by side, with their limits
    #[command(
        after_help = concat!("Examples:\n  jawforce people crimper.toml\n  jawforce people crimper.toml --svg people.svg\n\n\
                      In the tool file:\n  \
                      [job]\n  strokes = \"6 /min\"\n  held = \"1.5 s\"\n  hours = 8\n  \
                      population = \"w-20-24\"   # women 20 to 24; `jawforce keys job` says more\n  \
                      [[operators]]\n  group = \"w-20-24\"\n  count = 12", able!())
    )]
    People(PeopleArgs),
    /// Effect of tolerances: contribution of each dimension, worst case and RSS, sampled tools
    #[command(
        after_help = concat!("Example:\n  jawforce tolerance setter.toml --samples 100000 --svg tolerance.svg", judged!())
    )]
    Tolerance(ToleranceArgs),
    /// Choose dimensions within their ranges, and write a new tool file with them
    #[command(
        after_help = concat!("Example:\n  jawforce tune setter.toml -o setter-tuned.toml\n\n\
                      The ranges are those of [[tune]], the goal is that of [aim]; the demands are kept as limits.\n\
                      In the tool file:\n  \
                      [[tune]]\n  dimension = \"strut.length\"\n  from = 23.8\n  to = 24.4\n  \
                      [aim]\n  measure = \"hand_force\"\n  at = \"peak\"\n  want = \"least\"   # or \"most\", or a number", judged!())
    )]
    Tune(TuneArgs),
    /// Write down as numbers what the sketch of a tool file gave, in a new tool file
    #[command(
        after_help = concat!("Example:\n  jawforce freeze concept-b.toml -o frozen.toml\n\n\
                            Places and lengths are in each part's own axes, to 0.01 mm or 0.001 in. The sketch\n\
                            stays; it then only says which way the parts go together.", done!())
    )]
    Freeze(FreezeArgs),
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
        after_help = "Examples:\n  jawforce completions bash > jawforce.bash\n  \
                      jawforce completions zsh > _jawforce\n\n\
                      Where they belong, for one user:\n  \
                      bash  ~/.local/share/bash-completion/completions/jawforce\n  \
                      zsh   _jawforce in a folder of $fpath\n  \
                      fish  ~/.config/fish/completions/jawforce.fish"
    )]
    Completions(CompletionsArgs),
    /// Print the manual page of the program or of one command, or write all of them into a folder
    #[command(
        after_help = "Examples:\n  jawforce man | head -40\n  jawforce man stroke > jawforce-stroke.1\n  \
                      jawforce man -o man1\n\n\
                      Where they belong, for one user: ~/.local/share/man/man1; then `man jawforce-stroke` shows one."
    )]
    Man(ManArgs),
}

impl Command {
    /// Whether results are wanted as JSON.
    pub(super) fn json(&self) -> bool {
        match self {
            Self::Check(args) => args.json,
            Self::Stroke(args) => args.json,
            Self::Compare(args) => args.json,
            Self::Loads(args) => args.json,
            Self::Draw(args) => args.json,
            Self::Setup(args) => args.json,
            Self::Trial(args) => args.json,
            Self::Tolerance(args) => args.json,
            Self::Tune(args) => args.json,
            Self::Keys(args) => args.json,
            Self::Springs(args) => args.json,
            Self::People(args) => args.json,
            Self::New(_)
            | Self::Parts(_)
            | Self::Points(_)
            | Self::Measure(_)
            | Self::Report(_)
            | Self::Freeze(_)
            | Self::Schema
            | Self::Completions(_)
            | Self::Man(_) => false,
        }
    }
}
