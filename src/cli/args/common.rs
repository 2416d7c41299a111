//! What several commands take: how a tool file is read, and counts within limits.

use clap::Args;
use std::ops::RangeInclusive;

/// A count within limits, with a message that says which.
pub(super) fn count(range: RangeInclusive<u64>) -> impl Fn(&str) -> Result<u64, String> + Clone {
    move |text: &str| {
        let number = text.trim().parse::<u64>().ok();
        number.filter(|n| range.contains(n)).ok_or_else(|| {
            let (least, most) = (range.start(), range.end());
            format!("write a whole number from {least} to {most}, in digits only")
        })
    }
}

/// How a tool file is read.
#[derive(Debug, Default, Args)]
pub(in crate::cli) struct ToolArgs {
    /// Change a number of the file for this run, e.g. strut.length=26.5, lever.knee.x="0.6 in" or
    /// joints.friction=0.1 (repeatable)
    #[arg(long = "set", value_name = "ADDRESS=VALUE")]
    pub set: Vec<String>,
    /// Turn an adjuster of the file to a setting or a notch, e.g. set-up=20 (degrees of an eccentric pin),
    /// screw=0.3 (added to its dimension), set-up=notch3 (repeatable)
    #[arg(long = "adjust", value_name = "NAME=SETTING")]
    pub adjust: Vec<String>,
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
    /// Put this jaw in view in place of the first: its gaps, forces, work and curves
    #[arg(long, value_name = "NAME")]
    pub jaw: Option<String>,
    /// Units of the output: mm-N or in-lbf (default: those of the file)
    #[arg(long, value_name = "UNITS")]
    pub units: Option<String>,
    /// No table and no remarks: only errors, and the files or data wanted
    #[arg(short, long)]
    pub quiet: bool,
}
