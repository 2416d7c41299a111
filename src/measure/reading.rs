//! What a measure says, and where.

use crate::statics::{Absent, Rig};

/// What a measure says, in internal units; or why there is no value.
pub type Reading = Result<f64, Absent>;

/// Where a peak or least value was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Pace from open, see [`Rig::go_to`].
    pub pace: f64,
    /// Gap there, mm.
    pub gap: f64,
    /// Handle angle there, rad.
    pub handle: f64,
    /// Handle angle travelled since open, rad.
    pub travel: f64,
}

impl Place {
    /// Where the rig stands, which has gone to this pace.
    pub(super) fn of(rig: &Rig, pace: f64) -> Self {
        Self {
            pace,
            gap: rig.forces().gap[0],
            handle: rig.stance().handle,
            travel: rig.stance().travel,
        }
    }
}
