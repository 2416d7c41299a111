//! `people`: who can use the tool, once and again and again.

use super::args::PeopleArgs;
use super::load::load;
use super::locate::stop;
use super::outputs::Outputs;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::output::{people_chart, people_text};
use crate::report::people_report;

pub(super) fn run(args: &PeopleArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    let tool = loaded.tool();
    let group = (tool.job.as_ref()).is_some_and(|job| job.population.is_some());
    if tool.job.is_none() && tool.operators.is_empty() && tool.hand.size.is_none() {
        return Err(Stop::input(format!(
            "error: {}: the file has no [job], no [[operators]] and no `handle` in [hand]; write e.g.\n  [job]\n  \
             strokes = \"6 /min\"\n  held = \"1.5 s\"\n  population = \"w-20-24\"\n  [[operators]]\n  \
             group = \"w-20-24\"\n  count = 12",
            loaded.text.name
        )));
    }
    if args.svg.is_some() && tool.operators.is_empty() && !group {
        return Err(Stop::input(format!(
            "error: {}: the chart is of groups of people: add [[operators]]",
            loaded.text.name
        )));
    }
    let outputs = Outputs::prepare(&[("--svg", &args.svg)], args.json, &loaded.inputs)?;
    let solved = loaded.stroke(Direction::Closing)?;
    let report = people_report(tool, solved, &loaded.source(), loaded.units);
    let report = report.map_err(|failure| stop(failure, &loaded))?;
    let svg = outputs.text("--svg", || people_chart(&report))?;
    outputs.finish(streams, [svg], |streams| {
        streams.answer(args.json, args.tool.quiet, &report, |width| {
            people_text(&report, width)
        })
    })?;
    Ok(match report.verdict.holds() {
        true => Exit::Done,
        false => Exit::NotMet,
    })
}
