//! What is asked of the room between plates.

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
