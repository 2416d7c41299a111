//! The whole motion of a linkage from its assembled position, both ways, and what happens on it.

use super::signal::Signal;
use super::solver::Solver;
use crate::mechanism::Freedom;
use crate::numeric::follow::{End, Node, Options, System, between, follow, normalise};
use crate::numeric::root::root;

/// The motion, as nodes along it. A place on it is a [`Waypoint`].
#[derive(Debug, Clone)]
pub struct Path {
    /// Nodes in one sense of travel, through the assembled position.
    pub nodes: Vec<Node>,
    /// Index of the assembled position among the nodes.
    pub start: usize,
    /// How it ends: before the first node and after the last.
    pub ends: [End; 2],
    /// Freedom at the assembled position.
    pub freedom: Freedom,
}

/// A place on the motion: between node `node` and the next, `ahead` along the tangent there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Waypoint {
    /// Node before it.
    pub node: usize,
    /// Distance along that node's tangent.
    pub ahead: f64,
}

impl Waypoint {
    /// Whether `self` comes before `other` along the path.
    #[must_use]
    pub fn before(self, other: Self) -> bool {
        (self.node, self.ahead) < (other.node, other.ahead)
    }
}

/// Work of following a motion each way, in nodes times the cube of the coordinates: some two and a
/// half seconds on a slow core.
const MOST_WORK: usize = 400_000_000;

/// The most nodes each way for so many coordinates. Tools have up to twenty, as a rule, and are not
/// touched by this.
fn most_nodes(coordinates: usize) -> usize {
    (MOST_WORK / coordinates.pow(3).max(1)).clamp(60, 6000)
}

impl Path {
    /// Follows the motion from the coordinates `q`, which close all loops, along `motion`.
    #[must_use]
    pub fn trace(solver: &mut Solver, q: &[f64], freedom: Freedom) -> Self {
        let linkage = &*solver.linkage;
        let mut periodic = vec![false; linkage.coordinates];
        for body in &linkage.bodies {
            if let Some(flag) = periodic.get_mut(body.angle) {
                *flag = true;
            }
        }
        let options = Options {
            nodes: most_nodes(linkage.coordinates),
            ..Options::new(periodic)
        };
        let [(back, back_end), (forth, forth_end)] = [-1.0, 1.0].map(|sense| {
            solver.choose_rows(q);
            let t: Vec<f64> = freedom.motions[0].iter().map(|v| sense * v).collect();
            let value: f64 = t.iter().zip(q).map(|(a, b)| a * b).sum();
            let mut start = Node {
                q: q.to_vec(),
                t,
                positive: true,
            };
            let row = start.t.clone();
            if solver.close(&mut start.q, &row, value) {
                start.positive = solver.positive();
            }
            follow(solver, start, &options)
        });
        let start = back.len() - 1;
        // The backward half, turned round: its tangents point the other way, and with them the
        // sign of the determinant.
        let mut nodes: Vec<Node> = back
            .into_iter()
            .rev()
            .map(|mut node| {
                node.t.iter_mut().for_each(|v| *v = -*v);
                node.positive = !node.positive;
                node
            })
            .collect();
        nodes.extend(forth.into_iter().skip(1));
        Self {
            nodes,
            start,
            ends: [back_end, forth_end],
            freedom,
        }
    }

    /// Whether there is more of the motion than was followed.
    #[must_use]
    pub fn cut_short(&self) -> bool {
        self.ends.contains(&End::Limit)
    }

    /// Length of the piece behind a node, along its tangent.
    #[must_use]
    pub fn reach(&self, node: usize) -> f64 {
        match (self.nodes.get(node), self.nodes.get(node + 1)) {
            (Some(a), Some(b)) => {
                a.t.iter()
                    .zip(a.q.iter().zip(&b.q))
                    .map(|(t, (p, q))| t * (q - p))
                    .sum()
            }
            _ => 0.0,
        }
    }

