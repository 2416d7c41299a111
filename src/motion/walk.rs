//! What a walk over the stroke remembers from one position to the next.

use super::solver::Solver;
use crate::mechanism::Pose;
use crate::numeric::follow::Node;

/// Walks the positions of a stroke one by one, and remembers the last two.
#[derive(Debug, Clone)]
pub struct Walk {
    /// Where the last position was found: node before it.
    pub(super) node: usize,
    /// How many of `past` are of use.
    pub(super) known: usize,
    /// The last two positions solved by handle angle, the newest first.
    past: [Past; 2],
    /// The step predicted.
    pub(super) step: Vec<f64>,
    /// On which side every block stands from `node` to the next, where the way there is in closed
    /// form; the node that this has been found for, and whether it is.
    pub(super) sides: Vec<f64>,
    sided: Option<(usize, bool)>,
    spare: Option<Pose>,
}

/// A position solved by handle angle.
#[derive(Debug, Clone)]
struct Past {
    handle: f64,
    q: Vec<f64>,
    /// dq / d(handle).
    t: Vec<f64>,
}

impl Walk {
    /// From the open end, whose node is given, with so many coordinates.
    pub(super) fn new(node: usize, coordinates: usize) -> Self {
        let past = Past {
            handle: 0.0,
            q: vec![0.0; coordinates],
            t: vec![0.0; coordinates],
        };
        Self {
            node,
            known: 0,
            past: [past.clone(), past],
            step: vec![0.0; coordinates],
            sides: Vec::new(),
            sided: None,
            spare: None,
        }
    }

    /// Whether no block changes sides between the node and the next, `a` and `b`: on which side each
    /// stands is then in `sides`. Nodes are so near each other that a block which is clear of its dead
    /// position at both, on the same side, does not reach it between them.
    pub(super) fn keeps_sides(&mut self, solver: &Solver, a: &Node, b: &Node) -> bool {
        if let Some((node, keeps)) = self.sided
            && node == self.node
        {
            return keeps;
        }
        let keeps = self.find_sides(solver, a, b);
        self.sided = Some((self.node, keeps));
        keeps
    }

    fn find_sides(&mut self, solver: &Solver, a: &Node, b: &Node) -> bool {
        let Some(closed) = &solver.linkage.closed else {
            return false;
        };
        let pose = self.spare.get_or_insert_with(|| solver.pose.clone());
        self.sides.resize(closed.len(), 0.0);
        pose.set(&solver.linkage, &b.q);
        if !closed.signs(pose, &mut self.sides) {
            return false;
        }
        let next = std::mem::take(&mut self.sides);
        self.sides = vec![0.0; closed.len()];
        pose.set(&solver.linkage, &a.q);
        let clear = closed.signs(pose, &mut self.sides);
        clear && self.sides.iter().zip(&next).all(|(a, b)| *a * *b > 0.0)
    }

    pub(super) fn keep(&mut self, solver: &Solver, handle: f64) {
        self.past.swap(0, 1);
        let newest = &mut self.past[0];
        newest.handle = handle;
        newest.q.copy_from_slice(&solver.pose.q);
        newest.t.copy_from_slice(solver.tangent());
        self.known = (self.known + 1).min(2);
    }

    /// The step from the last position to `handle` on the cubic through the last two positions
    /// with their tangents, if they stand at equal steps before it:
    /// y₂ = 5 y₀ − 4 y₁ + h (2 f₀ + 4 f₁), whose error is of the order h⁴ (from Hermite's
    /// interpolation formula).
    pub(super) fn predict(&mut self, handle: f64) -> bool {
        let [new, old] = &self.past;
        let h = handle - new.handle;
        if self.known < 2 || ((new.handle - old.handle) - h).abs() > 1e-6 * h.abs() {
            return false;
        }
        for (k, step) in self.step.iter_mut().enumerate() {
            *step = 5.0 * (old.q[k] - new.q[k]) + h * (2.0 * old.t[k] + 4.0 * new.t[k]);
        }
        true
    }
}
