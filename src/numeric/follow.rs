//! Following a one-parameter curve of solutions by predictor and corrector.
//!
//! Pseudo-arclength: from a point with unit tangent t the next one is looked for in the plane at
//! distance h along t, so that a turning point of any coordinate is nothing special. Source:
//! E. L. Allgower and K. Georg, *Numerical Continuation Methods* (1990), ch. 2 and 6; the
//! determinant test for branch points is their ch. 8.

use super::{angle, dot};

/// Equations whose solutions form a curve.
pub trait System {
    /// Corrects `q` to the solution in the plane `row · q = value`. `false` when that fails; `q`
    /// is then of no use.
    fn close(&mut self, q: &mut [f64], row: &[f64], value: f64) -> bool;
    /// Tangent at the last solution, with `row · t = 1` for the last row.
    fn tangent(&mut self, t: &mut [f64]);
    /// Sign of the determinant of the equations bordered by the last row. It flips, for a tangent
    /// carried along, where the curve runs through a branch point.
    fn positive(&self) -> bool;
    /// Called at every accepted point, for systems with more equations than they need.
    fn settle(&mut self, _q: &[f64]) {}
}

/// A point of the curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// Coordinates.
    pub q: Vec<f64>,
    /// Unit tangent, in the sense of travel.
    pub t: Vec<f64>,
    /// Sign of the bordered determinant, see [`System::positive`].
    pub positive: bool,
}

/// Why following ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Back at the start: the curve is closed.
    Closed,
    /// A coordinate that does not repeat left its range.
    Range,
    /// No step could be taken: the equations lose rank here.
    Stuck,
    /// The number of nodes allowed is used up.
    Limit,
}

/// How to follow. Lengths are Euclidean in the coordinates.
#[derive(Debug, Clone)]
pub struct Options {
    /// First step (default 0.01).
    pub first: f64,
    /// Largest step (default 0.05).
    pub largest: f64,
    /// Smallest step before giving up (default 1e-7).
    pub smallest: f64,
    /// Largest number of nodes (default 6000).
    pub nodes: usize,
    /// For each coordinate: whether it repeats after 2π.
    pub periodic: Vec<bool>,
    /// Range of a coordinate that does not repeat, about its start (default 20).
    pub range: f64,
}

impl Options {
    /// The defaults, for coordinates of these kinds.
    #[must_use]
    pub fn new(periodic: Vec<bool>) -> Self {
        Self {
            first: 0.01,
            largest: 0.05,
            smallest: 1e-7,
            nodes: 6000,
            periodic,
            range: 20.0,
        }
    }
}

fn distance(a: &[f64], b: &[f64]) -> f64 {
    a.iter()
        .zip(b)
        .map(|(x, y)| (x - y) * (x - y))
        .sum::<f64>()
        .sqrt()
}

/// Scales `t` to unit length; returns the length it had.
pub fn normalise(t: &mut [f64]) -> f64 {
    let length = dot(t, t).sqrt();
    if length > 0.0 {
        t.iter_mut().for_each(|v| *v /= length);
    }
    length
}

/// A cubic through two nodes with their tangents, at the part `u` (0..1) of the way.
pub fn between(a: &Node, b: &Node, u: f64, out: &mut [f64]) {
    let h = distance(&a.q, &b.q);
    let (u2, u3) = (u * u, u * u * u);
    let (a0, b0) = (2.0 * u3 - 3.0 * u2 + 1.0, 3.0 * u2 - 2.0 * u3);
    let (a1, b1) = (u3 - 2.0 * u2 + u, u3 - u2);
    for (k, value) in out.iter_mut().enumerate() {
        *value = a0 * a.q[k] + b0 * b.q[k] + h * (a1 * a.t[k] + b1 * b.t[k]);
    }
}

/// The largest turn of the tangent in one step: 0.25 rad.
const LEAST_COSINE: f64 = 0.9689;

/// Follows the curve from `start`, a solution with its unit tangent, until it closes or ends. The
/// first node is `start`.
pub fn follow<S: System>(system: &mut S, start: Node, options: &Options) -> (Vec<Node>, End) {
    let n = start.q.len();
    let mut nodes = vec![start];
    let mut h = options.first;
    let mut travelled = 0.0;
    let mut bend: Option<Vec<f64>> = None;
    let mut raw = vec![0.0; n];
    loop {
        let (last, first) = match (nodes.last(), nodes.first()) {
            (Some(last), Some(first)) if nodes.len() < options.nodes => (last, first),
            _ => return (nodes, End::Limit),
        };
        let out = |k: usize| !options.periodic[k] && (last.q[k] - first.q[k]).abs() > options.range;
        if (0..n).any(out) {
            return (nodes, End::Range);
        }
        let home = if travelled > 0.5 {
            way_home(last, first, options, 1.2 * h)
        } else {
            None
        };
        let step = home.unwrap_or(h);
        let Some(next) = attempt(system, last, bend.as_deref(), step, &mut raw) else {
            h = 0.4 * step;
            if h < options.smallest {
                return (nodes, End::Stuck);
            }
            continue;
        };
        let cosine = dot(&next.t, &last.t);
        bend = Some(
            next.t
                .iter()
                .zip(&last.t)
                .map(|(a, b)| (a - b) / step)
                .collect(),
        );
        travelled += step;
        let closed = home.is_some() && gap_to(&next, first, options) < 1e-7;
        system.settle(&next.q);
        nodes.push(next);
        if closed {
            return (nodes, End::Closed);
        }
        if home.is_none() {
            h = (if cosine > 0.998 { 1.5 * h } else { h }).min(options.largest);
        }
    }
}

