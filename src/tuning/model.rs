//! What is seen near a point, to first order: gradients by differences.

use super::{Depth, Seen, Task};
use rayon::prelude::*;

/// The aim and the limits at a point, and how they change over the ranges.
pub(super) struct Model {
    /// Where: shares of the ranges.
    pub(super) shares: Vec<f64>,
    /// There.
    pub(super) seen: Seen,
    /// Of the aim.
    pub(super) aim: Vec<f64>,
    /// Of each limit.
    pub(super) limits: Vec<Vec<f64>>,
}

impl Task<'_> {
    /// The point at these shares of the ranges.
    pub(super) fn at(&self, shares: &[f64]) -> Vec<f64> {
        let each = shares.iter().zip(self.range);
        each.map(|(share, [low, high])| (low + share * (high - low)).clamp(*low, *high))
            .collect()
    }

    /// The shares of the ranges at a point; 0 where a range has no length.
    pub(super) fn shares(&self, at: &[f64]) -> Vec<f64> {
        let each = at.iter().zip(self.range);
        let share = |(v, [low, high]): (&f64, &[f64; 2])| {
            let share = (v - low) / (high - low);
            if share.is_finite() {
                share.clamp(0.0, 1.0)
            } else {
                0.0
            }
        };
        each.map(share).collect()
    }

    /// The model at these shares, where `seen` was seen: from one more point for each dimension, `off`
    /// away. A dimension without an answer to either side counts as flat.
    pub(super) fn model(&self, shares: &[f64], seen: Seen, depth: Depth, off: f64) -> Model {
        let beside = |k: usize| {
            let inward = if shares[k] > 0.5 { -off } else { off };
            [inward, -inward].into_iter().find_map(|step| {
                let mut moved = shares.to_vec();
                moved[k] += step;
                if !(0.0..=1.0).contains(&moved[k]) {
                    return None;
                }
                let there = (self.look)(&self.at(&moved), depth)?;
                let slope = |(there, here): (&f64, &f64)| {
                    let slope = (there - here) / step;
                    if slope.is_finite() { slope } else { 0.0 }
                };
                let aim = slope((&there.aim, &seen.aim));
                let limits = there.limits.iter().zip(&seen.limits);
                Some((aim, limits.map(slope).collect::<Vec<f64>>()))
            })
        };
        let n = shares.len();
        let slopes: Vec<Option<(f64, Vec<f64>)>> = (0..n).into_par_iter().map(beside).collect();
        let mut model = Model {
            shares: shares.to_vec(),
            aim: vec![0.0; n],
            limits: vec![vec![0.0; n]; seen.limits.len()],
            seen,
        };
        for (k, slopes) in slopes.into_iter().enumerate() {
            let Some((aim, limits)) = slopes else {
                continue;
            };
            model.aim[k] = aim;
            for (row, slope) in model.limits.iter_mut().zip(limits) {
                row[k] = slope;
            }
        }
        model
    }
}

impl Model {
    /// What would be seen `step` away, if everything were straight.
    pub(super) fn ahead(&self, step: &[f64]) -> Seen {
        let limits = self.limits.iter().zip(&self.seen.limits);
        Seen {
            aim: self.seen.aim + dot(&self.aim, step),
            limits: limits.map(|(row, value)| value + dot(row, step)).collect(),
        }
    }
}

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

pub(super) fn greatest(row: &[f64]) -> f64 {
    row.iter().fold(0.0, |most: f64, v| most.max(v.abs()))
}