    /// Solves the position at a spot; the solver's pose is then there. Gives the unit tangent in
    /// the sense of travel.
    pub fn stand(&self, solver: &mut Solver, spot: Waypoint) -> Option<Vec<f64>> {
        let node = self.nodes.get(spot.node)?;
        if solver.redundant() {
            solver.choose_rows(&node.q);
        }
        self.guess(spot, &mut solver.pose.q);
        solver.set_border(&node.t);
        let value: f64 = node.t.iter().zip(&node.q).map(|(a, b)| a * b).sum::<f64>() + spot.ahead;
        if !solver.close_from_pose(value) {
            return None;
        }
        let mut t = Solver::tangent(solver).to_vec();
        normalise(&mut t);
        Some(t)
    }

    /// Puts the solver's pose at a spot as the nodes around it have it, without closing the loops:
    /// for a change point, where they cannot be closed by equations that no longer tell.
    pub fn pass(&self, solver: &mut Solver, spot: Waypoint) {
        self.guess(spot, &mut solver.pose.q);
        solver.pose.update(&solver.linkage);
    }

    /// [`Path::stand`] where that can be, otherwise [`Path::pass`]: what happens at a place that
    /// cannot be solved is not left out. Gives the unit tangent, or nearly.
    pub fn stand_or_pass(&self, solver: &mut Solver, spot: Waypoint) -> Vec<f64> {
        self.stand(solver, spot).unwrap_or_else(|| {
            self.pass(solver, spot);
            self.nodes
                .get(spot.node)
                .map_or_else(Vec::new, |node| node.t.clone())
        })
    }

    /// Coordinates at a spot by the cubic through the nodes around it.
    fn guess(&self, spot: Waypoint, q: &mut [f64]) {
        let reach = self.reach(spot.node);
        match (self.nodes.get(spot.node), self.nodes.get(spot.node + 1)) {
            (Some(node), Some(next)) if reach > 0.0 => between(node, next, spot.ahead / reach, q),
            (Some(node), _) => q.copy_from_slice(&node.q),
            _ => {}
        }
    }

    /// A zero of `signal − level` behind `node`, between two distances ahead of it, to 1e-15.
    pub fn root_between(
        &self,
        solver: &mut Solver,
        signal: Signal,
        level: f64,
        node: usize,
        range: [f64; 2],
    ) -> Option<Waypoint> {
        let at = |ahead: f64| {
            let t = self.stand(solver, Waypoint { node, ahead })?;
            Some(signal.read(solver, &t) - level)
        };
        root(at, range[0], range[1], 1e-15).map(|ahead| Waypoint { node, ahead })
    }

    /// Reads signals at every node; `None` where the position cannot be solved again.
    #[must_use]
    pub fn read(&self, solver: &mut Solver, signals: &[Signal]) -> Vec<Vec<Option<f64>>> {
        let mut columns = vec![Vec::with_capacity(self.nodes.len()); signals.len()];
        for node in &self.nodes {
            solver.pose.set(&solver.linkage, &node.q);
            for (column, signal) in columns.iter_mut().zip(signals) {
                let value = signal.read(solver, &node.t);
                column.push(value.is_finite().then_some(value));
            }
        }
        columns
    }

    /// Where `signal` is zero, from its values at the nodes. Between two nodes it may be so twice:
    /// where it comes near to zero there it is looked at more closely.
    pub fn zeros(
        &self,
        solver: &mut Solver,
        signal: Signal,
        values: &[Option<f64>],
    ) -> Vec<Waypoint> {
        let mut found = Vec::new();
        for k in 1..self.nodes.len() {
            let reach = self.reach(k - 1);
            let spot = |ahead: f64| Waypoint { node: k - 1, ahead };
            match (values[k - 1], values[k]) {
                (Some(0.0), Some(_)) => found.push(spot(0.0)),
                (Some(a), Some(b)) if b != 0.0 && (a > 0.0) != (b > 0.0) => {
                    let root = self.root_between(solver, signal, 0.0, k - 1, [0.0, reach]);
                    // Where it cannot be found exactly it is there nevertheless.
                    found.push(root.unwrap_or(spot(reach * a / (a - b))));
                }
                (Some(_), Some(b)) if b != 0.0 => {
                    if let Some(beyond) = self.dip(solver, signal, values, k) {
                        for range in [[0.0, beyond], [beyond, reach]] {
                            let root = self.root_between(solver, signal, 0.0, k - 1, range);
                            found.push(root.unwrap_or(spot(beyond)));
                        }
                    }
                }
                _ => {}
            }
        }
        found
    }

