//! Where the stroke of a sampled tool begins and ends for the forces: each tool goes from its own open
//! end to its own shut, or to where its own dies or a stop meet before.

use super::place::Station;
use crate::model::{GripId, Work};

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
    /// Where each stop and the dies of each further jaw are met that may be before shut.
    pub(super) stops: Vec<Station>,
    /// Where the stroke of the tool as it is drawn ends, by its pace: where it is begun to look for the end of a cam's face
    /// that is met before. `None` without such a face.
    pub(super) face: Option<Station>,
    /// Gap up to which the stroke is to go, where dies, a stop or the end of a cam's face cut that of the tool as it is
    /// drawn short.
    pub(super) whole: Option<f64>,
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
    /// Gap up to which it was to go, where a stop or dies cut it short.
    pub(super) cut: Option<f64>,
}

impl Run {
    /// Whether it ends before the work is done; `near`: gaps that are the same, mm.
    pub(super) fn is_short(&self, work: &Work, near: f64) -> bool {
        (self.cut).is_some_and(|whole| work.left(self.gaps[1], whole, near) > 0.0)
    }

    /// Whether a pace is on the stroke, or within a share of it beyond an end.
    pub(super) fn holds(&self, pace: f64, near: f64) -> bool {
        let [open, end] = self.paces;
        (-near..=1.0 + near).contains(&((pace - open) / (end - open)))
    }
}
