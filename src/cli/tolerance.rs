//! `tolerance`: how exact the tool comes out.

use super::args::ToleranceArgs;
use super::files::Target;
use super::load::{Loaded, load, stop};
use super::{Outcome, Stop, Streams};
use crate::output::{tolerance_chart, tolerance_csv, tolerance_text};
use crate::report::tolerance_report;
use crate::tolerance::{Sampling, Spread, Study, StudyError, study};
use std::path::Path;

pub(super) fn run(args: &ToleranceArgs, streams: &mut Streams) -> Result<Outcome, Stop> {
    let loaded = load(&args.file, &args.tool, streams)?;
    let dash = Path::new("-");
    let csv_out = args.csv.as_deref() == Some(dash);
    if csv_out && args.json {
        return Err(Stop::input(
            "error: --json and --csv - both write to standard output; give --csv a file",
        ));
    }
    let failed = |e: String| Stop::input(format!("error: {e}"));
    let prepare = |path: &Option<std::path::PathBuf>| match path {
        Some(path) if path != dash => Target::prepare(path, &loaded.inputs)
            .map(Some)
            .map_err(failed),
        _ => Ok(None),
    };
    let (svg, csv) = (prepare(&args.svg)?, prepare(&args.csv)?);
    let sampling = Sampling {
        samples: usize::try_from(args.samples).unwrap_or(usize::MAX),
        seed: args.seed,
        spread: if args.uniform {
            Spread::Uniform
        } else {
            Spread::Normal
        },
        threads: args.threads.and_then(|t| usize::try_from(t).ok()),
    };
    let study = studied(&loaded, &sampling, streams.styled)?;
    let report = tolerance_report(&loaded.tool, &study, &loaded.source(), loaded.units);
    let bug = |e: &dyn std::fmt::Display| Stop {
        outcome: Outcome::Cannot,
        text: format!("error: {e}"),
    };
    let csv_text = if args.csv.is_some() {
        tolerance_csv(&report).map_err(|e| bug(&e))?
    } else {
        String::new()
    };
    let text = if args.json {
        let json = serde_json::to_string_pretty(&report).map_err(|e| bug(&e))?;
        format!("{json}\n")
    } else if csv_out {
        csv_text.clone()
    } else if args.tool.quiet {
        String::new()
    } else {
        streams.painted(tolerance_text(&report))
    };
    let mut staged = Vec::new();
    for (target, text) in [
        (svg, tolerance_chart(&report, "tolerance")),
        (csv, csv_text),
    ] {
        if let Some(target) = target {
            staged.push(target.stage(text).map_err(failed)?);
        }
    }
    streams.print(&text)?;
    for output in staged {
        output.commit().map_err(failed)?;
    }
    let met = study.findings.iter().all(|f| f.nominal_met != Some(false));
    Ok(if met { Outcome::Done } else { Outcome::NotMet })
}

/// The study, or why there is none.
pub(super) fn studied(loaded: &Loaded, sampling: &Sampling, styled: bool) -> Result<Study, Stop> {
    let failed = |e: String| Stop::input(format!("error: {e}"));
    let name = &loaded.text.name;
    let cannot = |text: String| Stop {
        outcome: Outcome::Cannot,
        text: format!("error: {name}: {text}"),
    };
    study(&loaded.tool, sampling).map_err(|e| match e {
        StudyError::NoTolerances => failed(format!(
            "{name}: the file has no [tolerances]; write e.g.\n  [tolerances]\n  class = \"ISO 2768-m\"\n  \
             \"strut.length\" = 0.05"
        )),
        StudyError::NothingVaries => {
            failed(format!("{name}: [tolerances] gives no dimension any room; state a class or a value"))
        }
        StudyError::Mount(error) => stop(error.into(), loaded, styled),
        StudyError::Motion(error) => stop(error.into(), loaded, styled),
        StudyError::Position { measure, error } => {
            cannot(format!("`{measure}`: {}", error.text(&loaded.tool, loaded.units)))
        }
        StudyError::Measure(error) => failed(format!("{name}: {error}")),
        StudyError::Threads(text) => failed(text),
    })
}