    /// A place ahead of node `k − 1` at which `signal` has not the sign that it has at that node
    /// and at the next. Looked for where the slopes at both, by the nodes further out, run towards
    /// zero: at the vertex of the parabola through three values, and on through new ones.
    fn dip(
        &self,
        solver: &mut Solver,
        signal: Signal,
        values: &[Option<f64>],
        k: usize,
    ) -> Option<f64> {
        let value = |node: Option<usize>| values.get(node?).copied().flatten();
        let (a, b) = (value(Some(k - 1))?, value(Some(k))?);
        let reach = self.reach(k - 1);
        let sign = a.signum();
        // The third value: that of the neighbour next to the lower of the two.
        let before = value(k.checked_sub(2)).map(|v| (-self.reach(k - 2), v));
        let after = value(Some(k + 1)).map(|v| (reach + self.reach(k), v));
        let outer = if a.abs() < b.abs() { before } else { after }?;
        let mut three = [(0.0, a), (reach, b), outer];
        for _ in 0..6 {
            let vertex = vertex(three, sign)?;
            if !(vertex > 0.0 && vertex < reach) {
                return None;
            }
            let t = self.stand(
                solver,
                Waypoint {
                    node: k - 1,
                    ahead: vertex,
                },
            )?;
            let now = signal.read(solver, &t);
            if now * sign < 0.0 {
                return Some(vertex);
            }
            // The farthest of the three gives way to the new one.
            three.sort_by(|p, q| (p.0 - vertex).abs().total_cmp(&(q.0 - vertex).abs()));
            three[2] = (vertex, now);
        }
        None
    }

    /// Change points: where the bordered determinant changes sign along the path, found by
    /// halving. Not looked for with redundant equations, whose determinant means nothing.
    #[must_use]
    pub fn change_points(&self, solver: &mut Solver) -> Vec<Waypoint> {
        if self.freedom.redundant > 0 {
            return Vec::new();
        }
        let mut found = Vec::new();
        for k in 1..self.nodes.len() {
            let (a, b) = (&self.nodes[k - 1], &self.nodes[k]);
            if a.positive == b.positive {
                continue;
            }
            let (mut low, mut high) = (0.0, self.reach(k - 1));
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                if self
                    .stand(
                        solver,
                        Waypoint {
                            node: k - 1,
                            ahead: middle,
                        },
                    )
                    .is_none()
                {
                    break; // so near the change point that the equations no longer tell
                }
                if solver.positive() == a.positive {
                    low = middle
                } else {
                    high = middle
                }
            }
            found.push(Waypoint {
                node: k - 1,
                ahead: 0.5 * (low + high),
            });
        }
        found
    }
}

/// Where the parabola through three points has its vertex, if that is beyond zero or nearly: less
/// than a quarter of the least of the three. Of values of this sign, opening away from zero.
fn vertex(three: [(f64, f64); 3], sign: f64) -> Option<f64> {
    let [(x0, y0), (x1, y1), (x2, y2)] = three;
    let first = (y1 - y0) / (x1 - x0);
    let second = ((y2 - y1) / (x2 - x1) - first) / (x2 - x0);
    if !(second * sign > 0.0) {
        return None;
    }
    let at = 0.5 * (x0 + x1) - 0.5 * first / second;
    let low = y0 + (at - x0) * (first + (at - x1) * second);
    let least = y0.abs().min(y1.abs()).min(y2.abs());
    (low * sign < 0.25 * least).then_some(at)
}
