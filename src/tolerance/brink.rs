//! The toggle or dead position beyond shut, for how far made tools stay off it.

use super::place::Station;

/// Where the motion beyond shut first comes to a place that no stroke may pass.
#[derive(Debug, Clone)]
pub(super) struct Brink {
    /// There, on the tool as it is drawn, with the play of shut: by the handle's angle at a toggle, by the gap
    /// at a dead position, of which that is nothing unusual.
    pub(super) station: Station,
    /// A dead position: the handle stands still, else the first jaw does.
    pub(super) dead: bool,
    /// Station of shut.
    pub(super) shut: usize,
    /// Sense in which the handle turns on from shut.
    pub(super) turn: f64,
}
