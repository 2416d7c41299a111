//! `setup`: what the setter's adjusters do.

use super::args::SetupArgs;
use super::load::load;
use super::loaded::Loaded;
use super::outputs::Outputs;
use super::study::{samples, unstudied};
use super::{Exit, Stop, Streams};
use crate::measure::Measure;
use crate::model::{At, Tool};
use crate::output::{setup_chart, setup_text};
use crate::report::{SetupReport, setup_report};
use crate::tolerance::{Study, StudyError};

/// Samples for the worst case, which needs none: as few as are drawn.
const SAMPLES: usize = 100;

pub(super) fn run(args: &SetupArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let loaded = load(&args.file, &args.tool)?;
    if loaded.tool().adjusters.is_empty() {
        return Err(Stop::input(format!(
            "error: {}: the file has no [[adjusters]]; write e.g.\n  [[adjusters]]\n  name = \"screw\"\n  \
             dimension = \"frame.anvil.y\"\n  pitch = 0.5\n  from = -1\n  to = 1",
            loaded.text.name
        )));
    }
    let outputs = Outputs::prepare(&[("--svg", &args.svg)], args.json, &loaded.inputs)?;
    let report = report(&loaded)?;
    let svg = outputs.text("--svg", || setup_chart(&report))?;
    outputs.finish(streams, [svg], |streams| {
        streams.answer(args.json, args.tool.quiet, &report, |width| {
            setup_text(&report, width)
        })
    })?;
    let works = |setting: &crate::report::SettingReport| setting.problem.is_none();
    let mut settings = report.adjusters.iter().flat_map(|a| &a.settings);
    Ok(match settings.all(works) {
        true => Exit::Done,
        false => Exit::Cannot,
    })
}

/// What the adjusters do; of the worst case of the gap at shut only with tolerances.
fn report(loaded: &Loaded) -> Result<SetupReport, Stop> {
    let worst = match loaded.tool().tolerances.stated() {
        false => None,
        true => match loaded.analysis.tolerance(&samples(None, SAMPLES)) {
            Ok(study) => worst_gap(loaded.tool(), &study),
            Err(StudyError::NothingVaries) => None,
            Err(error) => return Err(unstudied(error, loaded)),
        },
    };
    Ok(setup_report(
        loaded.tool(),
        &loaded.source(),
        loaded.units,
        worst,
    ))
}

/// Worst case of the gap at shut, mm.
pub(super) fn worst_gap(tool: &Tool, study: &Study) -> Option<f64> {
    let gap = study.findings.iter().find(|finding| {
        let subject = &finding.subject;
        subject.measure == Measure::Gap
            && subject.at == Some(At::Shut)
            && subject.jaw == tool.stroke.lead
    });
    gap.map(|finding| finding.worst)
}
