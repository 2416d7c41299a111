//! Which dimensions to choose: a search that knows only numbers and a function that judges them.
//!
//! Judging a point takes solving a tool, and a point may have no answer at all (the linkage does
//! not assemble), so no derivative is asked for: a coarse grid over the ranges, then a compass search
//! from its best point, or from the three best where there are several dimensions (R. Hooke and
//! T. A. Jeeves, *Direct search solution of numerical and statistical problems*, J. ACM 8 (1961)). A
//! point that keeps the limits always beats one that does not; among those that
//! do not, the smaller breach wins. Deterministic.

/// How good a point is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// What is to be made small.
    pub aim: f64,
    /// Greatest relative breach of a limit; 0 when all are kept.
    pub breach: f64,
}

impl Judged {
    /// Whether this is better than `other`.
    #[must_use]
    pub fn beats(self, other: Self) -> bool {
        match (self.breach <= 0.0, other.breach <= 0.0) {
            (true, false) => true,
            (false, true) => false,
            (true, true) => self.aim < other.aim,
            (false, false) => self.breach < other.breach,
        }
    }
}

/// A point and how good it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The dimensions.
    pub at: Vec<f64>,
    /// How good they are.
    pub judged: Judged,
}

/// Points of the first look along one dimension; along several together, about this squared.
const LOOKS: usize = 41;
/// Points of the first look at most.
const MOST_LOOKS: usize = 20_000;
/// Shrinkings of the compass.
const SHRINKS: usize = 22;

/// The best point in a box, from `start` and a first look at the whole of it. `None` when no point
/// looked at has an answer.
pub fn search(
    range: &[[f64; 2]],
    start: &[f64],
    judge: &mut dyn FnMut(&[f64]) -> Option<Judged>,
) -> Option<Found> {
    let n = range.len();
    let look = if n <= 1 {
        LOOKS
    } else {
        ((LOOKS * LOOKS) as f64)
            .powf(1.0 / n as f64)
            .clamp(3.0, 41.0) as usize
    };
    let mut best: Vec<Found> = Vec::new();
    let mut offer = |at: Vec<f64>, judge: &mut dyn FnMut(&[f64]) -> Option<Judged>| {
        if let Some(judged) = judge(&at) {
            best.push(Found { at, judged });
        }
    };
    offer(inside(start, range), judge);
    let total = look.saturating_pow(u32::try_from(n).ok()?).min(MOST_LOOKS);
    for k in 0..total {
        let mut rest = k;
        let at = range.iter().map(|[low, high]| {
            let step = rest % look;
            rest /= look;
            low + (high - low) * step as f64 / (look - 1) as f64
        });
        offer(at.collect(), judge);
    }
    sort(&mut best);
    best.truncate(if n <= 1 { 1 } else { 3 });
    let mut polished: Vec<Found> = best
        .into_iter()
        .map(|found| compass(found, range, look, judge))
        .collect();
    sort(&mut polished);
    polished.into_iter().next()
}

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

fn inside(at: &[f64], range: &[[f64; 2]]) -> Vec<f64> {
    at.iter()
        .zip(range)
        .map(|(v, [low, high])| v.clamp(*low, *high))
        .collect()
}

/// Steps along each dimension, and along the last way that helped, halved whenever none helps.
fn compass(
    mut here: Found,
    range: &[[f64; 2]],
    look: usize,
    judge: &mut dyn FnMut(&[f64]) -> Option<Judged>,
) -> Found {
    let mut size: Vec<f64> = range
        .iter()
        .map(|[low, high]| (high - low) / (look - 1) as f64)
        .collect();
    for _ in 0..SHRINKS {
        for _ in 0..60 {
            let before = here.at.clone();
            for k in 0..range.len() {
                for sign in [1.0, -1.0] {
                    let mut at = here.at.clone();
                    at[k] += sign * size[k];
                    let at = inside(&at, range);
                    if let Some(judged) = judge(&at)
                        && judged.beats(here.judged)
                    {
                        here = Found { at, judged };
                        break;
                    }
                }
            }
            if here.at == before {
                break;
            }
            let ahead: Vec<f64> = here
                .at
                .iter()
                .zip(&before)
                .map(|(a, b)| 2.0 * a - b)
                .collect();
            let ahead = inside(&ahead, range);
            if let Some(judged) = judge(&ahead)
                && judged.beats(here.judged)
            {
                here = Found { at: ahead, judged };
            }
        }
        size.iter_mut().for_each(|s| *s *= 0.5);
    }
    here
}

