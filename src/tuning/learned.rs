//! A straight model with what it missed at the points that were looked at.
//!
//! The misses are drawn through their points exactly by a sum of cubed distances and a straight part,
//! which is the stiffest such surface (M. J. D. Powell, "The theory of radial basis function
//! approximation in 1990", in *Advances in Numerical Analysis* II (1992)).

use super::Seen;
use super::model::{Model, dot};
use crate::numeric::lu::Lu;

/// Pivots of points that do not span the space, over the greatest one.
const LEAST_PIVOT: f64 = 1e-13;

/// What the model missed.
pub(super) struct Learned<'m> {
    model: &'m Model,
    /// Steps of the grid along each dimension, over its range.
    grid: Vec<f64>,
    /// Where it was looked, in steps from the model's place, and what the model missed there: of the aim,
    /// then of each limit.
    known: Vec<(Vec<f64>, Vec<f64>)>,
    /// Weight of each known point, of 1 and of each dimension: for each thing that is missed.
    weights: Vec<Vec<f64>>,
}

impl<'m> Learned<'m> {
    /// Nothing as yet; `grid`: the steps along each dimension, over its range.
    pub(super) fn new(model: &'m Model, grid: Vec<f64>) -> Self {
        Self {
            model,
            grid,
            known: Vec::new(),
            weights: Vec::new(),
        }
    }

    /// Takes in what was seen at these shares of the ranges. [`Learned::draw`] makes it count.
    pub(super) fn learn(&mut self, shares: &[f64], seen: &Seen) {
        let ahead = self.model.ahead(&self.step(shares));
        let miss: Vec<f64> = rows(seen).zip(rows(&ahead)).map(|(a, b)| a - b).collect();
        if miss.iter().all(|miss| miss.is_finite()) {
            self.known.push((self.place(shares), miss));
        }
    }

    /// Draws the surface anew through all that is known; none where there is too little of it.
    pub(super) fn draw(&mut self) {
        self.weights.clear();
        let (n, m) = (self.grid.len(), self.known.len());
        let size = m + n + 1;
        let Some(things) = self.known.first().map(|(_, miss)| miss.len()) else {
            return;
        };
        if m < n + 2 {
            return;
        }
        let mut lu = Lu::new(size);
        let matrix = lu.matrix();
        for (j, (a, _)) in self.known.iter().enumerate() {
            for (k, (b, _)) in self.known.iter().enumerate() {
                matrix[j * size + k] = cubed(a, b);
            }
            for (k, v) in straight(a).enumerate() {
                matrix[j * size + m + k] = v;
                matrix[(m + k) * size + j] = v;
            }
        }
        if !lu.factor() || lu.pivot_ratio() < LEAST_PIVOT {
            return;
        }
        let weights = (0..things).map(|thing| {
            let mut column = vec![0.0; size];
            for (v, (_, miss)) in column.iter_mut().zip(&self.known) {
                *v = miss[thing];
            }
            lu.solve(&mut column);
            column
        });
        self.weights = weights.collect();
    }

    /// What would be seen at these shares; `None` farther than `believed` steps from all that is known,
    /// once something is.
    pub(super) fn ahead(&self, shares: &[f64], believed: f64) -> Option<Seen> {
        let mut seen = self.model.ahead(&self.step(shares));
        if self.weights.is_empty() {
            return Some(seen);
        }
        let place = self.place(shares);
        let near = self.known.iter().map(|(known, _)| cubed(known, &place));
        let basis: Vec<f64> = near.chain(straight(&place)).collect();
        let nearest = basis[..self.known.len()]
            .iter()
            .copied()
            .fold(f64::INFINITY, f64::min);
        if nearest > believed.powi(3) {
            return None;
        }
        let mut misses = self.weights.iter().map(|weights| dot(weights, &basis));
        seen.aim += misses.next().unwrap_or(0.0);
        for (limit, miss) in seen.limits.iter_mut().zip(misses) {
            *limit += miss;
        }
        Some(seen)
    }

    fn step(&self, shares: &[f64]) -> Vec<f64> {
        let each = shares.iter().zip(&self.model.shares);
        each.map(|(a, b)| a - b).collect()
    }

    /// In steps of the grid from the model's place.
    fn place(&self, shares: &[f64]) -> Vec<f64> {
        let step = self.step(shares);
        step.iter().zip(&self.grid).map(|(a, b)| a / b).collect()
    }
}

fn rows(seen: &Seen) -> impl Iterator<Item = f64> + '_ {
    std::iter::once(seen.aim).chain(seen.limits.iter().copied())
}

fn cubed(a: &[f64], b: &[f64]) -> f64 {
    let square: f64 = a.iter().zip(b).map(|(a, b)| (a - b) * (a - b)).sum();
    square * square.sqrt()
}

fn straight(place: &[f64]) -> impl Iterator<Item = f64> + '_ {
    std::iter::once(1.0).chain(place.iter().copied())
}

#[cfg(test)]
mod tests {
    use super::{Learned, Model, Seen};

    /// x² + y² is known at 25 points: the surface goes through them, and is near it between them,
    /// where the straight model is far off.
    #[test]
    fn a_bowl_is_learned() {
        let seen = |x: f64, y: f64| Seen {
            aim: x * x + y * y,
            limits: vec![x - y * y],
        };
        let model = Model {
            shares: vec![0.5, 0.5],
            seen: seen(0.5, 0.5),
            aim: vec![1.0, 1.0],
            limits: vec![vec![1.0, -1.0]],
        };
        let mut learned = Learned::new(&model, vec![0.1, 0.1]);
        for k in 0..25 {
            let [x, y] = [k % 5, k / 5].map(|k| 0.25 * f64::from(k));
            learned.learn(&[x, y], &seen(x, y));
        }
        let off = |learned: &Learned<'_>, x: f64, y: f64| {
            let (ahead, there) = (learned.ahead(&[x, y], 10.0).unwrap(), seen(x, y));
            let limit = ahead.limits[0] - there.limits[0];
            (ahead.aim - there.aim).abs().max(limit.abs())
        };
        assert!(off(&learned, 1.0, 1.0) > 0.4, "straight");
        learned.draw();
        assert!(off(&learned, 1.0, 0.25) < 1e-12);
        assert!(off(&learned, 0.625, 0.375) < 0.005);
    }

    #[test]
    fn too_little_is_not_drawn() {
        let seen = |x: f64| Seen {
            aim: x,
            limits: vec![],
        };
        let model = Model {
            shares: vec![0.0, 0.0],
            seen: seen(0.0),
            aim: vec![0.0, 0.0],
            limits: vec![],
        };
        let mut learned = Learned::new(&model, vec![0.1, 0.1]);
        // On one line: nothing is known across it.
        for k in 0..6 {
            learned.learn(&[0.1 * f64::from(k), 0.0], &seen(0.5));
        }
        learned.draw();
        assert_eq!(learned.ahead(&[0.3, 0.2], 10.0).unwrap().aim, 0.0);
    }
}
