//! A number that is read off every sample, and how it is come by.

use super::subject::{Hold, Subject};
use crate::measure::Measure;

/// Where a target's number is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Kind {
    /// At a station.
    At { station: usize },
    /// Handle angle at one station against another, times ±1.
    Travel {
        station: usize,
        open: usize,
        turn: f64,
    },
    /// The peak (`sense` 1) or least value (−1) of a sweep's measure.
    Sweep {
        sweep: usize,
        measure: usize,
        sense: f64,
    },
    /// The least of what is read at those stations of [`Target::among`] that are on the stroke.
    Least,
    /// Handle angle (or, `gap`, what the gap closes) from shut to a place beyond.
    Margin { gap: bool },
    /// The area under the work's curve between the gaps at the ends of a course.
    Curve { course: usize },
    /// How the work comes out of the gap at the end of a course, the jaws spreading so much under 1 N.
    Height { course: usize, gives: f64 },
    /// The area under a measure's growth.
    Area { area: usize },
}

/// A number that is read off every sample.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Target {
    pub(super) subject: Subject,
    pub(super) measure: Measure,
    pub(super) kind: Kind,
    pub(super) hold: Hold,
    /// What the tool itself gives, exactly.
    pub(super) nominal: f64,
    /// Added to what a worker reads: exact minus read, on the nominal tool. Not zero for peaks, which a
    /// worker looks for at fewer positions, and for handle angles with whole turns.
    pub(super) correction: f64,
    /// Of a peak or least value that follows the work: stations where the work turns, at which it may
    /// stand between the nodes of the sweep.
    pub(super) corners: Vec<usize>,
    /// Of a least value of few places: their stations, and the courses of these.
    pub(super) among: Vec<(usize, usize)>,
}

impl Target {
    /// Whether its measure is read at a station.
    pub(super) fn read_at(&self, at: usize) -> bool {
        match self.kind {
            Kind::Sweep { .. } => self.corners.contains(&at),
            Kind::At { station } | Kind::Travel { station, .. } => station == at,
            Kind::Least => self.among.iter().any(|(station, _)| *station == at),
            Kind::Margin { .. } | Kind::Curve { .. } | Kind::Height { .. } | Kind::Area { .. } => {
                false
            }
        }
    }
}
