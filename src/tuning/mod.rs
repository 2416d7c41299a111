//! Which dimensions to choose: a search that knows only numbers and a function that judges them.
//!
//! A first look spreads points over the whole of the box; from the best of them, apart from each other,
//! go steps for smooth problems with limits (`smooth`), and from the best of their ends a compass search
//! for what is not smooth (`compass`). Last come the multiples of a step near there (`rounding`). A point
//! that keeps the limits always beats one that does not; among those that do not, the smaller breach wins.
//!
//! What is dear to find is asked for last: a point is judged first by what is found soon, which can only
//! flatter it, and in full only where it may still win. Nothing depends on the number of threads.

mod compass;
mod learned;
mod looks;
mod model;
mod rounding;
mod smooth;

use rayon::prelude::*;

/// How good a point is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// What is to be made small.
    pub aim: f64,
    /// Greatest relative breach of a limit; 0 when all are kept. What is no number keeps none.
    pub breach: f64,
}

impl Judged {
    /// Whether this is better than `other`.
    #[must_use]
    pub fn beats(self, other: Self) -> bool {
        match (self.breach <= 0.0, other.breach <= 0.0) {
            (true, false) => true,
            (false, true) => false,
            (true, true) => least(self.aim, other.aim),
            (false, false) => least(self.breach, other.breach),
        }
    }
}

/// Whether `a` is below `b`; what is no number is above all others.
fn least(a: f64, b: f64) -> bool {
    a < b || (b.is_nan() && !a.is_nan())
}

/// What a point comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// What is to be made small, or to be made zero.
    pub aim: f64,
    /// How far each limit is passed, relative; below 0 by how far it is kept. As many, and in the same
    /// order, at every point that is looked at to the same depth.
    pub limits: Vec<f64>,
}

/// How much of a point is to be found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// The aim, and the limits that are found soon.
    Soon,
    /// Everything.
    All,
}

/// What is to be done with the aim.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Goal {
    /// To make it small.
    Least,
    /// To bring it to zero.
    Zero,
}

/// A point and how good it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The dimensions.
    pub at: Vec<f64>,
    /// How good they are.
    pub judged: Judged,
}

/// A function that looks at points, `None` where there is no answer; asked from several threads.
pub type Look<'l> = dyn Fn(&[f64], Depth) -> Option<Seen> + Sync + 'l;

/// What is looked for, and where.
pub struct Task<'t> {
    /// From and to, of each dimension.
    pub range: &'t [[f64; 2]],
    /// What is to be done with the aim.
    pub goal: Goal,
    /// Looks at a point.
    pub look: &'t Look<'t>,
}

/// Smooth searches from the best points of the first look over many dimensions; twice as many as
/// dimensions over few.
const MOST_STARTS: usize = 6;
/// Ends of smooth searches from which the compass goes on, where there are several dimensions.
const POLISHED: usize = 2;
/// Ends nearer than this along every dimension, over its range, are one.
const SAME_PLACE: f64 = 0.01;
/// Breaches that differ by less are the same: of what is found soon and in full.
const SAME: f64 = 1e-6;

