//! Roundings: the multiples of a step near a point, the most promising first.

use super::model::Model;
use super::{Depth, Found, Goal, Judged, Task, sort, worse};
use rayon::prelude::*;

/// Multiples near the point that are ranked; over many dimensions it is down and up of the first ones,
/// down of the others.
const MOST_RANKED: usize = 4_096;
/// Roundings that are looked at, and how many together.
pub(super) const TRIED: usize = 96;
const TOGETHER: usize = 16;
/// Multiples beside the best that are looked at, round after round.
const ROUNDS: usize = 10;
const BESIDE: usize = 24;
/// Beyond the range by this, mm, is rounding.
const AT_END: f64 = 1e-9;

impl Task<'_> {
    /// The best of the multiples of `step` about a point: ranked by the straight models there, the first
    /// ones looked at, and from the best of them on to its neighbours.
    #[must_use]
    pub fn round(&self, at: &[f64], step: f64) -> Option<Found> {
        if let Some(soon) = self.rounded(at, step, Depth::Soon)
            && let Some(full) = self.in_full(&soon)
            && !worse(&full, &soon)
        {
            return Some(full);
        }
        self.rounded(at, step, Depth::All)
    }

    fn rounded(&self, at: &[f64], step: f64, depth: Depth) -> Option<Found> {
        let model = self.near(at, step, depth);
        let mut points = self.ranked(self.about(at, step), model.as_ref());
        points.truncate(TRIED);
        let mut best: Option<Found> = None;
        for some in points.chunks(TOGETHER) {
            if !self.improve(&mut best, some, depth) && best.is_some() {
                break;
            }
        }
        for _ in 0..ROUNDS {
            let here = best.as_ref()?.at.clone();
            let mut points = self.ranked(self.beside(&here, step), model.as_ref());
            points.truncate(BESIDE);
            if !self.improve(&mut best, &points, depth) {
                break;
            }
        }
        best
    }

    /// Takes the best of these points if it beats the best so far.
    fn improve(&self, best: &mut Option<Found>, points: &[Vec<f64>], depth: Depth) -> bool {
        let one = |at: &Vec<f64>| {
            let judged = self.judged(at, Depth::Soon)?;
            let at = at.clone();
            Some(Found { at, judged })
        };
        let mut found: Vec<Found> = points.par_iter().filter_map(one).collect();
        sort(&mut found);
        let mut better = false;
        for Found { at, judged } in found {
            let beats =
                |judged: &Judged| best.as_ref().is_none_or(|best| judged.beats(best.judged));
            if !beats(&judged) {
                break;
            }
            let known = match depth {
                Depth::Soon => Some(judged),
                Depth::All => self.judged(&at, depth),
            };
            if let Some(judged) = known.filter(|judged| beats(judged)) {
                *best = Some(Found { at, judged });
                better = true;
            }
        }
        better
    }

    /// The straight models at a point, from differences well below the step.
    fn near(&self, at: &[f64], step: f64, depth: Depth) -> Option<Model> {
        let longest = self.range.iter().map(|[low, high]| high - low);
        let off = 0.1 * step / longest.fold(step, f64::max);
        let seen = (self.look)(at, depth)?;
        Some(self.model(&self.shares(at), seen, depth, off))
    }

    /// These points, the most promising first.
    fn ranked(&self, points: Vec<Vec<f64>>, model: Option<&Model>) -> Vec<Vec<f64>> {
        let Some(model) = model else {
            return points;
        };
        let one = |at: Vec<f64>| {
            let step = self.shares(&at);
            let step: Vec<f64> = step.iter().zip(&model.shares).map(|(a, b)| a - b).collect();
            let judged = self.judge(&model.ahead(&step));
            Found { at, judged }
        };
        let mut ranked: Vec<Found> = points.into_iter().map(one).collect();
        sort(&mut ranked);
        ranked.into_iter().map(|found| found.at).collect()
    }

    /// Multiples about a point, within the ranges.
    fn about(&self, at: &[f64], step: f64) -> Vec<Vec<f64>> {
        // An aim that is to be zero is hit best somewhere along a whole line of multiples.
        let n = at.len();
        let wide = match (n, self.goal) {
            (0 | 1, _) => 40,
            (2, Goal::Zero) => 60,
            (2, Goal::Least) => 20,
            (3, _) => 7,
            (4, _) => 3,
            (5 | 6, _) => 1,
            _ => 0,
        };
        let mut points: Vec<Vec<f64>> = vec![Vec::with_capacity(n)];
        for (v, [low, high]) in at.iter().zip(self.range) {
            let down = (v / step + 1e-6).floor();
            let mut choices: Vec<f64> = (-wide..=wide + 1)
                .map(|k| (down + f64::from(k)) * step)
                .filter(|v| *v >= low - AT_END && *v <= high + AT_END)
                .collect();
            // Too many dimensions: the nearer one.
            if points.len() * choices.len() > MOST_RANKED.max(4 * (wide as usize + 1).pow(2)) {
                choices.sort_by(|a, b| (a - v).abs().total_cmp(&(b - v).abs()));
                choices.truncate(1);
            }
            let longer = |point: &Vec<f64>, v: &f64| {
                let mut point = point.clone();
                point.push(*v);
                point
            };
            points = points
                .iter()
                .flat_map(|point| choices.iter().map(move |v| longer(point, v)))
                .collect();
        }
        points
    }

    /// The neighbours of a multiple: one step along a dimension, or along two.
    fn beside(&self, at: &[f64], step: f64) -> Vec<Vec<f64>> {
        let n = at.len();
        let mut ways: Vec<Vec<(usize, f64)>> = Vec::new();
        for k in 0..n {
            for a in [-1.0, 1.0] {
                ways.push(vec![(k, a)]);
                for j in 0..k {
                    ways.extend([-1.0, 1.0].map(|b| vec![(k, a), (j, b)]));
                }
            }
        }
        let moved = |way: Vec<(usize, f64)>| {
            let mut at = at.to_vec();
            for (k, steps) in way {
                at[k] = ((at[k] / step).round() + steps) * step;
                let [low, high] = self.range[k];
                if at[k] < low - AT_END || at[k] > high + AT_END {
                    return None;
                }
            }
            Some(at)
        };
        ways.into_iter().filter_map(moved).collect()
    }
}
