//! Greatest and least values over the stroke, between its steps too.

use super::evaluate::{of_hand_force, read_at};
use super::read::{Reader, unbounded};
use super::reading::{Place, Reading};
use super::rows::{self, Curve, Seek};
use super::short::short;
use crate::limits::group;
use crate::model::{GripId, HandLimit, Measure};
use crate::motion::MotionError;
use crate::numeric::scan::climb;
use crate::statics::{Absent, Rig, passes, span_passes, work_turns};

/// How closely a peak is placed, over the whole pace: at a smooth peak the value is then exact to
/// rounding, at a kink to this.
pub(super) const PLACE: f64 = 1e-9;

impl Reader<'_, '_> {
    /// The greatest (`sense` +1) or least (−1) value over the stroke and where it stands: looked for at
    /// the steps of the stroke and the corners of the work and the hand's limit, and refined about each
    /// of them that is above those beside it. There is no peak of what the work asks for where the jaws never come to it,
    /// or where the stroke ends before it is done.
    ///
    /// # Errors
    /// When a position cannot be solved.
    pub fn extreme(
        &mut self,
        measure: &Measure,
        grip: GripId,
        sense: f64,
    ) -> Result<(Reading, Place), MotionError> {
        let (reading, place) = self.farthest(measure, grip, sense)?;
        let asked = sense > 0.0 && measure.is_asked_of_the_hand() && self.tool().work().is_some();
        if reading.is_err() || !asked {
            return Ok((reading, place));
        }
        let reading = if !meets_work(self.rig, grip, place)? {
            Err(Absent::Untouched)
        } else if short(self.rig)?.is_some() {
            Err(Absent::CutShort)
        } else {
            reading
        };
        self.rig.go_to(place.pace)?;
        Ok((reading, place))
    }

    /// The same, whether the work is done or not.
    pub(super) fn farthest(
        &mut self,
        measure: &Measure,
        grip: GripId,
        sense: f64,
    ) -> Result<(Reading, Place), MotionError> {
        let corners = Corners {
            work: measure.follows_work(),
            limit: matches!(
                measure,
                Measure::HandShare
                    | Measure::Effort
                    | Measure::StrainIndex
                    | Measure::AcceptableForce
            ),
            sense,
        };
        let mut steep = Steep {
            measure,
            grip,
            sense,
        };
        let places = corners.places(self.rig, grip, &mut steep, Seek::Greatest)?;
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

/// Whether the jaw comes to the work anywhere on the stroke: at this place, or at another.
pub(super) fn meets_work(rig: &mut Rig, grip: GripId, place: Place) -> Result<bool, MotionError> {
    let works = |rig: &mut Rig, at: Place| Ok(rig.at(at.pace)?.work() > Some(0.0));
    if works(rig, place)? {
        return Ok(true);
    }
    let (_, least) = Reader::new(rig).farthest(&Measure::Gap, grip, -1.0)?;
    let (_, most) = Reader::new(rig).farthest(&Measure::Gap, grip, 1.0)?;
    let rows = rig.tool().work().map_or(&[][..], |work| &work.need);
    let within = |row: &[f64; 2]| row[1] > 0.0 && (least.gap..=most.gap).contains(&row[0]);
    Ok(rows.iter().any(within) || works(rig, least)? || works(rig, most)?)
}

/// A measure at a grip whose greatest (`sense` +1) or least (−1) value is looked for.
struct Steep<'m> {
    measure: &'m Measure,
    grip: GripId,
    sense: f64,
}

impl Steep<'_> {
    fn signed(&self, reading: Reading) -> f64 {
        match reading {
            Ok(value) => self.sense * value,
            Err(why) if self.sense > 0.0 && unbounded(self.measure, why) => f64::INFINITY,
            Err(_) => f64::NEG_INFINITY,
        }
    }
}

impl Curve for Steep<'_> {
    fn value(&mut self, rig: &mut Rig) -> f64 {
        self.signed(read_at(&mut rig.here(), self.measure, self.grip))
    }

    fn with_need(&mut self, rig: &mut Rig, need: f64) -> f64 {
        self.signed(needing(rig, self.measure, self.grip, need))
    }

    /// The load of a pin may be least between two needs: where the springs hold what the work needs.
    fn is_bounded(&self) -> bool {
        self.sense > 0.0 || !matches!(self.measure, Measure::PinLoad(_))
    }
}

/// A measure that follows the work, where the rig stands, if the work needed this much there, N.
fn needing(rig: &mut Rig, measure: &Measure, grip: GripId, need: f64) -> Reading {
    let force = rig.here().hand_force_for(grip, need)?;
    match measure {
        Measure::PinLoad(joint) => {
            let [x, y] = rig.here().pin(*joint, grip, force)?.xy();
            Ok(x.hypot(y))
        }
        _ => of_hand_force(&rig.here(), measure, grip, force),
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
    /// Of very many rows of the work those that `curve` says may matter.
    pub(super) fn places(
        &self,
        rig: &mut Rig,
        grip: GripId,
        curve: &mut impl Curve,
        seek: Seek,
    ) -> Result<Vec<f64>, MotionError> {
        let (tool, whole) = (rig.tool(), rig.pace());
        let steps = tool.stroke.steps;
        let mut places: Vec<f64> = (0..steps)
            .map(|k| whole * k as f64 / steps as f64)
            .collect();
        places.push(whole);
        let work = tool.work().filter(|_| self.work);
        if let Some(work) = work.filter(|work| work.need.len() > rows::FEW && curve.is_bounded()) {
            let near = PLACE * whole;
            let found = rows::that_matter(rig, work, curve, &places, seek, near)?;
            places.extend(found);
        } else if let Some(work) = work {
            let rows: Vec<f64> = work.need.iter().map(|row| row[0]).collect();
            places.extend(passes(rig, &rows)?);
            // At a jump, on the side that counts.
            places.extend(work_turns(rig, self.sense)?);
        }
        if let Some(HandLimit::Table(rows)) = tool.hand.limit.as_ref().filter(|_| self.limit) {
            let rows: Vec<f64> = rows.iter().map(|row| row[0]).collect();
            places.extend(span_passes(rig, grip, &rows)?);
        }
        let job = tool.job.as_ref().filter(|_| self.limit);
        if let Some(group) = job.and_then(|job| group(job.population.as_ref()?)) {
            places.extend(span_passes(rig, grip, &[group.falloff.best])?);
        }
        places.extend(rig.jumps());
        places.retain(|pace| *pace <= whole);
        places.sort_by(f64::total_cmp);
        Ok(places)
    }
}
