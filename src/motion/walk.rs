//! What a walk over the stroke remembers from one position to the next.

use super::solver::Solver;
use crate::mechanism::Pose;
use crate::numeric::dot;
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
    /// form.
    pub(super) sides: Vec<f64>,
    /// What is known of the way from `node` to the next: found once.
    span: Option<Span>,
    spare: Option<Pose>,
}

/// The way from a node to the next.
#[derive(Debug, Clone, Copy)]
pub(super) struct Span {
    node: usize,
    /// The handle turns fast enough for positions to be found by its angle.
    pub(super) by_handle: bool,
    /// No block changes sides: positions are in closed form.
    pub(super) closed: bool,
}

/// A handle rate (rad over the length of the coordinates) below which positions are found along
/// the motion rather than by handle angle.
const SLOW_HANDLE: f64 = 0.02;

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
            span: None,
            spare: None,
        }
    }

    /// What is known of the way from `node` to the next, the handle's angle having the gradient
    /// `row`. `None` at the end of the path.
    #[inline]
    pub(super) fn span(&mut self, solver: &Solver, nodes: &[Node], row: &[f64]) -> Option<Span> {
        match self.span {
            Some(span) if span.node == self.node => Some(span),
            _ => self.find_span(
                solver,
                nodes.get(self.node)?,
                nodes.get(self.node + 1)?,
                row,
            ),
        }
    }

    fn find_span(&mut self, solver: &Solver, a: &Node, b: &Node, row: &[f64]) -> Option<Span> {
        let rate = |node: &Node| dot(row, &node.t).abs();
        let by_handle = rate(a).min(rate(b)) >= SLOW_HANDLE && dot(row, &a.q) != dot(row, &b.q);
        self.span = Some(Span {
            node: self.node,
            by_handle,
            closed: by_handle && self.find_sides(solver, a, b),
        });
        self.span
    }

    /// Whether no block changes sides between two nodes: on which side each stands is then in `sides`.
    /// Nodes are so near each other that a block which is clear of its dead position at both, on the
    /// same side, does not reach it between them.
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
