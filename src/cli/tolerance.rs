//! `tolerance`: how exact the tool comes out.

use super::args::ToleranceArgs;
use super::load::load;
use super::loaded::Loaded;
use super::locate::stop;
use super::outputs::{Outputs, failed};
use super::{Exit, Stop, Streams};
use crate::output::{tolerance_chart, tolerance_csv, tolerance_text};
use crate::report::tolerance_report;
use crate::tolerance::{Sampling, Spread, StudyError};

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
    Ok(if study.nominal_met() {
        Exit::Done
    } else {
        Exit::NotMet
    })
}

/// A run of as many samples as are `typed`, or of `usual` ones, or fewer where those take long.
pub(super) fn samples(typed: Option<u64>, usual: usize) -> Sampling {
    Sampling {
        samples: typed.map_or(usual, |n| usize::try_from(n).unwrap_or(usize::MAX)),
        fewer: typed.is_none(),
        ..Sampling::default()
    }
}

/// Why demands at all their grips are too many to be read off samples.
pub(super) fn too_many(measures: usize) -> String {
    format!(
        "{measures} measures (demands at all their grips) would take minutes to read off samples; ask for fewer \
         demands, grips or joints at a time"
    )
}

/// Why there is no study, as the end of a run.
pub(super) fn unstudied(error: StudyError, loaded: &Loaded) -> Stop {
    let name = &loaded.text.name;
    let cannot = |text: String| Stop::cannot(format!("error: {name}: {text}"));
    match error {
        StudyError::NoTolerances => failed(format!(
            "{name}: the file has no [tolerances]; write e.g.\n  [tolerances]\n  class = \"ISO 2768-m\"   # or one \
             figure for all lengths: class = \"0.1 mm\"\n  \"strut.length\" = 0.05"
        )),
        StudyError::NothingVaries => failed(format!(
            "{name}: [tolerances] gives no dimension any room; state a class or a value"
        )),
        StudyError::Mount(error) => stop(error.into(), loaded),
        StudyError::Motion(error) => stop(error.into(), loaded),
        StudyError::Failure(failure) => stop(failure, loaded),
        StudyError::Position { measure, error } => cannot(format!(
            "`{measure}`: {}",
            error.text(loaded.tool(), loaded.units)
        )),
        StudyError::Threads(text) => failed(text),
        StudyError::TooManyMeasures(count) => failed(format!("{name}: {}", too_many(count))),
        StudyError::TooManySamples { most } => failed(format!(
            "{name}: so many samples do not fit in memory; ask for at most --samples {most}"
        )),
    }
}
