//! `setup`: what the setter's adjusters do.

use super::args::SetupArgs;
use super::load::load;
use super::loaded::Loaded;
use super::tolerance::{samples, unstudied};
use super::{Exit, Stop, Streams};
use crate::measure::Measure;
use crate::model::At;
use crate::output::setup_text;
use crate::report::setup_report;
use crate::tolerance::StudyError;

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
    let worst = worst(&loaded)?;
    let report = setup_report(loaded.tool(), &loaded.source(), loaded.units, worst);
    let text = streams.answer(args.json, args.tool.quiet, &report, |width| {
        setup_text(&report, width)
    })?;
    streams.print(&text)?;
    let works = |setting: &crate::report::SettingReport| setting.problem.is_none();
    let mut settings = report.adjusters.iter().flat_map(|a| &a.settings);
    Ok(match settings.all(works) {
        true => Exit::Done,
        false => Exit::Cannot,
    })
}

/// Worst case of the gap at shut, mm; `None` without tolerances, and where it has no value.
fn worst(loaded: &Loaded) -> Result<Option<f64>, Stop> {
    if !loaded.tool().tolerances.stated() {
        return Ok(None);
    }
    let study = match loaded.analysis.tolerance(&samples(None, SAMPLES)) {
        Ok(study) => study,
        Err(StudyError::NothingVaries) => return Ok(None),
        Err(error) => return Err(unstudied(error, loaded)),
    };
    let gap = study.findings.iter().find(|finding| {
        let subject = &finding.subject;
        subject.measure == Measure::Gap
            && subject.at == Some(At::Shut)
            && subject.jaw == loaded.tool().stroke.lead
    });
    Ok(gap.map(|finding| finding.worst))
}
