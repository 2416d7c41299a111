//! The linkage at single positions, ready to be drawn: the answer of `draw`.
//!
//! Places are in mm in the fixed part's axes (x right, y up), whatever the units of the numbers,
//! because a drawing is made to a scale of millimetres of paper.

use super::drawn_gears::DrawnGears;
use super::loads::SheetReport;
use super::stroke::UnitNames;
use serde::Serialize;

/// What `draw` answers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawingReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The tool's note; null without one.
    pub note: Option<String>,
    /// The file as it was named.
    pub file: String,
    /// SHA-256 of the file's bytes.
    pub sha256: String,
    /// Units of every number that is not a place.
    pub units: UnitNames,
    /// Unit of moments.
    pub moment_unit: &'static str,
    /// Unit of stresses.
    pub stress_unit: &'static str,
    /// The grip that the hand force acts at, along the hand line.
    pub grip: f64,
    /// Hand force.
    pub hand_force: f64,
    /// `"closing"` or `"opening"`.
    pub direction: &'static str,
    /// The part whose free body is drawn; null: the whole tool.
    pub part: Option<String>,
    /// The positions, in the order asked for.
    pub positions: Vec<DrawnPosition>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// One position.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnPosition {
    /// The position as it was asked for.
    pub at: String,
    /// Handle angle.
    pub handle: f64,
    /// Handle angle travelled since open.
    pub travel: f64,
    /// Grip span; null without a second handle.
    pub span: Option<f64>,
    /// Every part, the fixed one first.
    pub parts: Vec<DrawnPart>,
    /// Every pin, once.
    pub pins: Vec<DrawnPin>,
    /// The handles: the one that the fingers close, then the other.
    pub handles: Vec<DrawnHandle>,
    /// Every jaw.
    pub jaws: Vec<DrawnJaw>,
    /// Every stop.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stops: Vec<DrawnStop>,
    /// The ratchet; left out without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ratchet: Option<DrawnRatchet>,
    /// Every pair of tooth sectors.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub gears: Vec<DrawnGears>,
    /// Every sliding joint.
    pub slots: Vec<DrawnSlot>,
    /// Every cam.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cams: Vec<DrawnCam>,
    /// Every spring.
    pub springs: Vec<DrawnSpring>,
    /// Forces: those of hand and work on the tool, or all on the part whose free body is drawn.
    /// Empty where there are none, see `no_forces`.
    pub forces: Vec<DrawnForce>,
    /// Why there are no forces here, if there are none.
    pub no_forces: Option<String>,
    /// Earlier positions of what moves, from open on.
    pub earlier: Vec<DrawnPose>,
    /// The free-body sheet of the part, its numbers in the report's units; null without a part.
    pub sheet: Option<SheetReport>,
    /// Stress along the border of the part whose free body is drawn; empty where its section is not told by an outline.
    pub stresses: Vec<DrawnStress>,
    /// Where plates of one layer touch or overlap; empty where a single part is drawn.
    pub touches: Vec<DrawnTouch>,
    /// Where the moments of the sheet are taken about; `[x, y]`, mm.
    pub about: Option<[f64; 2]>,
}

/// Two parts whose plates touch in one layer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnTouch {
    /// The parts.
    pub parts: [String; 2],
    /// Where; `[x, y]`, mm.
    pub at: [f64; 2],
    /// The borders of what both claim; empty where they only touch.
    pub borders: Vec<DrawnBorder>,
}

/// Stress at a place of a border.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnStress {
    /// `[x, y]`, mm.
    pub at: [f64; 2],
    /// Out of the plate: a unit vector.
    pub out: [f64; 2],
    /// Stress, tension positive, in the report's unit of stress.
    pub stress: f64,
}

/// What moves, at an earlier position.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnPose {
    /// The moving parts.
    pub parts: Vec<DrawnPart>,
    /// The handles on them.
    pub handles: Vec<DrawnHandle>,
}

/// A part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnPart {
    /// Its name.
    pub name: String,
    /// Whether it is the fixed part.
    pub fixed: bool,
    /// Its pins and marks.
    pub points: Vec<DrawnPoint>,
    /// Where its handle begins, and so belongs to its outline too; `[x, y]`, mm.
    pub roots: Vec<[f64; 2]>,
    /// Half the width of its outline round its points, mm: half of the stated section for a
    /// two-pin link; else for the look only.
    pub round: f64,
    /// Its true outline: the outer border, then those of openings and holes; empty where the file gives none.
    pub borders: Vec<DrawnBorder>,
    /// The sheet of the stack that its nearest plate is, counted from the near side; null where the file
    /// states none.
    pub layer: Option<u32>,
}

/// A closed border of a plate, material on the left.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnBorder {
    /// Where it starts; `[x, y]`, mm.
    pub from: [f64; 2],
    /// One step after the other, the last one back to the start.
    pub steps: Vec<DrawnStep>,
}

/// A step of a border.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DrawnStep {
    /// Where it ends; `[x, y]`, mm.
    pub to: [f64; 2],
    /// Radius of an arc, mm, less than a quarter turn; null: straight.
    pub radius: Option<f64>,
    /// The arc turns left.
    pub left: bool,
}

/// A named point of a part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnPoint {
    /// Its name.
    pub name: String,
    /// A pin hole; else a mark.
    pub pin: bool,
    /// `[x, y]`, mm.
    pub at: [f64; 2],
}

/// A pin.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnPin {
    /// Its name.
    pub name: String,
    /// `[x, y]`, mm.
    pub at: [f64; 2],
    /// Its diameter, mm; null where the file states none.
    pub diameter: Option<f64>,
}

