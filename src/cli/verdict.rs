//! The first lines of an answer, the same for every command.

use super::loaded::Loaded;
use super::study::{too_many, unstudied};
use super::{Exit, Stop};
use crate::analysis::Direction;
use crate::model::Measure;
use crate::report::{StrokeReport, VerdictReport};
use crate::tolerance::{Study, StudyError};
use crate::units::UnitSystem;

/// The study behind the first lines: `None` where the file says nothing of tolerances or demands nothing,
/// and for the return stroke; or why there is none.
pub(super) fn look_at_made(
    loaded: &Loaded,
    direction: Direction,
) -> Result<Option<Result<Study, String>>, Stop> {
    let tool = loaded.tool();
    let nothing = !tool.tolerances.stated() || tool.demands.is_empty();
    if nothing || direction == Direction::Opening {
        return Ok(None);
    }
    match loaded.analysis.look() {
        Ok(study) => Ok(Some(Ok(study))),
        Err(StudyError::NothingVaries) => Ok(None),
        Err(StudyError::TooManyMeasures(count)) => Ok(Some(Err(too_many(count)))),
        Err(error) => Err(unstudied(error, loaded)),
    }
}

/// How a run ends that judges the demands of a file: the same for every command that does.
pub(super) fn ending(stroke: &StrokeReport) -> Exit {
    let mut jaws = (stroke.positions.iter())
        .flat_map(|position| &position.grips)
        .flat_map(|grip| grip.jaws.values());
    match stroke.verdict.holds() {
        _ if jaws.any(|jaw| jaw.locked || jaw.lifts_off) => Exit::Cannot,
        true => Exit::Done,
        false => Exit::NotMet,
    }
}

/// Adds to a verdict what the stroke and the demands by themselves do not tell.
pub(super) fn complete(
    verdict: &mut VerdictReport,
    loaded: &Loaded,
    direction: Direction,
    made: Option<Result<&Study, &str>>,
) -> Result<(), Stop> {
    complete_in(loaded.units, verdict, loaded, direction, made)
}

/// The same for a verdict in these units.
pub(super) fn complete_in(
    units: UnitSystem,
    verdict: &mut VerdictReport,
    loaded: &Loaded,
    direction: Direction,
    made: Option<Result<&Study, &str>>,
) -> Result<(), Stop> {
    let tool = loaded.tool();
    verdict.add_assumed(tool, &|key| loaded.spans.contains_key(key));
    if (tool.demands.iter())
        .any(|demand| matches!(demand.measure, Measure::Safety(_) | Measure::Stress(_)))
    {
        verdict.add_strength(tool, loaded.strength(direction)?);
    }
    verdict.add_life(tool, loaded.life()?.as_ref(), units);
    verdict.add_heights(tool, &loaded.heights()?, units);
    verdict.add_springs(tool, &loaded.wound_springs()?, units);
    match made.map(|study| study.map(Study::made)) {
        Some(Ok(Some(made))) => verdict.add_made(tool, &made, units),
        Some(Err(why)) => verdict.made_not_judged = Some(why.to_owned()),
        Some(Ok(None)) => {
            let why = "none of the demands is read off samples";
            verdict.made_not_judged = Some(why.to_owned());
        }
        None => {}
    }
    Ok(())
}
