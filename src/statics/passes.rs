//! Where the stroke passes gaps of the first jaw and spans: the corners of the work's curve and of a
//! hand's limit lie there.

use super::rig::Rig;
use crate::model::GripId;
use crate::motion::MotionError;
use crate::numeric::scan;

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
    let work = rig.tool().work();
    let size = rig.solver().linkage.size;
    let gaps = work.map_or(Vec::new(), |work| work.turns(sense, size));
    let gaps = highest(rig, gaps, sense)?;
    passes(rig, &gaps)
}

/// Of so many turns all are looked at; of more, of those within that share of what the gap of the first
/// jaw goes through the highest: what forces come to otherwise hardly changes on the way.
const MOST_TURNS: usize = 250;

/// Of many gaps (falling) at which the work turns, those that stand highest (`sense` 1) or lowest.
fn highest(rig: &mut Rig, gaps: Vec<f64>, sense: f64) -> Result<Vec<f64>, MotionError> {
    let Some(work) = rig.tool().work().filter(|_| gaps.len() > MOST_TURNS) else {
        return Ok(gaps);
    };
    let size = rig.solver().linkage.size;
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for k in 0..=INTERVALS {
        rig.go_to(rig.pace() * k as f64 / INTERVALS as f64)?;
        let gap = rig.forces().gap.first().copied().unwrap_or(f64::NAN);
        (low, high) = (low.min(gap), high.max(gap));
    }
    let band = (high - low) / MOST_TURNS as f64;
    let mut found: Vec<[f64; 3]> = Vec::new();
    for gap in gaps.into_iter().filter(|gap| *gap >= low && *gap <= high) {
        let (of, height) = (((gap - low) / band).floor(), sense * work.at(gap, size));
        match found.last_mut().filter(|last| last[0] == of) {
            Some(last) if last[2] >= height => {}
            Some(last) => *last = [of, gap, height],
            None => found.push([of, gap, height]),
        }
    }
    Ok(found.iter().map(|[_, gap, _]| *gap).collect())
}

/// The paces (see [`Rig::go_to`]) at which the gap of the first jaw passes each of `gaps`, mm, from
/// open to shut, its ends left out. The rig is left somewhere on the stroke.
///
/// # Errors
/// When a position cannot be solved.
pub fn passes(rig: &mut Rig, gaps: &[f64]) -> Result<Vec<f64>, MotionError> {
    let (whole, steps) = stretches(rig);
    passed(rig, gaps, [0.0, whole], steps, |rig| {
        rig.forces().gap.first().copied()
    })
}

/// The same between two paces, which are one interval: where the gap passes each of `gaps` there.
///
/// # Errors
/// When a position cannot be solved.
pub fn passes_between(
    rig: &mut Rig,
    gaps: &[f64],
    ends: [f64; 2],
) -> Result<Vec<f64>, MotionError> {
    passed(rig, gaps, ends, 1, |rig| rig.forces().gap.first().copied())
}

/// The same for the span of a grip (index), mm; none without a second handle.
///
/// # Errors
/// When a position cannot be solved.
pub fn span_passes(rig: &mut Rig, grip: GripId, spans: &[f64]) -> Result<Vec<f64>, MotionError> {
    let (whole, steps) = stretches(rig);
    passed(rig, spans, [0.0, whole], steps, |rig| rig.span(grip))
}

/// The whole stroke, and the intervals in which a value is looked for.
fn stretches(rig: &Rig) -> (f64, usize) {
    (rig.pace(), rig.tool().stroke.steps.max(INTERVALS))
}

/// The paces at which what is read passes each of these values, in so many intervals between two paces.
fn passed(
    rig: &mut Rig,
    values: &[f64],
    ends: [f64; 2],
    steps: usize,
    read: impl Fn(&Rig) -> Option<f64>,
) -> Result<Vec<f64>, MotionError> {
    let near = NEAR * rig.pace();
    let reading = |pace| {
        rig.go_to(pace)?;
        Ok::<f64, MotionError>(read(rig).unwrap_or(f64::NAN))
    };
    scan::passes(reading, scan::even(ends, steps), values, near)
}
