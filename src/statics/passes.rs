//! Where the stroke passes gaps of the first jaw and spans: the corners of the work's curve and of a
//! hand's limit lie there.

use super::rig::Rig;
use crate::model::GripId;
use crate::motion::MotionError;
use crate::numeric::root::root;

/// Intervals of the stroke in which a gap is looked for, at least.
const INTERVALS: usize = 60;
/// How closely a place is found, over the whole pace.
const NEAR: f64 = 1e-13;

/// The paces at which the work has a peak (`sense` 1) or a dip (−1), which may be
/// narrower than the steps of the stroke; none without work. The rig is left somewhere on the stroke.
///
/// # Errors
/// When a position cannot be solved.
pub fn work_turns(rig: &mut Rig, sense: f64) -> Result<Vec<f64>, MotionError> {
    let work = rig.tool().work.as_ref();
    let size = rig.solver().linkage.size;
    let gaps = work.map_or(Vec::new(), |work| work.turns(sense, size));
    passes(rig, &gaps)
}

/// The paces (see [`Rig::go_to`]) at which the gap of the first jaw passes each of `gaps`, mm, from
/// open to shut, its ends left out. The rig is left somewhere on the stroke.
///
/// # Errors
/// When a position cannot be solved.
pub fn passes(rig: &mut Rig, gaps: &[f64]) -> Result<Vec<f64>, MotionError> {
    passed(rig, gaps, |rig| rig.forces().gap.first().copied())
}

/// The same for the span of a grip (index), mm; none without a second handle.
///
/// # Errors
/// When a position cannot be solved.
pub fn span_passes(rig: &mut Rig, grip: GripId, spans: &[f64]) -> Result<Vec<f64>, MotionError> {
    passed(rig, spans, |rig| rig.span(grip))
}

/// The paces at which what is read passes each of these values.
fn passed(
    rig: &mut Rig,
    values: &[f64],
    read: impl Fn(&Rig) -> Option<f64>,
) -> Result<Vec<f64>, MotionError> {
    let mut found = Vec::new();
    if values.is_empty() {
        return Ok(found);
    }
    let (whole, steps) = (rig.pace(), rig.tool().stroke.steps.max(INTERVALS));
    let at = |k: usize| whole * k as f64 / steps as f64;
    let mut reading = |pace| {
        rig.go_to(pace)?;
        Ok::<f64, MotionError>(read(rig).unwrap_or(f64::NAN))
    };
    let mut before = reading(0.0)?;
    for k in 1..=steps {
        let here = reading(at(k))?;
        let (low, high) = (before.min(here), before.max(here));
        for &value in values.iter().filter(|v| **v > low && **v <= high) {
            let mut failed = Ok(());
            let miss = |pace| match reading(pace) {
                Ok(there) => Some(there - value),
                Err(error) => {
                    failed = Err(error);
                    None
                }
            };
            let pace = root(miss, at(k - 1), at(k), NEAR * whole);
            failed?;
            found.extend(pace.filter(|p| *p > 0.0 && *p < whole));
        }
        before = here;
    }
    found.sort_by(f64::total_cmp);
    found.dedup();
    Ok(found)
}
