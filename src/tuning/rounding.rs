//! Roundings: the multiples of a step near a point, the most promising first.
//!
//! The best multiple lies anywhere along the edge of a limit, and an edge bends: what is looked at is
//! learned (`learned`), and all others are ranked anew by it, until nothing better is found.

use super::learned::Learned;
use super::model::Model;
use super::{Depth, Found, Seen, Task, sort, worse};
use rayon::prelude::*;

/// Multiples near the point that are ranked; over many dimensions it is down and up of the first ones,
/// down of the others.
const MOST_RANKED: usize = 4_096;
/// Roundings that are looked at about the point, and how many together.
pub(super) const TRIED: usize = 160;
const TOGETHER: usize = 16;
/// How many together may find nothing better before it is enough, over few dimensions.
const FRUITLESS: usize = 3;
/// Multiples beside the best that are looked at, round after round.
const ROUNDS: usize = 10;
const BESIDE: usize = 24;
/// Over so many dimensions what is looked at is learned: over more it would tell too little.
const FEW: usize = 3;
/// Steps from the point at which it is looked first over so few, to learn how limits bend; and how far
/// from points that were looked at the learned is believed, twice as far each time that nothing better
/// is found so near.
const FIRST: i32 = 4;
const BELIEVED: f64 = 12.0;
/// Beyond the range by this, mm, is rounding.
const AT_END: f64 = 1e-9;

/// What was looked at.
struct Tried<'m> {
    learned: Option<Learned<'m>>,
    known: Vec<Vec<f64>>,
    best: Option<Found>,
    depth: Depth,
}

impl Task<'_> {
    /// The best of the multiples of `step` about a point, and from there on about the best of them.
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
        let grid = self.range.iter().map(|[low, high]| step / (high - low));
        let few = at.len() <= FEW;
        let mut tried = Tried {
            learned: model.as_ref().map(|m| Learned::new(m, grid.collect())),
            known: Vec::new(),
            best: None,
            depth,
        };
        let pool = self.about(at, step);
        let mut believed = BELIEVED;
        let mut fruitless = 0;
        for round in 0..TRIED / TOGETHER {
            let some = self.promising(&tried, &pool, believed, TOGETHER);
            if !self.improve(&mut tried, &some) {
                fruitless += 1;
                believed *= 2.0;
            }
            let enough = !few || fruitless >= FRUITLESS;
            if fruitless > 0 && enough && tried.best.is_some() {
                break;
            }
            if few && round == 0 {
                self.improve(&mut tried, &self.around(at, step));
            }
            if few && let Some(learned) = &mut tried.learned {
                learned.draw();
            }
        }
        for _ in 0..ROUNDS {
            let beside = self.beside(&tried.best.as_ref()?.at, step);
            let some = self.promising(&tried, &beside, BELIEVED, BESIDE);
            if !self.improve(&mut tried, &some) {
                break;
            }
        }
        tried.best
    }

    /// The most promising of these points that were not looked at.
    fn promising(
        &self,
        tried: &Tried<'_>,
        pool: &[Vec<f64>],
        believed: f64,
        most: usize,
    ) -> Vec<Vec<f64>> {
        let fresh = pool.par_iter().filter(|at| !tried.known.contains(at));
        let fresh: Vec<Vec<f64>> = match &tried.learned {
            None => fresh.cloned().collect(),
            Some(learned) => {
                let one = |at: &Vec<f64>| {
                    let shares = self.shares(at);
                    let judged = self.judge(&learned.ahead(&shares, believed)?);
                    Some(Found {
                        at: at.clone(),
                        judged,
                    })
                };
                let mut ranked: Vec<Found> = fresh.filter_map(one).collect();
                sort(&mut ranked);
                ranked.into_iter().map(|found| found.at).collect()
            }
        };
        fresh.into_iter().take(most).collect()
    }

    /// Looks at these points, learns from them, and takes the best if it beats the best so far.
    fn improve(&self, tried: &mut Tried<'_>, points: &[Vec<f64>]) -> bool {
        let fresh = points.iter().filter(|at| !tried.known.contains(at));
        let fresh: Vec<&Vec<f64>> = fresh.collect();
        // What is found soon flatters: a point that is no better even so needs no more.
        let bar = tried.best.as_ref().map(|best| best.judged);
        let one = |at: &&Vec<f64>| {
            let soon = (self.look)(at, Depth::Soon)?;
            let wins = bar.is_none_or(|bar| self.judge(&soon).beats(bar));
            match tried.depth {
                Depth::Soon => Some(soon),
                Depth::All if wins => (self.look)(at, Depth::All),
                Depth::All => None,
            }
        };
        let seen: Vec<Option<Seen>> = fresh.par_iter().map(one).collect();
        let mut better = false;
        for (at, seen) in fresh.into_iter().zip(seen) {
            tried.known.push(at.clone());
            let Some(seen) = seen else { continue };
            if let Some(learned) = &mut tried.learned {
                learned.learn(&self.shares(at), &seen);
            }
            let (at, judged) = (at.clone(), self.judge(&seen));
            let best = &mut tried.best;
            if best.as_ref().is_none_or(|best| judged.beats(best.judged)) {
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

    /// Multiples about a point, within the ranges.
    fn about(&self, at: &[f64], step: f64) -> Vec<Vec<f64>> {
        let n = at.len();
        let wide = match n {
            0..=2 => 60,
            3 => 7,
            4 => 3,
            5 | 6 => 1,
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

    /// Multiples some steps away from a point along each dimension and each several.
    fn around(&self, at: &[f64], step: f64) -> Vec<Vec<f64>> {
        let mut points: Vec<Vec<f64>> = vec![Vec::new()];
        for (v, [low, high]) in at.iter().zip(self.range) {
            let nearest = (v / step).round();
            let choices = [-FIRST, 0, FIRST].map(|k| (nearest + f64::from(k)) * step);
            let within = |v: &f64| *v >= low - AT_END && *v <= high + AT_END;
            let longer = |point: &Vec<f64>, v: f64| {
                let mut point = point.clone();
                point.push(v);
                point
            };
            points = (points.iter())
                .flat_map(|point| {
                    let choices = choices.into_iter().filter(within);
                    choices.map(move |v| longer(point, v))
                })
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
