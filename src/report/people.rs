//! Who can use the tool, once and again and again: the answer of `people`.

use super::handle::{HandleReport, handle_report};
use super::job::{JobReport, job_report};
use super::operators::{OperatorsReport, operators_report};
use super::show::Source;
use super::stroke::UnitNames;
use super::verdict::VerdictReport;
use crate::analysis::{Failure, Solved};
use crate::limits::CAUTION;
use crate::model::Tool;
use crate::units::UnitSystem;
use serde::Serialize;

/// What is known of the people who use a tool.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PeopleReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The tool file as it was named on the command line.
    pub file: String,
    /// SHA-256 of the file's bytes, hexadecimal.
    pub sha256: String,
    /// Units of every number below.
    pub units: UnitNames,
    /// What a reader wants to know first.
    pub verdict: VerdictReport,
    /// Repeated use; null where the file says nothing of it.
    pub job: Option<JobReport>,
    /// The operators by group; or that which the job is for; null where the file names none.
    pub operators: Option<OperatorsReport>,
    /// The handle against the widest hand; null where its size is not stated.
    pub handle: Option<HandleReport>,
    /// What must be kept in mind.
    pub caution: &'static str,
}

/// The people who use a tool whose stroke, closing, is solved.
///
/// # Errors
/// [`Failure`].
pub fn people_report(
    tool: &Tool,
    solved: &Solved,
    source: &Source,
    units: UnitSystem,
) -> Result<PeopleReport, Failure> {
    Ok(PeopleReport {
        format: 1,
        tool: tool.name.clone(),
        file: source.file.clone(),
        sha256: source.sha256.clone(),
        units: UnitNames::of(units),
        verdict: VerdictReport::of(tool, solved, [0, 0], units),
        job: job_report(tool, solved, units),
        operators: operators_report(tool, units)?,
        handle: handle_report(tool, units),
        caution: CAUTION,
    })
}
