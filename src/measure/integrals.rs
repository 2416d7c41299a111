//! Work over the stroke.

use super::evaluate::growth;
use super::reading::Reading;
use crate::model::{GripId, JawId, Measure};
use crate::motion::MotionError;
use crate::numeric::gauss::{THREE, nodes};
use crate::statics::{Absent, Rig, passes};

/// A measure of work from open to where the stroke ends for the forces, N mm: its growth integrated step
/// by step, and from row to row of the work, at which its curve may bend or jump.
pub(super) fn over_stroke(
    rig: &mut Rig,
    measure: &Measure,
    grip: GripId,
) -> Result<Reading, MotionError> {
    if let (Measure::JawWork, Some(work)) = (measure, &rig.tool().work) {
        // Whatever the linkage does between, it is the area under the work's curve.
        let whole = rig.pace();
        let open = rig.at(0.0)?.gap(JawId::FIRST);
        let shut = rig.at(whole)?.gap(JawId::FIRST);
        let area = open.zip(shut).map(|(open, shut)| work.area(open, shut));
        return Ok(area.ok_or(Absent::Toggle));
    }
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
            match growth(&mut rig.at(pace)?, measure, grip) {
                Ok(value) => sum += weight * value,
                Err(Absent::Locked) => return Ok(Err(Absent::LocksOnTheWay)),
                Err(why) => return Ok(Err(why)),
            }
        }
    }
    Ok(Ok(sum))
}
