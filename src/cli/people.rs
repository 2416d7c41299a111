//! `people`: who can use the tool, once and again and again.

use super::args::PeopleArgs;
use super::load::load;
use super::outputs::Outputs;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::output::people_text;
use crate::report::people_report;

pub(super) fn run(args: &PeopleArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    let tool = loaded.tool();
    if tool.job.is_none() {
        return Err(Stop::input(format!(
            "error: {}: the file has no [job]; write e.g.\n  [job]\n  strokes = \"6 /min\"\n  held = \"1.5 s\"\n  \
             population = \"w-20-24\"",
            loaded.text.name
        )));
    }
    let outputs = Outputs::prepare(&[], args.json, &loaded.inputs)?;
    let solved = loaded.stroke(Direction::Closing)?;
    let report = people_report(tool, solved, &loaded.source(), loaded.units);
    outputs.finish(streams, [], |streams| {
        streams.answer(args.json, args.tool.quiet, &report, |width| {
            people_text(&report, width)
        })
    })?;
    Ok(match report.verdict.holds() {
        true => Exit::Done,
        false => Exit::NotMet,
    })
}
