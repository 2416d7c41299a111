//! What is asked of the room between plates, what they are cut from, and how a tool stands on a bench.

use super::Place;

/// How near plates may come to each other and to fingers.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Room {
    /// Clear width that fingers take, mm: wider places are let alone. `None`: [`Room::FINGER`].
    pub finger: Option<f64>,
    /// Least distance that plates of one layer are to keep, mm; `None`: they may come as near as they like.
    pub apart: Option<f64>,
    /// Where fingers are looked for.
    pub reach: Reach,
}

/// Where fingers are looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Reach {
    /// Round the handles.
    #[default]
    Hand,
    /// Between all parts.
    All,
}

impl Room {
    /// Clear width that is let alone, mm: a finger. ISO 13854 (EN 349), safety of machinery, minimum gaps to avoid
    /// crushing of parts of the human body: 25 mm for a finger (as the AUVA lexicon, "safety distances", prints it).
    pub const FINGER: f64 = 25.0;

    /// Clear width that fingers take, mm.
    #[must_use]
    pub fn finger(&self) -> f64 {
        self.finger.unwrap_or(Self::FINGER)
    }
}

/// What plates are cut from.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stock {
    /// Kept between blanks on a sheet, mm.
    pub margin: Option<f64>,
    /// Thicknesses of the sheets at hand, mm; empty: any.
    pub thicknesses: Vec<f64>,
}

/// How a tool on a bench is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bench {
    /// The place of the fixed part on which it stands: the middle of its base.
    pub at: Place,
    /// Out of the bench and into the tool, rad.
    pub up: f64,
}

impl Bench {
    /// Out of the bench where the file does not say: up, rad.
    pub const UP: f64 = std::f64::consts::FRAC_PI_2;
}
