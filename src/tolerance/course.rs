//! Where the stroke of a sampled tool begins and ends for the forces: each tool goes from its own open
//! end to its own shut, or to where its own dies meet before.

use super::place::Station;
use crate::model::GripId;

/// The ends of the stroke with the tool held at a grip.
#[derive(Debug, Clone)]
pub(super) struct Course {
    /// Grip that is held.
    pub(super) grip: GripId,
    /// Station of the open end.
    pub(super) open: usize,
    /// Station of the other end. Where the dies of a further jaw meet before shut, it is at the handle's
    /// angle at which they do on the tool as it is drawn.
    pub(super) shut: usize,
    /// Where the dies of the first jaw meet, if they may do so before shut.
    pub(super) meets: Option<Station>,
    /// Pace at both ends of the nominal tool without play.
    pub(super) nominal: [f64; 2],
}

/// The stroke of one sampled tool.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Run {
    /// Pace at both ends.
    pub(super) paces: [f64; 2],
    /// Gap of the first jaw there, mm.
    pub(super) gaps: [f64; 2],
}

impl Run {
    /// Whether a pace is on the stroke, or within a share of it beyond an end.
    pub(super) fn holds(&self, pace: f64, near: f64) -> bool {
        let [open, end] = self.paces;
        (-near..=1.0 + near).contains(&((pace - open) / (end - open)))
    }
}
