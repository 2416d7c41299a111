//! Work over the stroke.

use super::evaluate::growth;
use super::height::{self, Height};
use super::ratchet;
use super::reading::Reading;
use super::rows;
use super::stop_load;
use crate::limits::hand_activity;
use crate::model::{GripId, JawId, Measure, Work};
use crate::motion::MotionError;
use crate::numeric::gauss::{THREE, nodes};
use crate::statics::{Absent, Rig, passes};

/// Pieces of the stroke in which the work is taken for its mean, at least.
const MEANS: usize = 1000;

/// A measure of work from open to where the stroke ends for the forces, N mm: its growth integrated step
/// by step, from row to row of the work, at which its curve may bend or jump, and between the ends of a ratchet.
pub(super) fn over_stroke(
    rig: &mut Rig,
    measure: &Measure,
    grip: GripId,
) -> Result<Reading, MotionError> {
    match measure {
        Measure::ToggleMargin => {
            return Ok(rig.margin().map(|m| m.handle).ok_or(Absent::NoToggle));
        }
        Measure::ToggleMarginGap => {
            return Ok(rig.margin().map(|m| m.gap).ok_or(Absent::NoToggle));
        }
        Measure::RatchetStep => {
            let found = ratchet::teeth(rig)?.map_err(|why| why.absent());
            return Ok(found.and_then(|t| ratchet::greatest_step(&t).ok_or(Absent::NoTeeth)));
        }
        Measure::RatchetFree => {
            let found = ratchet::teeth(rig)?.map_err(|why| why.absent());
            return Ok(found.and_then(|t| t.last().map(|t| t.gap).ok_or(Absent::NoTeeth)));
        }
        Measure::Height => {
            let height = height::height(rig, grip)?;
            return Ok(height
                .and_then(Height::of_touched)
                .map(|height| height.after));
        }
        Measure::StopLoad(stop) => return stop_load::read(rig, *stop, grip),
        Measure::HandActivity => {
            let job = rig.tool().job.as_ref();
            return Ok(job.map(hand_activity).ok_or(Absent::NoJob));
        }
        _ => {}
    }
    if let (Measure::JawWork, Some(work)) = (measure, rig.tool().work()) {
        // Whatever the linkage does between, it is the area under the work's curve.
        let whole = rig.pace();
        let open = rig.at(0.0)?.gap(JawId::FIRST);
        let shut = rig.at(whole)?.gap(JawId::FIRST);
        let area = open.zip(shut).map(|(open, shut)| work.area(open, shut));
        return Ok(area.ok_or(Absent::Toggle));
    }
    if let (Measure::HandWork, Some(work)) = (measure, rig.tool().work())
        && work.need.len() > rows::FEW
    {
        return by_means(rig, work, grip);
    }
    let steps = rig.tool().stroke.steps;
    let step = rig.pace() / steps as f64;
    let rows = rig.tool().work().into_iter().flat_map(|work| &work.need);
    let rows: Vec<f64> = rows.map(|row| row[0]).collect();
    let mut marks = passes(rig, &rows)?;
    marks.extend(rig.jumps());
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

/// The work of the hand where the work's curve has very many rows: in short pieces with the mean of what
/// the work needs in each. What the hand needs for it hardly bends within a piece, so that this is as good
/// as going from row to row to the square of a piece's length.
fn by_means(rig: &mut Rig, work: &Work, grip: GripId) -> Result<Reading, MotionError> {
    let (whole, steps) = (rig.pace(), rig.tool().stroke.steps.max(MEANS));
    let gap = |rig: &mut Rig, pace| Ok::<_, MotionError>(rig.at(pace)?.gap(JawId::FIRST));
    let mut sum = 0.0;
    let mut from = gap(rig, 0.0)?;
    for k in 0..steps {
        let ends = [k, k + 1].map(|k| whole * k as f64 / steps as f64);
        let to = gap(rig, ends[1])?;
        let mean = match (from, to) {
            (Some(from), Some(to)) if from != to => Some(work.area(from, to) / (from - to)),
            _ => None,
        };
        for (pace, weight) in nodes(&THREE, ends[0], ends[1]) {
            rig.go_to(pace)?;
            let need = mean.or_else(|| rig.work()).unwrap_or(0.0);
            match rig.here().hand_force_for(grip, need) {
                Ok(force) => sum += weight * force * rig.here().hand_rate(grip),
                Err(Absent::Locked) => return Ok(Err(Absent::LocksOnTheWay)),
                Err(why) => return Ok(Err(why)),
            }
        }
        from = to;
    }
    Ok(Ok(sum))
}