/// One step, or `None` when it is too bold.
fn attempt<S: System>(
    system: &mut S,
    last: &Node,
    bend: Option<&[f64]>,
    step: f64,
    raw: &mut [f64],
) -> Option<Node> {
    let base = dot(&last.t, &last.q);
    let guess = |s: f64| -> Vec<f64> {
        let curve = |k: usize| bend.map_or(0.0, |b| 0.5 * s * s * b[k]);
        (0..last.q.len())
            .map(|k| last.q[k] + s * last.t[k] + curve(k))
            .collect()
    };
    let predicted = guess(step);
    let mut q = predicted.clone();
    if !system.close(&mut q, &last.t, base + step) || distance(&q, &predicted) > 0.3 * step {
        return None;
    }
    system.tangent(raw);
    let positive = system.positive();
    let mut t = raw.to_vec();
    normalise(&mut t);
    if !t.iter().all(|v| v.is_finite()) || dot(&t, &last.t) < LEAST_COSINE {
        return None;
    }
    let next = Node { q, t, positive };
    // The middle must lie where both ends say it does, or one of them is on another branch.
    let mut middle = vec![0.0; raw.len()];
    between(last, &next, 0.5, &mut middle);
    let expected = middle.clone();
    let value = dot(&last.t, &middle);
    if !system.close(&mut middle, &last.t, value) || distance(&middle, &expected) > 0.05 * step {
        return None;
    }
    Some(next)
}

/// Difference of two points, whole turns left out.
fn wrapped(from: &[f64], to: &[f64], options: &Options) -> Vec<f64> {
    let reduce = |k: usize| {
        let d = to[k] - from[k];
        if options.periodic[k] {
            angle::wrapped(d)
        } else {
            d
        }
    };
    (0..from.len()).map(reduce).collect()
}

/// The step that ends at the start of the curve, if that is near ahead.
fn way_home(last: &Node, first: &Node, options: &Options, reach: f64) -> Option<f64> {
    let way = wrapped(&last.q, &first.q, options);
    let ahead = dot(&way, &last.t);
    let aside = (dot(&way, &way) - ahead * ahead).max(0.0).sqrt();
    let same_sense = dot(&last.t, &first.t) > LEAST_COSINE;
    (same_sense && ahead > 1e-9 && ahead <= reach && aside < 0.3 * reach).then_some(ahead)
}

fn gap_to(node: &Node, first: &Node, options: &Options) -> f64 {
    let way = wrapped(&node.q, &first.q, options);
    dot(&way, &way).sqrt()
}

#[cfg(test)]
mod tests {
    use super::{End, Node, Options, System, follow};

    /// x² + y² = 1, or the node curve x² (1 − x²) = y² with its branch point at the origin.
    struct Plane {
        eight: bool,
        at: [f64; 2],
        row: [f64; 2],
    }

    impl Plane {
        fn value(&self) -> (f64, [f64; 2]) {
            let [x, y] = self.at;
            if self.eight {
                (
                    x * x - x.powi(4) - y * y,
                    [2.0 * x - 4.0 * x.powi(3), -2.0 * y],
                )
            } else {
                (x * x + y * y - 1.0, [2.0 * x, 2.0 * y])
            }
        }
    }

    impl System for Plane {
        fn close(&mut self, q: &mut [f64], row: &[f64], value: f64) -> bool {
            self.row = [row[0], row[1]];
            for _ in 0..30 {
                self.at = [q[0], q[1]];
                let (f, g) = self.value();
                let b = value - row[0] * q[0] - row[1] * q[1];
                let d = g[0] * row[1] - g[1] * row[0];
                q[0] += (-f * row[1] - b * g[1]) / d;
                q[1] += (g[0] * b + f * row[0]) / d;
            }
            self.at = [q[0], q[1]];
            self.value().0.abs() < 1e-12
        }
        fn tangent(&mut self, t: &mut [f64]) {
            let (_, g) = self.value();
            let d = g[0] * self.row[1] - g[1] * self.row[0];
            t[0] = -g[1] / d;
            t[1] = g[0] / d;
        }
        fn positive(&self) -> bool {
            let (_, g) = self.value();
            g[0] * self.row[1] - g[1] * self.row[0] > 0.0
        }
    }

    fn run(eight: bool, q: [f64; 2], t: [f64; 2]) -> (Vec<Node>, End) {
        let mut plane = Plane {
            eight,
            at: q,
            row: t,
        };
        let start = Node {
            q: q.to_vec(),
            t: t.to_vec(),
            positive: plane.positive(),
        };
        follow(&mut plane, start, &Options::new(vec![false, false]))
    }

    #[test]
    fn a_circle_closes_after_its_circumference() {
        let (nodes, end) = run(false, [1.0, 0.0], [0.0, 1.0]);
        assert_eq!(end, End::Closed);
        let length: f64 = nodes
            .windows(2)
            .map(|w| super::distance(&w[0].q, &w[1].q))
            .sum();
        approx::assert_relative_eq!(length, std::f64::consts::TAU, max_relative = 1e-3);
        assert!(nodes.iter().all(|n| n.positive == nodes[0].positive));
        assert!(nodes.len() < 300, "{} nodes", nodes.len());
    }

    #[test]
    fn a_branch_point_flips_the_determinant() {
        // From the right-hand tip (1, 0) upwards and through the crossing at the origin.
        let (nodes, end) = run(true, [1.0, 0.0], [0.0, 1.0]);
        assert_eq!(end, End::Closed);
        let flips = nodes
            .windows(2)
            .filter(|w| w[0].positive != w[1].positive)
            .count();
        assert_eq!(flips, 2, "the figure eight passes its crossing twice");
    }
}
