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

/// Where the peaks of samples stand, as a first few of them that were read everywhere have it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pilot {
    /// For each sweep, the nodes at which peaks stood, their neighbours, and the ends. From there a
    /// sample is followed for as long as it rises.
    pub(super) nodes: Vec<Nodes>,
    /// For each target, whether its peak always stood where the work turns, so that it need not be
    /// looked for closely elsewhere.
    pub(super) at_corner: Vec<bool>,
}

impl Pilot {
    /// Nothing seen yet.
    pub(super) fn new(sweeps: usize, targets: usize) -> Self {
        let mut ends = [false; NODES + 1];
        (ends[0], ends[NODES]) = (true, true);
        Self {
            nodes: vec![ends; sweeps],
            at_corner: vec![true; targets],
        }
    }

    /// A peak stood at node `k` of a sweep.
    pub(super) fn saw(&mut self, sweep: usize, k: usize) {
        if let Some(nodes) = self.nodes.get_mut(sweep) {
            for near in k.saturating_sub(1)..=(k + 1).min(NODES) {
                nodes[near] = true;
            }
        }
    }

    /// Takes over what another has seen.
    pub(super) fn take(&mut self, other: &Self) {
        for (own, nodes) in self.nodes.iter_mut().zip(&other.nodes) {
            for (own, seen) in own.iter_mut().zip(nodes) {
                *own |= seen;
            }
        }
        for (own, at_corner) in self.at_corner.iter_mut().zip(&other.at_corner) {
            *own &= at_corner;
        }
    }
}
