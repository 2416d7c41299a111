//! `tolerance`: how exact the tool comes out.

use super::args::ToleranceArgs;
use super::load::load;
use super::outputs::Outputs;
use super::stroke::{judged_stroke, stroke_with_demands};
use super::study::{samples, unstudied};
use super::verdict::ending;
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::output::{tolerance_chart, tolerance_csv, tolerance_text};
use crate::report::tolerance_report;
use crate::tolerance::{Sampling, Spread};

pub(super) fn run(args: &ToleranceArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    let outputs = Outputs::prepare(
        &[("--svg", &args.svg), ("--csv", &args.csv)],
        args.json,
        &loaded.inputs,
    )?;
    let sampling = Sampling {
        seed: args.seed,
        spread: if args.uniform {
            Spread::Uniform
        } else {
            Spread::Normal
        },
        threads: args.threads.and_then(|t| usize::try_from(t).ok()),
        ..samples(args.samples, 20_000)
    };
    let study = loaded
        .analysis
        .tolerance(&sampling)
        .map_err(|error| unstudied(error, &loaded))?;
    let report = tolerance_report(loaded.tool(), &study, &loaded.source(), loaded.units);
    let svg = outputs.text("--svg", || tolerance_chart(&report, "tolerance"))?;
    let csv = outputs.text("--csv", || tolerance_csv(&report))?;
    outputs.finish(streams, [svg, csv], |streams| {
        streams.answer(args.json, args.tool.quiet, &report, |width| {
            tolerance_text(&report, width)
        })
    })?;
    let drawn = match study.nominal_met() {
        true => Exit::Done,
        false => Exit::NotMet,
    };
    // What a hand can do is no matter of samples: as `stroke` says it.
    let closing = Direction::Closing;
    let stroke = match loaded.tool().has_yield() {
        // It is read off the samples of the first lines.
        true => judged_stroke(&loaded, closing)?,
        false => stroke_with_demands(&loaded, closing)?,
    };
    Ok(drawn.max(ending(&stroke)))
}
