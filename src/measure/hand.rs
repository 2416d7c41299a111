//! What the work asks of the hand over the whole stroke: the greatest force, and the first stall.

use super::evaluate::{hand_limit, strength};
use super::extreme::{Corners, PLACE, meets_work};
use super::read::Reader;
use super::reading::{Place, Reading};
use super::rows::{Curve, Seek};
use super::short::{Short, short};
use crate::model::{GripId, Measure};
use crate::motion::MotionError;
use crate::numeric::scan::{border, climb};
use crate::statics::{Absent, Rig, Stand};

/// The greatest hand force that the work needs over the stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandPeak {
    /// The force, N; none where friction locks the tool on the way.
    pub force: Reading,
    /// Where it is, or where the tool locks.
    pub place: Place,
    /// The hand's limit there, N.
    pub limit: Option<f64>,
    /// Whether the jaw comes to the work at all: where it does not, the force says nothing of the job.
    pub meets_work: bool,
    /// Where the stroke ends before the work is done.
    pub short: Option<Short>,
}

/// Where the work asks for the greatest share of the strength of the hands that the job is for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EffortPeak {
    /// The share; none where friction locks the tool on the way, or the jaw never comes to the work.
    pub effort: Reading,
    /// Where it is, or where the tool locks.
    pub place: Place,
    /// Grip span there, mm.
    pub span: Option<f64>,
    /// Strength there, N.
    pub strength: Option<f64>,
    /// Hand force there, N.
    pub force: Option<f64>,
}

/// The greatest effort at a grip (index): the measure `effort` at its peak. The rig is left somewhere on the
/// stroke.
///
/// # Errors
/// When a position cannot be solved.
pub fn effort_peak(rig: &mut Rig, grip: GripId) -> Result<EffortPeak, MotionError> {
    let (effort, place) = Reader::new(rig).extreme(&Measure::Effort, grip, 1.0)?;
    let stand = rig.at(place.pace)?;
    let strength = strength(&stand, grip);
    Ok(EffortPeak {
        effort,
        place,
        span: stand.span(grip).ok(),
        strength,
        force: effort.ok().zip(strength).map(|(share, of)| share * of),
    })
}

/// Where the work stops the tool at the hand's limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stall {
    /// Where.
    pub place: Place,
    /// The limit there, N; none where friction locks the tool there.
    pub limit: Option<f64>,
}

/// The greatest hand force that the work needs at a grip (index): the measure `hand_force` at its peak.
/// The rig is left somewhere on the stroke.
///
/// # Errors
/// When a position cannot be solved.
pub fn hand_peak(rig: &mut Rig, grip: GripId) -> Result<HandPeak, MotionError> {
    let (force, place) = Reader::new(rig).farthest(&Measure::HandForce, grip, 1.0)?;
    let limit = hand_limit(&rig.at(place.pace)?, grip);
    Ok(HandPeak {
        force,
        place,
        limit,
        meets_work: meets_work(rig, grip, place)?,
        short: short(rig)?,
    })
}

/// Where the work first stops the tool at a grip (index), from open: there it needs more than the hand
/// may give at the span there, or friction locks. The rig is left somewhere on the stroke.
///
/// # Errors
/// When a position cannot be solved.
pub fn first_stall(rig: &mut Rig, grip: GripId) -> Result<Option<Stall>, MotionError> {
    if rig.tool().hand.limit.is_none() || rig.tool().work().is_none() {
        return Ok(None);
    }
    let corners = Corners {
        work: true,
        limit: true,
        sense: 1.0,
    };
    let places = corners.places(rig, grip, &mut Lacking { grip }, Seek::Above(0.0))?;
    stall(rig, grip, &places)
}

fn stall(rig: &mut Rig, grip: GripId, places: &[f64]) -> Result<Option<Stall>, MotionError> {
    let mut lacking = |pace| Ok::<f64, MotionError>(lack(&mut rig.at(pace)?, grip));
    let whole = places.last().copied().unwrap_or(0.0);
    let Some([low, high]) = climb(&mut lacking, places, 0.0, PLACE * whole)?.above else {
        return Ok(None);
    };
    let holds = |pace| Ok::<bool, MotionError>(lacking(pace)? <= 0.0);
    let [_, pace] = border(holds, low, high)?;
    let locked = lacking(pace)? == f64::INFINITY;
    let limit = hand_limit(&rig.here(), grip).filter(|_| !locked);
    Ok(Some(Stall {
        place: Place::of(rig, pace),
        limit,
    }))
}

/// By how much the hand falls short at a grip.
struct Lacking {
    grip: GripId,
}

impl Curve for Lacking {
    fn value(&mut self, rig: &mut Rig) -> f64 {
        lack(&mut rig.here(), self.grip)
    }

    fn with_need(&mut self, rig: &mut Rig, need: f64) -> f64 {
        let force = rig.here().hand_force_for(self.grip, need);
        above(force, hand_limit(&rig.here(), self.grip))
    }

    fn is_bounded(&self) -> bool {
        true
    }
}

/// By how much the force that the work needs where the rig stands is above the hand's limit, N: without
/// bound where friction locks; −∞ where there is no such force or no limit.
fn lack(stand: &mut Stand, grip: GripId) -> f64 {
    above(stand.hand_force(grip), hand_limit(stand, grip))
}

fn above(force: Reading, limit: Option<f64>) -> f64 {
    match (force, limit) {
        (Err(Absent::Locked), _) => f64::INFINITY,
        (Ok(force), Some(limit)) => force - limit,
        _ => f64::NEG_INFINITY,
    }
}
