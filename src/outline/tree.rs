//! Rectangles round runs of 1, 2, 4, 8 … neighbouring pieces, built once, so that a search looks at few pieces.

use super::pair::{Near, near};
use super::{Bounds, Piece};
use crate::geometry::{Frame, Vec2};

/// The rectangles: node 1 is round all; node k holds nodes 2k and 2k + 1; the last `size` are those of pieces.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tree {
    size: usize,
    nodes: Vec<Bounds>,
}

impl Tree {
    pub(super) fn of(pieces: &[Piece]) -> Self {
        let size = pieces.len().next_power_of_two();
        let mut nodes = vec![Bounds::EMPTY; 2 * size];
        for (node, piece) in nodes[size..].iter_mut().zip(pieces) {
            *node = piece.bounds();
        }
        for k in (1..size).rev() {
            nodes[k] = nodes[2 * k].with(nodes[2 * k + 1]);
        }
        Self { size, nodes }
    }

    /// Round all pieces.
    pub(super) fn bounds(&self) -> Bounds {
        self.nodes[1]
    }

    /// Calls `visit` with the index of each piece for whose rectangle, and all round it, `wanted` holds.
    pub(super) fn visit(&self, wanted: &impl Fn(&Bounds) -> bool, visit: &mut impl FnMut(usize)) {
        self.descend(1, wanted, visit);
    }

    fn descend(
        &self,
        node: usize,
        wanted: &impl Fn(&Bounds) -> bool,
        visit: &mut impl FnMut(usize),
    ) {
        let bounds = &self.nodes[node];
        if bounds.is_empty() || !wanted(bounds) {
            return;
        }
        if node >= self.size {
            visit(node - self.size);
            return;
        }
        self.descend(2 * node, wanted, visit);
        self.descend(2 * node + 1, wanted, visit);
    }

    /// The piece nearest to a point, and its nearest point.
    pub(super) fn nearest(&self, pieces: &[Piece], point: Vec2) -> (usize, Vec2) {
        let mut best = (0, Vec2::ZERO, f64::INFINITY);
        self.approach(1, pieces, point, &mut best);
        (best.0, best.1)
    }

    fn approach(&self, node: usize, pieces: &[Piece], point: Vec2, best: &mut (usize, Vec2, f64)) {
        if node >= self.size {
            let k = node - self.size;
            let at = pieces[k].nearest(point);
            let distance = (at - point).length();
            if distance < best.2 {
                *best = (k, at, distance);
            }
            return;
        }
        let own = Bounds::of(&[point]);
        let mut next = [2 * node, 2 * node + 1].map(|k| (self.nodes[k].distance(&own), k));
        if next[1].0 < next[0].0 {
            next.swap(0, 1);
        }
        for (distance, k) in next {
            if distance < best.2 {
                self.approach(k, pieces, point, best);
            }
        }
    }
}

/// A search for the nearest points of two sets of pieces, the second one moved.
pub(super) struct Search<'a> {
    pub(super) first: (&'a Tree, &'a [Piece]),
    pub(super) second: (&'a Tree, &'a [Piece]),
    /// Where the axes of the second stand in those of the first.
    pub(super) frame: Frame,
    /// The best so far; its square starts at the largest distance of interest.
    pub(super) best: Near,
    pub(super) pieces: Option<[usize; 2]>,
}

impl Search<'_> {
    pub(super) fn run(&mut self) {
        let moved = self.second.0.nodes[1].placed(&self.frame);
        self.descend(1, 1, &moved);
    }

    /// Both nodes hold a piece; `moved` is the rectangle of the second, seen from the first.
    fn descend(&mut self, i: usize, j: usize, moved: &Bounds) {
        let ((a, own), (b, other)) = (self.first, self.second);
        let (leaf, end) = (i >= a.size, j >= b.size);
        if leaf && end {
            let pair = [i - a.size, j - b.size];
            let found = near(&own[pair[0]], &other[pair[1]].placed(&self.frame));
            if found.square < self.best.square {
                self.best = found;
                self.pieces = Some(pair);
            }
            return;
        }
        let here = a.nodes[i];
        let split_first = !leaf && (end || larger(&here) >= larger(&b.nodes[j]));
        let next = [0, 1].map(|k| {
            if split_first {
                (2 * i + k, j, a.nodes[2 * i + k].distance(moved), *moved)
            } else {
                let node = b.nodes[2 * j + k];
                let turned = if node.is_empty() {
                    node
                } else {
                    node.placed(&self.frame)
                };
                (i, 2 * j + k, here.distance(&turned), turned)
            }
        });
        let order = if next[1].2 < next[0].2 {
            [1, 0]
        } else {
            [0, 1]
        };
        for k in order {
            let (i, j, distance, moved) = &next[k];
            if distance * distance < self.best.square {
                self.descend(*i, *j, moved);
            }
        }
    }
}

fn larger(bounds: &Bounds) -> f64 {
    bounds.half.x().max(bounds.half.y())
}

/// Pairs of pieces of one tree whose rectangles are nearer than `apart`, each once, until `visit` breaks.
pub(super) fn pairs(
    tree: &Tree,
    apart: f64,
    visit: &mut impl FnMut(usize, usize) -> std::ops::ControlFlow<()>,
) -> std::ops::ControlFlow<()> {
    fn go(
        tree: &Tree,
        [i, j]: [usize; 2],
        apart: f64,
        visit: &mut impl FnMut(usize, usize) -> std::ops::ControlFlow<()>,
    ) -> std::ops::ControlFlow<()> {
        if i >= tree.size {
            return if i == j {
                std::ops::ControlFlow::Continue(())
            } else {
                visit(i - tree.size, j - tree.size)
            };
        }
        let below = [
            [2 * i, 2 * j],
            [2 * i, 2 * j + 1],
            [2 * i + 1, 2 * j],
            [2 * i + 1, 2 * j + 1],
        ];
        for (k, [a, b]) in below.into_iter().enumerate() {
            if i == j && k == 2 {
                continue; // the same pair as the one before
            }
            if tree.nodes[a].distance(&tree.nodes[b]) <= apart {
                go(tree, [a, b], apart, visit)?;
            }
        }
        std::ops::ControlFlow::Continue(())
    }
    go(tree, [1, 1], apart, visit)
}
