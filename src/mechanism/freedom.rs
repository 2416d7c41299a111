//! How many ways a linkage can move, from the rank of its closure gradients.

use super::{Body, GROUND, Linkage, Pose};
use crate::model::PartId;
use crate::numeric::rank::rank;

/// Pivots below this times the largest count as zero. Closure is met to about 1e-15 of the size
/// when this is asked, so a true loss of rank shows pivots far below it.
const RANK_TOLERANCE: f64 = 1e-9;

/// What the closure equations leave free at one position.
#[derive(Debug, Clone)]
pub struct Freedom {
    /// Degrees of freedom: 1 is a tool.
    pub degrees: usize,
    /// Independent closure equations, by row.
    pub rows: Vec<usize>,
    /// Number of equations that say nothing new here.
    pub redundant: usize,
    /// Unit vectors of free motion, `degrees` of them.
    pub motions: Vec<Vec<f64>>,
    /// Smallest accepted pivot over the largest: small near a change point.
    pub margin: f64,
}

/// Motion that is left when the handle is held still.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Looseness {
    /// How many such motions there are.
    pub degrees: usize,
    /// Bodies that move in them.
    pub bodies: Vec<PartId>,
}

/// Freedom of `linkage` at `pose`.
#[must_use]
pub fn freedom(linkage: &Linkage, pose: &Pose) -> Freedom {
    let (m, n) = (linkage.equations, linkage.coordinates);
    let mut jacobian = vec![0.0; m * n];
    linkage.jacobian(pose, &mut jacobian);
    let found = rank(&jacobian, m, n, RANK_TOLERANCE);
    Freedom {
        degrees: n - found.rank,
        redundant: m - found.rank,
        rows: found.rows,
        motions: found.null,
        margin: found.margin,
    }
}

/// What still moves at `pose` when the handle is held.
#[must_use]
pub fn looseness(linkage: &Linkage, pose: &Pose) -> Looseness {
    let (m, n) = (linkage.equations, linkage.coordinates);
    let mut rows = vec![0.0; (m + 1) * n];
    linkage.jacobian(pose, &mut rows);
    let mut handle = vec![0.0; n];
    linkage.handle_row(&mut handle);
    for (k, value) in handle.iter().enumerate() {
        rows[m * n + k] = value * linkage.size;
    }
    let found = rank(&rows, m + 1, n, RANK_TOLERANCE);
    let moves = |body: PartId| {
        let mut coordinates = Vec::new();
        for b in linkage.way_down(body) {
            let Body { angle, slide, .. } = linkage.bodies[b];
            coordinates.push(angle);
            if slide != GROUND {
                coordinates.extend([slide, slide + 1]);
            }
        }
        found.null.iter().any(|motion| {
            coordinates
                .iter()
                .any(|&c| motion.get(c).is_some_and(|v| v.abs() > 1e-6))
        })
    };
    Looseness {
        degrees: found.null.len(),
        bodies: linkage
            .order
            .iter()
            .copied()
            .filter(|&b| moves(b))
            .collect(),
    }
}