/// The best of the roundings of a point to multiples of `step`: each dimension down or up.
pub fn round(
    at: &[f64],
    step: f64,
    range: &[[f64; 2]],
    judge: &mut dyn FnMut(&[f64]) -> Option<Judged>,
) -> Option<Found> {
    let n = at.len().min(10);
    let mut best: Option<Found> = None;
    for choice in 0..1_u32 << n {
        let one = |(k, v): (usize, &f64)| {
            let down = (v / step + 1e-6).floor();
            let up = k < n && choice >> k & 1 == 1;
            (if up { down + 1.0 } else { down }) * step
        };
        let rounded: Vec<f64> = at.iter().enumerate().map(one).collect();
        let outside = rounded
            .iter()
            .zip(range)
            .any(|(v, [low, high])| *v < low - 1e-9 || *v > high + 1e-9);
        if outside {
            continue;
        }
        if let Some(judged) = judge(&rounded)
            && best.as_ref().is_none_or(|b| judged.beats(b.judged))
        {
            best = Some(Found {
                at: rounded,
                judged,
            });
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::{Judged, round, search};

    fn free(aim: f64) -> Option<Judged> {
        Some(Judged { aim, breach: 0.0 })
    }

    #[test]
    fn a_parabola_has_its_least_where_it_has() {
        let found = search(&[[-3.0, 5.0]], &[4.0], &mut |x| {
            free((x[0] - 1.234_567).powi(2))
        })
        .unwrap();
        assert!((found.at[0] - 1.234_567).abs() < 1e-5, "{found:?}");
    }

    /// H. H. Rosenbrock, *An automatic method for finding the greatest or least value of a
    /// function* (1960): least at (1, 1).
    #[test]
    fn rosenbrocks_valley_is_followed() {
        let f = |x: &[f64]| (1.0 - x[0]).powi(2) + 100.0 * (x[1] - x[0] * x[0]).powi(2);
        let found = search(&[[-2.0, 2.0], [-1.0, 3.0]], &[-1.2, 1.0], &mut |x| {
            free(f(x))
        })
        .unwrap();
        assert!(f(&found.at) < 1e-4, "{found:?}");
    }

    /// Least of x + y on the disc of radius 1: −√2, on its edge.
    #[test]
    fn a_limit_is_kept_and_reached() {
        let mut judge = |x: &[f64]| {
            let r = x[0].hypot(x[1]);
            Some(Judged {
                aim: x[0] + x[1],
                breach: (r - 1.0).max(0.0),
            })
        };
        let found = search(&[[-2.0, 2.0], [-2.0, 2.0]], &[0.0, 0.0], &mut judge).unwrap();
        assert!(found.judged.breach <= 0.0);
        assert!(found.judged.aim < -1.40, "{found:?}");
    }

    /// Three to the power of so many is beyond any count.
    #[test]
    fn fifty_dimensions_are_not_too_many() {
        let range = [[0.0, 1.0]; 50];
        let mut judge = |x: &[f64]| free(x.iter().map(|v| (v - 0.5) * (v - 0.5)).sum());
        let found = search(&range, &[0.2; 50], &mut judge).unwrap();
        assert!(found.judged.aim < 1e-9, "{}", found.judged.aim);
    }

    #[test]
    fn points_without_an_answer_are_passed_over() {
        let mut judge = |x: &[f64]| if x[0] < 0.3 { None } else { free(x[0]) };
        let found = search(&[[0.0, 1.0]], &[0.9], &mut judge).unwrap();
        assert!((found.at[0] - 0.3).abs() < 1e-6, "{found:?}");
        assert!(search(&[[0.0, 0.2]], &[0.1], &mut judge).is_none());
    }

    #[test]
    fn rounding_keeps_the_limit() {
        // 0.3 is kept by 0.31, not by 0.30 − a little.
        let mut judge = |x: &[f64]| {
            Some(Judged {
                aim: x[0],
                breach: (0.302 - x[0]).max(0.0),
            })
        };
        let found = round(&[0.302], 0.01, &[[0.0, 1.0]], &mut judge).unwrap();
        assert!((found.at[0] - 0.31).abs() < 1e-12);
    }
}
