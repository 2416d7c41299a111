//! Where samples are read along a sweep: at those nodes only that may hold the peak of a sample, as it is
//! foretold to first order. See [`super::choose`].

use super::sweep::Nodes;
use crate::numeric::dot;

/// Where samples are read.
#[derive(Debug, Clone)]
pub(super) struct Choice {
    /// For each sweep, the nodes at which every sample is read.
    pub(super) nodes: Vec<Nodes>,
    /// For each target, where its peak stands.
    pub(super) tops: Vec<Top>,
}

/// Where the peaks of a target's samples stand.
#[derive(Debug, Clone)]
pub(super) enum Top {
    /// At the station where the work turns.
    Corner(usize),
    /// At a node, an end of the stroke.
    End(usize),
    /// Beside one of some nodes, or at one of some stations where the work turns.
    Along(Box<Along>),
    /// Anywhere.
    Unknown,
}

/// Where a peak is looked for, sample by sample.
#[derive(Debug, Clone)]
pub(super) struct Along {
    pub(super) nodes: Vec<Foretold>,
    /// Stations where the work turns.
    pub(super) corners: Vec<usize>,
    /// The highest of those, if the curve is highest there; and how it falls from there to both sides.
    pub(super) corner: Option<(Foretold, [Option<Fall>; 2])>,
}

/// What is foretold to be read in a sample, to first order.
#[derive(Debug, Clone)]
pub(super) struct Foretold {
    pub(super) value: f64,
    /// By every deviation.
    pub(super) slopes: Vec<f64>,
    pub(super) node: usize,
    /// How much the curve rises from the node, half way to its neighbours.
    pub(super) rise: f64,
    /// Slopes against that of the top, and standard deviation of the difference to it.
    pub(super) beside: Vec<f64>,
    pub(super) spread: f64,
}

/// How much lower a node is foretold to be than the one before it.
#[derive(Debug, Clone)]
pub(super) struct Fall {
    pub(super) node: usize,
    pub(super) value: f64,
    pub(super) slopes: Vec<f64>,
    pub(super) spread: f64,
}

/// Share of a foretold difference, and of its standard deviation, by which it may be otherwise.
const UNSURE: f64 = 0.5;

impl Foretold {
    fn read(&self, deviations: &[f64]) -> f64 {
        self.value + dot(&self.slopes, deviations)
    }
}

impl Fall {
    fn holds(&self, deviations: &[f64]) -> bool {
        let off = dot(&self.slopes, deviations);
        self.value + off > UNSURE * (off.abs() + self.spread)
    }
}

impl Along {
    /// Adds those nodes to be read that may hold the peak of a sample; whether there are none, since it
    /// stands where the work turns.
    pub(super) fn ask(&self, deviations: &[f64], read: &mut Nodes) -> bool {
        let foretold = self.nodes.iter().map(|node| node.read(deviations));
        let mut level = foretold.fold(f64::NEG_INFINITY, f64::max);
        let mut beside = [None; 2];
        if let Some((corner, falls)) = &self.corner {
            level = level.max(corner.read(deviations));
            for (beside, fall) in beside.iter_mut().zip(falls) {
                let fall = fall.as_ref().filter(|fall| fall.holds(deviations));
                *beside = fall.map(|fall| fall.node);
            }
        }
        let mut alone = self.corner.is_some() && self.corners.len() < 2;
        for node in &self.nodes {
            let off = dot(&node.beside, deviations).abs() + node.spread;
            let below = node.read(deviations) + node.rise + UNSURE * off < level;
            if !below && !beside.contains(&Some(node.node)) {
                read[node.node] = true;
                alone = false;
            }
        }
        alone
    }
}

impl Choice {
    /// Whether a target is read at a station where the work turns.
    pub(super) fn turns(&self, target: usize, station: usize) -> bool {
        match self.tops.get(target) {
            Some(Top::Corner(corner)) => *corner == station,
            Some(Top::Along(along)) => along.corners.contains(&station),
            Some(Top::End(_)) => false,
            Some(Top::Unknown) | None => true,
        }
    }
}
