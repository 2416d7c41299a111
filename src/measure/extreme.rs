//! Greatest and least values over the stroke, between its steps too.

use super::evaluate::read_at;
use super::read::{Reader, unbounded};
use super::reading::{Place, Reading};
use crate::model::{GripId, HandLimit, Measure};
use crate::motion::MotionError;
use crate::numeric::climb::climb;
use crate::statics::{Absent, Rig, passes, span_passes, work_turns};

/// How closely a peak is placed, over the whole pace: at a smooth peak the value is then exact to
/// rounding, at a kink to this.
pub(super) const PLACE: f64 = 1e-9;

impl Reader<'_, '_> {
    /// The greatest (`sense` +1) or least (−1) value over the stroke and where it stands: looked for at
    /// the steps of the stroke and the corners of the work and the hand's limit, and refined about each
    /// of them that is above those beside it.
    ///
    /// # Errors
    /// When a position cannot be solved.
    pub fn extreme(
        &mut self,
        measure: &Measure,
        grip: GripId,
        sense: f64,
    ) -> Result<(Reading, Place), MotionError> {
        let corners = Corners {
            work: measure.follows_work(),
            limit: *measure == Measure::HandShare,
            sense,
        };
        let places = corners.places(self.rig, grip)?;
        let near = PLACE * self.rig.pace();
        let mut missing = Absent::Toggle;
        let curve = |pace| {
            let reading = read_at(&mut self.rig.at(pace)?, measure, grip);
            Ok::<f64, MotionError>(match reading {
                Ok(value) => sense * value,
                // What grows without bound at a toggle or a lock has no peak there.
                Err(why) if sense > 0.0 && unbounded(measure, why) => f64::INFINITY,
                Err(why) => {
                    missing = why;
                    f64::NEG_INFINITY
                }
            })
        };
        let found = climb(curve, &places, f64::MAX, near)?;
        let [pace, value] = found.greatest;
        self.rig.go_to(pace)?;
        let reading = if value.is_finite() {
            Ok(sense * value)
        } else if found.above.is_some() {
            read_at(&mut self.rig.here(), measure, grip)
        } else {
            Err(missing)
        };
        Ok((reading, Place::of(self.rig, pace)))
    }
}

/// Which corners a curve over the stroke has.
pub(super) struct Corners {
    /// Those of the work.
    pub(super) work: bool,
    /// Those of the hand's limit over the span.
    pub(super) limit: bool,
    /// Whether peaks (1) or dips (−1) are looked for.
    pub(super) sense: f64,
}

impl Corners {
    /// The paces at which such a curve is looked at, rising: the steps of the stroke up to where it
    /// ends for the forces, and the corners, which may lie together in one step.
    pub(super) fn places(&self, rig: &mut Rig, grip: GripId) -> Result<Vec<f64>, MotionError> {
        let (tool, whole) = (rig.tool(), rig.pace());
        let steps = tool.stroke.steps;
        let mut places: Vec<f64> = (0..steps)
            .map(|k| whole * k as f64 / steps as f64)
            .collect();
        places.push(whole);
        if let Some(work) = tool.work.as_ref().filter(|_| self.work) {
            let rows: Vec<f64> = work.need.iter().map(|row| row[0]).collect();
            places.extend(passes(rig, &rows)?);
            // At a jump, on the side that counts.
            places.extend(work_turns(rig, self.sense)?);
        }
        if let Some(HandLimit::Table(rows)) = tool.hand.limit.as_ref().filter(|_| self.limit) {
            let rows: Vec<f64> = rows.iter().map(|row| row[0]).collect();
            places.extend(span_passes(rig, grip, &rows)?);
        }
        places.retain(|pace| *pace <= whole);
        places.sort_by(f64::total_cmp);
        Ok(places)
    }
}