impl Task<'_> {
    /// The best point in the box, from `start` and a first look at the whole of it. `None` when no point
    /// looked at has an answer. Steps below `fine` are not taken.
    #[must_use]
    pub fn search(&self, start: &[f64], fine: f64) -> Option<Found> {
        let looks = looks::first_look(self.range);
        let mut points = vec![self.inside(start)];
        points.extend(looks.points);
        let starts = self.spread(self.glanced(points), looks.apart, starts(self.range.len()));
        let size = 0.1 * looks.apart;
        let ends = self.ends(&starts, Depth::Soon, size, fine);
        let best = ends.first()?;
        let full = self.in_full(best)?;
        if !worse(&full, best) {
            return Some(full);
        }
        // What was left out is in the way: now with it.
        let again: Vec<Found> = ends.iter().chain(&starts).cloned().collect();
        let again = self.spread(again, SAME_PLACE, starts.len());
        let mut ends = self.ends(&again, Depth::All, size, fine);
        ends.push(full);
        sort(&mut ends);
        ends.into_iter().next()
    }

    /// Where smooth searches from these points end, with the first look's best, and the compass goes on
    /// from the best of them; best first.
    fn ends(&self, starts: &[Found], depth: Depth, size: f64, fine: f64) -> Vec<Found> {
        let mut ends: Vec<Found> = starts
            .par_iter()
            .map(|start| self.smooth(start, depth, fine))
            .collect();
        sort(&mut ends);
        let most = self.range.len().min(POLISHED);
        let mut polished: Vec<Found> = self
            .spread(ends, SAME_PLACE, most)
            .into_par_iter()
            .map(|found| self.compass(found, depth, size, fine))
            .collect();
        sort(&mut polished);
        polished
    }

    /// How good what was seen of a point is.
    fn judge(&self, seen: &Seen) -> Judged {
        let worse = |worst: f64, limit: &f64| {
            if limit.is_nan() {
                f64::INFINITY
            } else {
                worst.max(*limit)
            }
        };
        Judged {
            aim: match self.goal {
                Goal::Least => seen.aim,
                Goal::Zero => seen.aim.abs(),
            },
            breach: seen.limits.iter().fold(0.0, worse),
        }
    }

    /// How good a point is, looked at so far.
    fn judged(&self, at: &[f64], depth: Depth) -> Option<Judged> {
        Some(self.judge(&(self.look)(at, depth)?))
    }

    /// How good a point is, if it beats `bar`.
    fn beating(&self, at: &[f64], depth: Depth, bar: Judged) -> Option<Judged> {
        let one = |depth| self.judged(at, depth).filter(|judged| judged.beats(bar));
        let soon = one(Depth::Soon)?;
        if depth == Depth::All {
            one(Depth::All)
        } else {
            Some(soon)
        }
    }

    /// The points with an answer, by what is found soon, best first.
    fn glanced(&self, points: Vec<Vec<f64>>) -> Vec<Found> {
        let one = |at: Vec<f64>| {
            self.judged(&at, Depth::Soon)
                .map(|judged| Found { at, judged })
        };
        let mut found: Vec<Found> = points.into_par_iter().filter_map(one).collect();
        sort(&mut found);
        found
    }

    /// The same point judged in full.
    fn in_full(&self, found: &Found) -> Option<Found> {
        let judged = self.judged(&found.at, Depth::All)?;
        let at = found.at.clone();
        Some(Found { at, judged })
    }

    /// The best of these points, `most` of them and no two nearer than `apart` (over the ranges).
    fn spread(&self, sorted: Vec<Found>, apart: f64, most: usize) -> Vec<Found> {
        let mut kept: Vec<Found> = Vec::new();
        let far = |a: &Found, b: &Found| {
            let each = a.at.iter().zip(&b.at).zip(self.range);
            let off =
                |((a, b), [low, high]): ((&f64, &f64), &[f64; 2])| (a - b).abs() / (high - low);
            each.map(off).fold(0.0, f64::max) > apart
        };
        for found in sorted {
            if kept.len() == most {
                break;
            }
            if kept.iter().all(|known| far(known, &found)) {
                kept.push(found);
            }
        }
        kept
    }

    fn inside(&self, at: &[f64]) -> Vec<f64> {
        let each = at.iter().zip(self.range);
        each.map(|(v, [low, high])| v.clamp(*low, *high)).collect()
    }
}

/// Whether a point judged in full breaches more than was seen of it soon.
fn worse(full: &Found, soon: &Found) -> bool {
    full.judged.breach > soon.judged.breach + SAME
}

fn starts(dimensions: usize) -> usize {
    (2 * dimensions).min(MOST_STARTS)
}

/// How many points a search over so many dimensions looks at, with the rounding, as a rule.
#[must_use]
pub fn usually_judged(dimensions: usize) -> usize {
    let range = vec![[0.0, 1.0]; dimensions];
    let smooth = starts(dimensions) * smooth::ROUNDS / 4 * (dimensions + 2);
    looks::first_look(&range).points.len()
        + smooth
        + POLISHED * compass::SHRINKS * 2 * dimensions
        + rounding::TRIED
}

/// Best first; those as good as each other stay in order.
fn sort(found: &mut [Found]) {
    found.sort_by(|a, b| {
        if a.judged.beats(b.judged) {
            std::cmp::Ordering::Less
        } else if b.judged.beats(a.judged) {
            std::cmp::Ordering::Greater
        } else {
            std::cmp::Ordering::Equal
        }
    });
}

#[cfg(test)]
mod tests;
