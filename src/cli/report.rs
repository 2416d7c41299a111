//! `report`: a design review of one or several tools as one HTML page.

use super::args::ReportArgs;
use super::files::Text;
use super::load::load;
use super::loaded::Loaded;
use super::loads::worst_loads;
use super::locate::stop;
use super::motion::motion;
use super::outputs::Outputs;
use super::setup::worst_gap;
use super::stroke::{stroke_in, stroke_with_demands};
use super::study::{samples, too_many, unstudied};
use super::trial::of_file;
use super::verdict::{complete, complete_in, ending};
use super::{Exit, Stop, Streams};
use crate::analysis::Direction;
use crate::compare::{Variant, compare, usual_columns};
use crate::model::{At, GripId};
use crate::output::review_page;
use crate::report::{
    CompareReport, InputText, ReviewReport, ToolReview, compare_report, drawing_report,
    margin_line, plates_report, room_report, setup_report, tolerance_report,
};
use crate::scene::scenes;
use crate::tolerance::{LOOK, Study, StudyError};
use crate::units::UnitSystem;
use std::path::PathBuf;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

pub(super) fn run(args: &ReportArgs, streams: &mut Streams) -> Result<Exit, Stop> {
    let mut loaded = Vec::new();
    for path in &args.files {
        loaded.push(load(path, &args.tool)?);
    }
    let inputs: Vec<PathBuf> = loaded.iter().flat_map(|l| l.inputs.clone()).collect();
    let output = Some(args.output.clone());
    let outputs = Outputs::prepare(&[("--output", &output)], false, &inputs)?;
    let mut tools = Vec::new();
    for one in &loaded {
        let units = loaded.first().map_or(one.units, |first| first.units);
        tools.push(review(one, args.samples, units)?);
    }
    let report = ReviewReport {
        format: 1,
        version: env!("CARGO_PKG_VERSION"),
        date: today(),
        tools,
        compare: loaded.split_first().and_then(|(first, more)| {
            (!more.is_empty()).then(|| side_by_side(&loaded, first.units))
        }),
    };
    let page = outputs.text("--output", || review_page(&report))?;
    let size = page.as_ref().map_or(0, |page| page.len().div_ceil(1024));
    outputs.finish(streams, [page], |_| Ok(String::new()))?;
    if !args.tool.quiet {
        let name = args.output.display();
        streams.tell(&format!(
            "wrote {name}, {size} kB; it opens in any browser and prints from there"
        ));
    }
    let ends = report.tools.iter().map(|tool| ending(&tool.stroke));
    Ok(ends.max().unwrap_or(Exit::Done))
}

/// The review of one tool; `units`: those of the first, for the picture beside the others.
fn review(loaded: &Loaded, typed: Option<u64>, units: UnitSystem) -> Result<ToolReview, Stop> {
    let (tool, closing) = (loaded.tool(), Direction::Closing);
    let (study, no_tolerance) = match tool.tolerances.stated() {
        true => match study(loaded, typed) {
            Ok(study) => (Some(study), None),
            // The rest of the review is no less true without it.
            Err(StudyError::TooManyMeasures(count)) => (None, Some(too_many(count))),
            Err(error) => return Err(unstudied(error, loaded)),
        },
        false => (None, None),
    };
    let text = |text: &Text| InputText {
        name: text.name.clone(),
        sha256: text.sha256.clone(),
        text: text.text.clone(),
    };
    let ends = [At::Open, At::Shut];
    let drawing = scenes(&mut loaded.rig(closing)?, &ends, GripId::FIRST).ok();
    let (mut plates, mut room) = (None, None);
    if !tool.outlines.is_empty() {
        plates = plates_report(tool, drawing.as_ref(), loaded.units);
        let seen = loaded.analysis.room().map_err(|e| stop(e, loaded))?;
        room = room_report(tool, seen, loaded.rig(closing)?.whole(), loaded.units);
    }
    let mut stroke = stroke_with_demands(loaded, closing)?;
    let made = study.as_ref().map(Ok).or(no_tolerance.as_deref().map(Err));
    complete(&mut stroke.verdict, loaded, closing, made)?;
    let beside = match units == loaded.units {
        true => None,
        false => {
            let mut beside = stroke_in(units, loaded, closing)?;
            complete_in(units, &mut beside.verdict, loaded, closing, made)?;
            Some(beside)
        }
    };
    let moved = match &drawing {
        Some(_) => motion(loaded, &stroke, closing)?,
        None => None,
    };
    // The rest of the review is no less true where the readings cannot be laid on it.
    let (trial, no_trial) = match of_file(loaded) {
        Ok(trial) => (trial, None),
        Err(stop) => (None, Some(stop.text(false).replace("error: ", ""))),
    };
    Ok(ToolReview {
        motion: moved,
        note: tool.note.clone(),
        margin: margin_line(loaded.rig(closing)?.margin(), loaded.units),
        stroke,
        beside,
        loads: worst_loads(loaded, closing)?,
        plates,
        room,
        setup: (!tool.adjusters.is_empty()).then(|| {
            let worst = study.as_ref().and_then(|study| worst_gap(tool, study));
            setup_report(tool, &loaded.source(), loaded.units, worst)
        }),
        drawing: drawing
            .map(|s| drawing_report(tool, &s, None, closing, &loaded.source(), loaded.units)),
        tolerance: study.map(|s| tolerance_report(tool, &s, &loaded.source(), loaded.units)),
        no_tolerance,
        trial,
        no_trial,
        changes: loaded.overrides.clone(),
        inputs: std::iter::once(&loaded.text)
            .chain(&loaded.beside)
            .map(text)
            .collect(),
    })
}

/// Of as many samples as are typed, or of those behind the first lines of every command.
fn study(loaded: &Loaded, typed: Option<u64>) -> Result<Study, StudyError> {
    match typed {
        Some(_) => loaded.analysis.tolerance(&samples(typed, LOOK)),
        None => loaded.analysis.look(),
    }
}

fn side_by_side(loaded: &[Loaded], units: UnitSystem) -> CompareReport {
    let tools: Vec<_> = loaded.iter().map(|l| l.tool()).collect();
    let columns = usual_columns(&tools);
    let variant = |(file, one): (usize, &Loaded)| Variant {
        file,
        set: Vec::new(),
        tool: one.tool().clone(),
    };
    let variants: Vec<Variant> = loaded.iter().enumerate().map(variant).collect();
    let rows = compare(&variants, &columns, &|| {});
    let files: Vec<String> = loaded.iter().map(|l| l.text.name.clone()).collect();
    compare_report(&files, &variants, &columns, &rows, units)
}

/// The day, in UTC. `SOURCE_DATE_EPOCH` (seconds since 1970, the convention of reproducible builds)
/// sets it, so that the same files give the same bytes.
pub(super) fn today() -> String {
    let set = std::env::var("SOURCE_DATE_EPOCH").ok();
    let now = match set.and_then(|s| s.parse().ok()).map(Duration::from_secs) {
        Some(since) => UNIX_EPOCH.checked_add(since),
        None => Some(SystemTime::now()),
    };
    // A year beyond 9999 has no date in this calendar.
    let in_range = |t: &SystemTime| {
        t.duration_since(UNIX_EPOCH)
            .is_ok_and(|d| d.as_secs() < 253_402_300_800)
    };
    let date = now
        .filter(in_range)
        .map(|t| time::OffsetDateTime::from(t).date());
    date.map_or_else(|| "undated".to_owned(), |d| d.to_string())
}
