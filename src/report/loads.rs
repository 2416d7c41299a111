//! Loads of pins and links, free-body sheets and strength factors: the answer of `loads`.

use super::gears::GearsReport;
use super::life::LifeReport;
use super::stroke::UnitNames;
use super::wound::WoundReport;
use serde::Serialize;

/// What `loads` answers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LoadsReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The file as it was named.
    pub file: String,
    /// SHA-256 of the file's bytes.
    pub sha256: String,
    /// Units of every number below.
    pub units: UnitNames,
    /// Unit of moments.
    pub moment_unit: &'static str,
    /// The load cases asked for.
    pub cases: Vec<CaseReport>,
    /// Strength factors over the whole stroke, least first.
    pub factors: Vec<FactorReport>,
    /// Every spring of wire.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub springs: Vec<WoundReport>,
    /// How long the tool lasts; absent where the file does not ask.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub life: Option<LifeReport>,
    /// What the factors leave out, and why.
    pub notes: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// One position, grip and hand force.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CaseReport {
    /// Handle angle.
    pub handle: f64,
    /// Handle angle travelled since open.
    pub travel: f64,
    /// Gap of the first jaw.
    pub gap: f64,
    /// Grip along the hand line.
    pub grip: f64,
    /// Grip span.
    pub span: Option<f64>,
    /// Hand force.
    pub hand_force: f64,
    /// What set the hand force, in words.
    pub case: String,
    /// Force of the first jaw.
    pub jaw_force: f64,
    /// Every pin joint.
    pub pins: Vec<PinReport>,
    /// Every two-pin link: axial force, tension positive.
    pub links: Vec<LinkReport>,
    /// Every sliding joint.
    pub slots: Vec<SlotReport>,
    /// Every cam.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cams: Vec<CamReport>,
    /// Every pair of tooth sectors.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub gears: Vec<GearsReport>,
    /// Every spring.
    pub springs: Vec<SpringReport>,
    /// Free-body sheet of every part.
    pub sheets: Vec<SheetReport>,
    /// Greatest sum left on a part (of a tool on a bench: a moving one), over the greatest force (and
    /// the tool's size).
    pub residual: f64,
    /// How far the tool gives, the hand held; null where statics cannot tell.
    pub give: Option<GiveReport>,
    /// A rigid workpiece pressed, if the file has one.
    pub press: Option<PressReport>,
}

/// How far the jaws spread.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GiveReport {
    /// Spread per 1000 units of jaw force.
    pub per_thousand: f64,
    /// Spread at the case's jaw force.
    pub spread: f64,
    /// Gap under the case's jaw force.
    pub gap: f64,
    /// What it comes from: name and share of the whole, greatest first.
    pub shares: Vec<(String, f64)>,
    /// Parts and pins taken as rigid, and why: with them the give is too small.
    pub rigid: Vec<String>,
}

/// A rigid workpiece pressed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PressReport {
    /// Thickness of the piece.
    pub thickness: f64,
    /// Force on the piece; null if it is not pressed.
    pub jaw_force: Option<f64>,
    /// How far it spreads the jaws.
    pub spread: Option<f64>,
    /// The whole in words.
    pub text: String,
}

/// The force at a pin joint.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PinReport {
    /// The pin (`pin:part` where three parts share it).
    pub pin: String,
    /// The part that the force acts on.
    pub on: String,
    /// The part that exerts it.
    pub by: String,
    /// To the right; null where statics alone cannot tell (redundant bars).
    pub x: Option<f64>,
    /// Up; null likewise.
    pub y: Option<f64>,
    /// Magnitude; null likewise.
    pub size: Option<f64>,
}

/// The axial force of a link.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LinkReport {
    /// The part.
    pub part: String,
    /// Tension positive.
    pub axial: f64,
}

/// The force in a sliding joint, on the riding part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SlotReport {
    /// The riding point.
    pub point: String,
    /// The part that the force acts on: the rider.
    pub on: String,
    /// The part that exerts it: the one with the slot.
    pub by: String,
    /// Direction of the slot's centre line, from the fixed part's x axis; of an arc at the rider, clockwise
    /// about its centre.
    pub angle: f64,
    /// Radius of the centre line of an arc slot; null for a straight one.
    pub radius: Option<f64>,
    /// The rider has a roller.
    pub rolls: bool,
    /// Across the slot, positive to the left of the centre line: away from the centre of an arc.
    pub normal: f64,
    /// Along the centre line: friction.
    pub friction: f64,
    /// Moment on a keyed rider, counter-clockwise; null for a pin in a slot.
    pub key_moment: Option<f64>,
    /// What a keyed rider's guide of stated width carries of both at its two ends, the one
    /// further along the centre line first, across the slot like `normal`.
    pub edges: Option<[f64; 2]>,
}