/// A handle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnHandle {
    /// The part that carries it.
    pub part: String,
    /// Its centre line from the pivot's end, `[x, y]` each, mm: enough points to be drawn straight
    /// from one to the next.
    pub line: Vec<[f64; 2]>,
    /// Its thickness, mm; 0 where the file states none.
    pub thickness: f64,
    /// The grips.
    pub grips: Vec<DrawnGrip>,
}

/// A grip on a handle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnGrip {
    /// Distance along the hand line, in the report's units.
    pub distance: f64,
    /// `[x, y]`, mm.
    pub at: [f64; 2],
    /// Direction of the centre line there, away from the pivot's end.
    pub along: [f64; 2],
    /// Whether the hand force acts here.
    pub held: bool,
}

/// A jaw.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnJaw {
    /// Its name.
    pub name: String,
    /// The point that the work pushes along `axis`; `[x, y]`, mm.
    pub on: [f64; 2],
    /// The point that it works against; `[x, y]`, mm.
    pub against: [f64; 2],
    /// Part and name of each.
    #[serde(skip)]
    pub ends: [[String; 2]; 2],
    /// Opening direction, a unit vector; null where it does not exist (contact).
    pub axis: Option<[f64; 2]>,
    /// Distance along the axis at which the gap counts as zero, mm.
    pub closed: f64,
    /// Gap, in the report's units.
    pub gap: f64,
}

/// A stop: two faces.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnStop {
    /// Its name.
    pub name: String,
    /// A point of the one face, and of the other; `[x, y]`, mm.
    pub faces: [[f64; 2]; 2],
    /// Part and name of each point.
    #[serde(skip)]
    pub ends: [[String; 2]; 2],
    /// Direction in which they part, a unit vector.
    pub axis: [f64; 2],
    /// Distance of the faces: zero where they meet, in the report's units.
    pub apart: f64,
}

/// A ratchet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnRatchet {
    /// Tips and roots of the teeth in turn, from the first tooth; `[x, y]`, mm.
    pub teeth: Vec<[f64; 2]>,
    /// Pin and tip of the pawl; `[x, y]`, mm.
    pub pawl: [[f64; 2]; 2],
}

/// A sliding joint.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnSlot {
    /// The part whose point rides.
    pub part: String,
    /// The part that has the slot.
    pub on: String,
    /// The riding point; `[x, y]`, mm.
    pub rider: [f64; 2],
    /// Direction of the centre line at the rider, a unit vector.
    pub along: [f64; 2],
    /// How far the rider goes over the stroke, the two ends, `[x, y]` each, mm.
    pub reach: [[f64; 2]; 2],
    /// What an arc slot's centre line is; null for a straight one.
    pub arc: Option<DrawnArc>,
    /// Diameter of the rider's roller, mm; null without one.
    pub roller: Option<f64>,
    /// The rider may not turn in the slot.
    pub keyed: bool,
    /// Length of a keyed rider's guide, mm; null where the file states none.
    pub guide: Option<f64>,
    /// Half the width of the slot, mm: of the pin where its diameter is stated, else for the look.
    pub half: f64,
}

/// A cam and what it pushes on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnCam {
    /// Its name, or its number in the file, from 1.
    pub cam: String,
    /// Centre of its face, a disc; `[x, y]`, mm; null for a curved face.
    pub centre: Option<[f64; 2]>,
    /// Radius of its face, a disc, mm; null for a curved face.
    pub radius: Option<f64>,
    /// A curved face, point by point; `[x, y]`, mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub curve: Vec<[f64; 2]>,
    /// Where it touches; `[x, y]`, mm.
    pub touches: [f64; 2],
    /// Centre of the roller that it pushes, mm; null for a flat.
    pub roller: Option<[f64; 2]>,
    /// Radius of that roller, mm.
    pub roller_radius: Option<f64>,
}

/// The centre line of an arc slot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnArc {
    /// Its centre; `[x, y]`, mm.
    pub centre: [f64; 2],
    /// Its radius, mm.
    pub radius: f64,
    /// Directions from the centre to the two ends of `reach`, counter-clockwise from the x axis, the first
    /// the lesser, deg.
    pub from_to: [f64; 2],
}

/// A spring.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnSpring {
    /// Its number in the file, from 1.
    pub spring: usize,
    /// The parts that it is between.
    pub parts: [String; 2],
    /// Its two ends, `[x, y]` each, mm; the same place twice for a spring about a pin.
    pub ends: [[f64; 2]; 2],
}

/// A force on a part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnForce {
    /// What exerts it, as in `loads`.
    pub what: String,
    /// Its kind.
    pub kind: DrawnKind,
    /// The part that it acts on.
    pub on: String,
    /// Where it acts; `[x, y]`, mm.
    pub at: [f64; 2],
    /// Components to the right and up, in the report's units; null where statics alone cannot
    /// tell (redundant bars).
    pub force: Option<[f64; 2]>,
    /// Magnitude, likewise.
    pub size: Option<f64>,
    /// Moment that comes with it, counter-clockwise (friction, key, spring about a pin), likewise.
    pub couple: Option<f64>,
}

/// What exerts a force.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum DrawnKind {
    /// A hand.
    Hand,
    /// The work.
    Work,
    /// A pin.
    Pin,
    /// A slot.
    Slot,
    /// A spring.
    Spring,
    /// The bench on which the tool is mounted.
    Bench,
}
