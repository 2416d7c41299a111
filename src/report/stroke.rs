//! The answer of the main job: the forces over the stroke.
//!
//! These types *are* the JSON format (`"format": 1`): fields may be added, never renamed.

use super::jaws::{EndOfStroke, JawSummary};
use super::job::JobReport;
use super::measured::MeasuredReport;
use super::ratchet::RatchetLine;
use super::stops::StopLine;
use super::verdict::VerdictReport;
use crate::model::Digits;
use indexmap::IndexMap;
use serde::Serialize;

/// A whole stroke of one tool, at every position and every grip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StrokeReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The tool file as it was named on the command line.
    pub file: String,
    /// SHA-256 of the file's bytes, hexadecimal.
    pub sha256: String,
    /// Units of every number below.
    pub units: UnitNames,
    /// Distances along the hand line.
    pub grips: Vec<f64>,
    /// Hand force that `jaw_force` and the pin loads are for.
    pub hand_force: f64,
    /// Names of the jaws, the first being the one meant where none is named.
    pub jaws: Vec<String>,
    /// Each of them over the whole stroke.
    pub all_jaws: Vec<JawSummary>,
    /// Where the stroke is open and where it is shut, as the file gives it.
    pub ends: [EndOfStroke; 2],
    /// `"closing"` or `"opening"`.
    pub direction: &'static str,
    /// What a reader wants to know first.
    pub verdict: VerdictReport,
    /// From open to shut, equal steps of handle angle (of the first grip's way, where the handle
    /// does not turn), and one more where dies or a stop meet.
    pub positions: Vec<PositionReport>,
    /// Where a jaw stands still, within the stroke.
    pub toggles: Vec<Turning>,
    /// Where the handle stands still, within the stroke.
    pub dead_positions: Vec<Turning>,
    /// Where the dies of a jaw meet before the stroke is shut: it ends there for the forces.
    pub dies_meet: Option<Meeting>,
    /// Where a stop is met before the stroke is shut: it ends there for the forces.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stop_met: Option<Meeting>,
    /// Where the contact of a cam comes to the end of its face before the stroke is shut: it ends there for the
    /// forces.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub face_ends: Option<Meeting>,
    /// Every stop, with what it carries.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stops: Vec<StopLine>,
    /// The ratchet; left out without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ratchet: Option<RatchetLine>,
    /// What the job needs, if the file says.
    pub work: Option<WorkReport>,
    /// The hand's limit, if the file says.
    pub limit: Option<LimitReport>,
    /// Repeated use; left out where the file says nothing of it, and for the return stroke.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub job: Option<JobReport>,
    /// Readings of the bench that the file names; left out without them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured: Option<MeasuredReport>,
    /// Pins whose load statics alone cannot tell (redundant bars); their loads are null.
    pub indeterminate: Vec<String>,
    /// Worst residuals over the stroke.
    pub checks: Checks,
    /// Demands of the file and whether they are met.
    pub demands: Vec<DemandResult>,
    /// Assumptions and findings worth a sentence each.
    pub notes: Vec<String>,
}

impl StrokeReport {
    /// What ends the stroke for the forces before it is shut.
    #[must_use]
    pub fn meeting(&self) -> Option<&Meeting> {
        let touching = self.dies_meet.as_ref().or(self.stop_met.as_ref());
        touching.or(self.face_ends.as_ref())
    }

    /// Gap of a jaw at the position with this index, in the report's units.
    #[must_use]
    pub fn gap(&self, position: usize, jaw: &str) -> Option<f64> {
        self.positions.get(position)?.gap(jaw)
    }

    /// The hand's limit at a position and grip (indices), in the report's units.
    #[must_use]
    pub fn limit_at(&self, position: usize, grip: usize) -> Option<f64> {
        *self.limit.as_ref()?.hand_force.get(position)?.get(grip)?
    }
}

impl PositionReport {
    /// Gap of a jaw, in the report's units.
    #[must_use]
    pub fn gap(&self, jaw: &str) -> Option<f64> {
        self.jaws.get(jaw).map(|jaw| jaw.gap)
    }

    /// What a jaw gives for the hand at the grip with this index.
    #[must_use]
    pub fn forces(&self, grip: usize, jaw: &str) -> Option<&JawForces> {
        self.grips.get(grip)?.jaws.get(jaw)
    }
}

/// The units of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct UnitNames {
    /// mm or in.
    pub length: &'static str,
    /// N or lbf.
    pub force: &'static str,
    /// Always deg.
    pub angle: &'static str,
}

/// One position of the stroke.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PositionReport {
    /// Handle angle.
    pub handle: f64,
    /// Handle angle travelled since open.
    pub travel: f64,
    /// The first jaw stands still here: no ratio, no forces.
    pub toggle: bool,
    /// The dies of a jaw have met before it: no ratio, no forces.
    pub beyond: bool,
    /// Every pin.
    pub pins: IndexMap<String, Place>,
    /// Every mark, as `part.mark`.
    pub marks: IndexMap<String, Place>,
    /// Every jaw.
    pub jaws: IndexMap<String, JawAt>,
    /// One entry for each of the report's grips.
    pub grips: Vec<GripReport>,
}

/// A place in the fixed part's axes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Place {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

/// A jaw at one position.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct JawAt {
    /// Opening of the jaw.
    pub gap: f64,
}