/// The force between a cam and what it pushes, on the part that is pushed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CamReport {
    /// Its name, or its number in the file, from 1.
    pub cam: String,
    /// The part that is pushed.
    pub on: String,
    /// The part that has the cam.
    pub by: String,
    /// Direction in which it pushes, from the fixed part's x axis.
    pub angle: f64,
    /// How hard it pushes.
    pub normal: f64,
    /// Across that, positive to the right of it: friction.
    pub friction: f64,
    /// On a roller; else on a flat.
    pub rolls: bool,
}

/// A spring.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpringReport {
    /// Its number in the file, from 1.
    pub spring: usize,
    /// What it connects.
    pub between: String,
    /// Its length; null about a pin.
    pub length: Option<f64>,
    /// Its force, tension positive; null about a pin.
    pub force: Option<f64>,
    /// About a pin, its moment on the second part, counter-clockwise; null between points.
    pub moment: Option<f64>,
}

/// Every force on one part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetReport {
    /// The part.
    pub part: String,
    /// The place that moments are taken about: name, x, y in the fixed part's axes.
    pub about: (String, f64, f64),
    /// It is the fixed part. Where that stands on a bench, its sums need not vanish.
    pub fixed: bool,
    /// The forces.
    pub forces: Vec<ForceReport>,
    /// Sums of x, y and moment; null where statics alone cannot tell a force (redundant bars).
    pub sums: Option<[f64; 3]>,
    /// On the fixed part of a tool on a bench of which the file does not say where, what comes from it, so that with
    /// it the sums vanish: V along x, N along y, and M about the sheet's place. Null elsewhere.
    pub bench: Option<[f64; 3]>,
    /// What the base of a tool on a bench carries, where the file says where that is; null elsewhere.
    pub base: Option<BaseReport>,
}

/// What the base of a tool on a bench carries: the bench's force on the tool.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BaseReport {
    /// The middle of the base, `[x, y]` in the fixed part's axes.
    pub at: [f64; 2],
    /// Across the base: positive where the tool pulls at the bench, negative where it is pressed on to it.
    pub axial: f64,
    /// Along the base, to the right as seen with the bench below.
    pub shear: f64,
    /// Moment about the middle of the base, counter-clockwise.
    pub moment: f64,
}

/// One force on a part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ForceReport {
    /// What exerts it.
    pub what: String,
    /// Name of the point of this part at which it acts, if it has one.
    pub point: Option<String>,
    /// Where it acts, in the fixed part's axes.
    pub at: [f64; 2],
    /// Components; null where statics alone cannot tell (redundant bars).
    pub force: Option<[f64; 2]>,
    /// Moment that comes with it (friction, key, spring about a pin); null likewise.
    pub couple: Option<f64>,
    /// Moment about the sheet's place, the couple included; null likewise.
    pub moment: Option<f64>,
}

/// A strength factor.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FactorReport {
    /// Pin or part.
    pub subject: String,
    /// Name of the check.
    pub check: String,
    /// The formula.
    pub formula: String,
    /// Where it comes from.
    pub source: String,
    /// Whether the figure has still to be looked up there.
    pub unconfirmed: bool,
    /// The numbers put in: symbol, value, unit.
    pub inputs: Vec<(String, f64, String)>,
    /// What the formula gives.
    pub value: f64,
    /// What may not be exceeded.
    pub allowable: f64,
    /// Unit of both.
    pub unit: String,
    /// What the allowable value is.
    pub against: String,
    /// Allowable over value.
    pub factor: f64,
    /// Where on the part.
    pub place: Option<String>,
    /// The same for people to find.
    #[serde(skip)]
    pub spot: Option<String>,
    /// Handle angle at the worst position; null for load cases without one.
    pub handle: Option<f64>,
    /// Gap of the first jaw there; null likewise.
    pub gap: Option<f64>,
    /// Grip; null where it is none of the tool's.
    pub grip: Option<f64>,
    /// Hand force.
    pub hand_force: f64,
    /// What set it, in words.
    pub case: String,
}

impl LoadsReport {
    /// Keeps the free-body sheets of one part only.
    pub fn keep_part(&mut self, part: &str) {
        for case in &mut self.cases {
            case.sheets.retain(|sheet| sheet.part == part);
        }
    }
}
