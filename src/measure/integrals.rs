//! Work over the stroke.

use super::read::Reading;
use crate::motion::MotionError;
use crate::numeric::gauss::{THREE, nodes};
use crate::statics::{Answer, Answers, Rig, passes};

/// ∫ f d(pace) over the stroke, step by step, and from row to row of the work, at which its curve may
/// bend or jump. `None` from `f`: no value there.
fn over_stroke(
    rig: &mut Rig,
    mut f: impl FnMut(&mut Rig) -> Option<f64>,
) -> Result<Option<f64>, MotionError> {
    let steps = rig.tool().stroke.steps;
    let step = rig.pace() / steps as f64;
    let rows = rig.tool().work.iter().flat_map(|work| &work.need);
    let rows: Vec<f64> = rows.map(|row| row[0]).collect();
    let mut marks = passes(rig, &rows)?;
    marks.extend((0..=steps).map(|k| step * k as f64));
    marks.sort_by(f64::total_cmp);
    let mut sum = 0.0;
    for piece in marks.windows(2) {
        for (pace, weight) in nodes(&THREE, piece[0], piece[1]) {
            rig.go_to(pace)?;
            rig.solve();
            match f(rig) {
                Some(value) => sum += weight * value,
                None => return Ok(None),
            }
        }
    }
    Ok(Some(sum))
}

/// Work of the hand from open to shut, N mm: with the force that the work needs, or with the
/// tool's hand force where there is no work.
pub(super) fn hand_work(rig: &mut Rig, grip: usize) -> Result<Reading, MotionError> {
    let (works, own) = (rig.tool().work.is_some(), rig.tool().hand.force);
    rig.ask_for(Some(grip), Answers::HandForce);
    let sum = over_stroke(rig, |rig| {
        let force = match rig.forces().needed.get(grip) {
            _ if !works => own,
            Some(Answer::Moves { force, .. }) => *force,
            Some(Answer::Slack) => 0.0,
            _ => return None,
        };
        Some(force * rig.hand_rate(grip))
    })?;
    Ok(sum.map_or(
        Reading::Missing("friction locks the tool on the way"),
        Reading::Value,
    ))
}

/// Work at the first jaw from open to shut, N mm: the area under the work's curve, or with the
/// jaw force at the tool's hand force where there is no work.
pub(super) fn jaw_work(rig: &mut Rig, grip: usize) -> Result<Reading, MotionError> {
    if let Some(work) = &rig.tool().work {
        rig.go_to(0.0)?;
        let open = rig.forces().gap[0];
        rig.go_to(rig.pace())?;
        let shut = rig.forces().gap[0];
        return Ok(Reading::Value(work.area(open, shut)));
    }
    let jaws = rig.forces().gap.len();
    rig.ask_for(Some(grip), Answers::JawForce);
    let sum = over_stroke(rig, |rig| match rig.forces().answer.get(grip * jaws) {
        Some(Answer::Moves { force, .. }) => Some(force * rig.jaw_rate()),
        Some(Answer::Slack) => Some(0.0),
        _ => None,
    })?;
    Ok(sum.map_or(
        Reading::Missing("friction locks the tool on the way"),
        Reading::Value,
    ))
}
