//! Where peaks and least values are looked for over the stroke of a sampled tool.

use super::place::Station;
use crate::measure::Measure;

/// Intervals of the stroke among whose ends a peak is looked for.
pub(super) const NODES: usize = 16;

/// Positions over the stroke, for peaks.
#[derive(Debug, Clone)]
pub(super) struct Sweep {
    /// Ends of the stroke.
    pub(super) course: usize,
    /// Equal in pace from open to shut.
    pub(super) nodes: Vec<Station>,
    /// What is read at every node.
    pub(super) measures: Vec<Measure>,
}

/// For each node of a sweep, whether samples are read there.
pub(super) type Nodes = [bool; NODES + 1];