/// One grip at one position.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GripReport {
    /// Distance along the hand line.
    pub at: f64,
    /// Grip span; null without a second handle.
    pub span: Option<f64>,
    /// Every jaw, each as if it alone held the work.
    pub jaws: IndexMap<String, JawForces>,
    /// Magnitude of the force at each pin, first jaw, at the report's hand force.
    pub pin_loads: IndexMap<String, Option<f64>>,
    /// Normal force in each slot and of each cam, tooth force of each pair of gears, as the pin loads.
    #[serde(skip_serializing_if = "IndexMap::is_empty")]
    pub contacts: IndexMap<String, Option<f64>>,
    /// Axial force of each two-pin link, tension positive.
    pub axial: IndexMap<String, Option<f64>>,
}

/// What one jaw gives for the hand at one grip.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct JawForces {
    /// Jaw force per unit hand force, without friction and springs.
    pub ratio: Option<f64>,
    /// At the report's hand force, with friction and springs.
    pub jaw_force: Option<f64>,
    /// Work out over work in, at most 1: jaw force with friction over without; opening, where friction
    /// adds to what the work must push with, without over with.
    pub efficiency: Option<f64>,
    /// Hand force that the work asks for here, with friction and springs.
    pub hand_force: Option<f64>,
    /// Friction lets nothing through: the tool locks itself here.
    pub locked: bool,
    /// A cam would have to pull: it lifts off here.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub lifts_off: bool,
}

/// A position at which something stands still.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Turning {
    /// Handle angle.
    pub handle: f64,
    /// Gap of the jaw named.
    pub gap: f64,
    /// The jaw.
    pub jaw: String,
}

/// The dies of a jaw or a stop meet before the stroke is shut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Meeting {
    /// The jaw whose dies meet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub jaw: Option<String>,
    /// The stop that is met.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stop: Option<String>,
    /// The cam whose face ends.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cam: Option<String>,
    /// Handle angle there.
    pub handle: f64,
    /// Handle angle travelled since open.
    pub travel: f64,
    /// Gap of the first jaw there.
    pub gap: f64,
    /// Index of that position.
    pub position: usize,
    /// It is one more than the equal steps.
    #[serde(skip)]
    pub added: bool,
}

impl Meeting {
    /// The name of the jaw, stop or cam.
    #[must_use]
    pub fn name(&self) -> &str {
        let name = self.jaw.as_deref().or(self.stop.as_deref());
        let name = name.or(self.cam.as_deref());
        name.unwrap_or_default()
    }
}

/// What the job needs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WorkReport {
    /// `[gap, force]`, by falling gap.
    pub need: Vec<[f64; 2]>,
    /// Jaw force needed at each position of the stroke (0 outside the curve).
    pub needed: Vec<f64>,
    /// For each grip: the gap at which the work stops the tool at the hand's limit, if it does.
    pub stalls: Vec<Option<f64>>,
    /// For each grip: the hand's limit where it stalls; null where it does not, and where friction
    /// locks the tool there.
    pub stall_limits: Vec<Option<f64>>,
    /// For each grip: the greatest hand force that the work needs over the stroke, between its
    /// positions too.
    pub peaks: Vec<HandPeakReport>,
    /// Free text from the file.
    pub note: Option<String>,
}

/// The greatest hand force that the work needs at one grip, and where.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct HandPeakReport {
    /// The force; null where friction locks the tool on the way.
    pub hand_force: Option<f64>,
    /// Why there is none.
    pub why: Option<&'static str>,
    /// Gap of the first jaw there, or where the tool locks.
    pub gap: f64,
    /// Handle angle there.
    pub handle: f64,
    /// Handle angle travelled since open.
    pub travel: f64,
    /// The hand's limit there; null without one.
    pub limit: Option<f64>,
}

/// The most the operator may be asked for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitReport {
    /// What it is, in words.
    pub text: String,
    /// Where it comes from; null for the file's own figures.
    pub source: Option<String>,
    /// For each position, for each grip: the limit of the hand force there.
    pub hand_force: Vec<Vec<Option<f64>>>,
}

/// Worst residuals over the stroke, all relative.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Checks {
    /// Loop closure, against the size of the tool.
    pub closure: f64,
    /// Jaw force by free bodies against virtual work.
    pub virtual_work: f64,
    /// Sums of forces and moments of every part, against the largest force.
    pub free_body: f64,
}

/// A demand and whether it is met.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DemandResult {
    /// Name of the measure.
    pub measure: String,
    /// Where it was read, e.g. `gap=0.4`.
    pub at: Option<String>,
    /// Grip along the hand line.
    pub grip: Option<f64>,
    /// Unit of the numbers below; empty for plain numbers.
    pub unit: &'static str,
    /// What came out.
    pub value: Option<f64>,
    /// Why there is no value.
    pub why: Option<&'static str>,
    /// Least value that is good enough.
    pub min: Option<f64>,
    /// Greatest value that is good enough.
    pub max: Option<f64>,
    /// Within the limits.
    pub met: bool,
    /// How its numbers are rounded for people.
    #[serde(skip)]
    pub digits: Digits,
    /// Where it stands in the force curves; none where it is about something that they do not show.
    #[serde(skip)]
    pub curve: Option<DemandOnCurve>,
}

/// A demand on a force of the jaw in view, or of the hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DemandOnCurve {
    /// On the hand force that the work needs; else on the jaw force.
    pub hand: bool,
    /// Where.
    pub place: CurvePlace,
}

/// A place on a force curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CurvePlace {
    /// The open end of the stroke.
    Open,
    /// The shut end.
    Shut,
    /// The gap of the jaw in view, in the report's units.
    Gap(f64),
    /// Where the force is greatest.
    Peak,
}
