//! Everything about one or several tools for a design review: the answer of `report`.

use super::compare::CompareReport;
use super::drawing::DrawingReport;
use super::loads::LoadsReport;
use super::motion::MotionReport;
use super::plates::PlatesReport;
use super::room::RoomReport;
use super::setup::SetupReport;
use super::stroke::StrokeReport;
use super::tolerance::ToleranceReport;
use super::trial::TrialReport;
use crate::motion::{Happening, Margin};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// A design review.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReviewReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Version of the program.
    pub version: &'static str,
    /// Day of the run, year-month-day.
    pub date: String,
    /// The tools.
    pub tools: Vec<ToolReview>,
    /// The tools side by side; null for one tool.
    pub compare: Option<CompareReport>,
}

/// One tool.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToolReview {
    /// What the tool is for, from its file.
    pub note: Option<String>,
    /// The stroke, with its demands.
    pub stroke: StrokeReport,
    /// How far beyond shut the tool loses its drive; null where it does not.
    pub margin: Option<MarginLine>,
    /// The stroke once more in the units of the first tool, where its own are others: pictures side
    /// by side have one unit.
    pub beside: Option<StrokeReport>,
    /// Loads at the worst position, and strength factors.
    pub loads: LoadsReport,
    /// The linkage open and shut; null where it cannot be drawn.
    pub drawing: Option<DrawingReport>,
    /// Where its parts stand over the stroke; null where it cannot be drawn.
    pub motion: Option<MotionReport>,
    /// What the plates are like; null where no part has an outline.
    pub plates: Option<PlatesReport>,
    /// How plates come near each other; null where none are held against another.
    pub room: Option<RoomReport>,
    /// What the adjusters do; null where there are none.
    pub setup: Option<SetupReport>,
    /// How exact it comes out, where the file states tolerances.
    pub tolerance: Option<ToleranceReport>,
    /// Why there is none although the file states tolerances, if so.
    pub no_tolerance: Option<String>,
    /// The trial of `[trial]`; null where the file has none.
    pub trial: Option<TrialReport>,
    /// Why its readings could not be laid on the tool, if so.
    pub no_trial: Option<String>,
    /// What the command line changed, as it was typed.
    pub changes: Vec<String>,
    /// The files as they were read, the tool file first.
    pub inputs: Vec<InputText>,
}

/// The nearest place beyond shut that no stroke may pass.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MarginLine {
    /// What stands there, in words.
    pub what: &'static str,
    /// Handle angle from shut to it.
    pub handle: f64,
    /// What the gap of the first jaw closes on the way.
    pub gap: f64,
}

/// The margin of a tool, in its units.
#[must_use]
pub fn margin_line(margin: Option<Margin>, units: UnitSystem) -> Option<MarginLine> {
    let margin = margin?;
    Some(MarginLine {
        what: match margin.what {
            Happening::Dead => "a dead position of the handle",
            Happening::Toggle(_) => "a toggle",
            Happening::Contact(_) => "a place where the jaw turns back",
            _ => "a change point",
        },
        handle: units.show(margin.handle, Quantity::Angle),
        gap: units.show(margin.gap, Quantity::Length),
    })
}

impl ToolReview {
    /// The stroke for the picture beside other tools.
    #[must_use]
    pub fn stroke_beside(&self) -> &StrokeReport {
        self.beside.as_ref().unwrap_or(&self.stroke)
    }
}

/// A file as it was read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct InputText {
    /// As it was named.
    pub name: String,
    /// SHA-256 of its bytes, hexadecimal.
    pub sha256: String,
    /// Its text.
    pub text: String,
}

/// Assumptions and limits of the model: part of every design review.
pub const MODEL_LIMITS: [&str; 6] = [
    "Planar: all forces act in the plane of the linkage; out-of-plane effects (pin bending by offset \
     links, tipping) are ignored.",
    "Quasi-static: no impact, no inertia; weights are left out.",
    "Rigid parts, except for the compliance stated with the loads: the forces are those of the \
     undeformed shape. At a toggle an ideal rigid tool has no limit of force; a real one is limited by \
     its compliance.",
    "The strength factors are for a single static load; fatigue is calculated where [life] asks for it, wear is not.",
    "Friction is Coulomb's with the coefficients of the file; pin clearance enters the tolerances \
     only.",
    "The jaw force comes from virtual work and again from the free bodies of all parts; both agree, \
     or no number is shown.",
];
