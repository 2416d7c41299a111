//! Where the stroke passes gaps of the first jaw: the corners of the work's curve lie there.

use super::rig::Rig;
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
    let mut found = Vec::new();
    if gaps.is_empty() {
        return Ok(found);
    }
    let (whole, steps) = (rig.pace(), rig.tool().stroke.steps.max(INTERVALS));
    let at = |k: usize| whole * k as f64 / steps as f64;
    let mut before = gap_at(rig, 0.0)?;
    for k in 1..=steps {
        let here = gap_at(rig, at(k))?;
        let (low, high) = (before.min(here), before.max(here));
        for &gap in gaps.iter().filter(|g| **g > low && **g <= high) {
            let mut failed = Ok(());
            let miss = |pace| match gap_at(rig, pace) {
                Ok(there) => Some(there - gap),
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

/// Gap of the first jaw at a pace, mm.
fn gap_at(rig: &mut Rig, pace: f64) -> Result<f64, MotionError> {
    rig.go_to(pace)?;
    Ok(rig.forces().gap.first().copied().unwrap_or(f64::NAN))
}
