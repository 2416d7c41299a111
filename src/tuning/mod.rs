//! Which dimensions to choose: a search that knows only numbers and a function that judges them.
//!
//! Judging a point takes solving a tool, and a point may have no answer at all (the linkage does
//! not assemble), so no derivative is asked for: a coarse grid over the ranges, then a compass search
//! from its best point, or from the three best where there are several dimensions (R. Hooke and
//! T. A. Jeeves, *Direct search solution of numerical and statistical problems*, J. ACM 8 (1961)). A
//! point that keeps the limits always beats one that does not; among those that
//! do not, the smaller breach wins. Deterministic.

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

/// A point and how good it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The dimensions.
    pub at: Vec<f64>,
    /// How good they are.
    pub judged: Judged,
}

/// A function that judges points, `None` where there is no answer; asked from several threads.
pub type Judge<'j> = dyn Fn(&[f64]) -> Option<Judged> + Sync + 'j;

/// Points of the first look along one dimension; along several together, about this squared.
const LOOKS: usize = 41;
const MOST_LOOKS: usize = LOOKS * LOOKS;
/// Shrinkings of the compass, and the points that it judges, at most.
const SHRINKS: usize = 22;
const MOST_JUDGED: usize = 5_000;
/// Compass searches from the best points of the first look, where there are several dimensions.
const STARTS: usize = 3;
/// Dimensions that are rounded both down and up; further ones are rounded down.
const BOTH_WAYS: usize = 10;

/// The best point in a box, from `start` and a first look at the whole of it. `None` when no point
/// looked at has an answer. Steps below `fine` are not taken.
pub fn search(range: &[[f64; 2]], start: &[f64], fine: f64, judge: &Judge) -> Option<Found> {
    let looks = first_look(range);
    let mut points = vec![inside(start, range)];
    points.extend(looks.points);
    let mut best = judged(points, judge);
    sort(&mut best);
    best.truncate(if range.len() <= 1 { 1 } else { STARTS });
    let mut polished: Vec<Found> = best
        .into_par_iter()
        .map(|found| compass(found, range, looks.apart, fine, judge))
        .collect();
    sort(&mut polished);
    polished.into_iter().next()
}

/// How many points a search over so many dimensions judges, with the rounding, as a rule.
#[must_use]
pub fn usually_judged(dimensions: usize) -> usize {
    let range = vec![[0.0, 1.0]; dimensions];
    let rounded = 1 << dimensions.min(BOTH_WAYS);
    first_look(&range).points.len() + STARTS * SHRINKS * (2 * dimensions + 1) + rounded
}

/// The points with an answer.
fn judged(points: Vec<Vec<f64>>, judge: &Judge) -> Vec<Found> {
    let one = |at: Vec<f64>| judge(&at).map(|judged| Found { at, judged });
    points.into_par_iter().filter_map(one).collect()
}

/// Where the whole of the box is looked at first.
struct Looks {
    points: Vec<Vec<f64>>,
    /// About how far they are apart along each dimension, over its range.
    apart: f64,
}

/// A grid; over many dimensions, whose grid would have too many points, as many points spread
/// evenly: the sequence of J. H. Halton, "On the efficiency of certain quasi-random sequences of
/// points in evaluating multi-dimensional integrals", Numer. Math. 2 (1960).
fn first_look(range: &[[f64; 2]]) -> Looks {
    let n = range.len();
    let along = match n {
        0 | 1 => LOOKS,
        _ => (MOST_LOOKS as f64)
            .powf(1.0 / n as f64)
            .clamp(3.0, LOOKS as f64) as usize,
    };
    let count = (0..n).fold(1_usize, |count, _| count.saturating_mul(along));
    let last = (along - 1) as f64;
    let apart = 1.0 / last;
    let place = |share: &mut dyn FnMut() -> f64| -> Vec<f64> {
        range
            .iter()
            .map(|[low, high]| low + (high - low) * share())
            .collect()
    };
    let points = if count <= MOST_LOOKS {
        let node = |k: usize| {
            let mut rest = k;
            place(&mut || {
                let step = rest % along;
                rest /= along;
                step as f64 / last
            })
        };
        (0..count).map(node).collect()
    } else {
        let bases = primes(n);
        let point = |k: usize| {
            let mut bases = bases.iter();
            place(&mut || bases.next().map_or(0.5, |&base| mirrored(k + 1, base)))
        };
        (0..MOST_LOOKS).map(point).collect()
    };
    Looks { points, apart }
}

/// The digits of a number to a base, mirrored at the point: between 0 and 1.
fn mirrored(number: usize, base: usize) -> f64 {
    let (mut rest, mut weight, mut sum) = (number, 1.0, 0.0);
    while rest > 0 {
        weight /= base as f64;
        sum += (rest % base) as f64 * weight;
        rest /= base;
    }
    sum
}

/// The first `count` primes.
fn primes(count: usize) -> Vec<usize> {
    let mut found: Vec<usize> = Vec::with_capacity(count);
    let prime = |k: usize, found: &[usize]| found.iter().all(|p| !k.is_multiple_of(*p));
    for k in 2.. {
        if found.len() == count {
            break;
        }
        if prime(k, &found) {
            found.push(k);
        }
    }
    found
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
fn compass(mut here: Found, range: &[[f64; 2]], apart: f64, fine: f64, judge: &Judge) -> Found {
    let mut size: Vec<f64> = range
        .iter()
        .map(|[low, high]| (high - low) * apart)
        .collect();
    let mut left = MOST_JUDGED;
    // Whether a point is better, and the search goes on from there.
    let mut better = |here: &mut Found, at: Vec<f64>| {
        let at = inside(&at, range);
        left = left.saturating_sub(1);
        match judge(&at) {
            Some(judged) if left > 0 && judged.beats(here.judged) => {
                *here = Found { at, judged };
                true
            }
            _ => false,
        }
    };
    for _ in 0..SHRINKS {
        loop {
            let before = here.at.clone();
            for k in 0..range.len() {
                for sign in [1.0, -1.0] {
                    let mut at = here.at.clone();
                    at[k] += sign * size[k];
                    if better(&mut here, at) {
                        break;
                    }
                }
            }
            if here.at == before {
                break;
            }
            let ahead = here.at.iter().zip(&before).map(|(a, b)| 2.0 * a - b);
            let ahead = ahead.collect();
            better(&mut here, ahead);
        }
        if size.iter().all(|s| *s <= fine) {
            break;
        }
        size.iter_mut().for_each(|s| *s *= 0.5);
    }
    here
}

/// The best of the roundings of a point to multiples of `step`: each dimension down or up.
pub fn round(at: &[f64], step: f64, range: &[[f64; 2]], judge: &Judge) -> Option<Found> {
    let n = at.len().min(BOTH_WAYS);
    let rounded = |choice: u32| -> Vec<f64> {
        let one = |(k, v): (usize, &f64)| {
            let down = (v / step + 1e-6).floor();
            let up = k < n && choice >> k & 1 == 1;
            (if up { down + 1.0 } else { down }) * step
        };
        at.iter().enumerate().map(one).collect()
    };
    let within = |at: &Vec<f64>| {
        at.iter()
            .zip(range)
            .all(|(v, [low, high])| *v >= low - 1e-9 && *v <= high + 1e-9)
    };
    let points = (0..1_u32 << n).map(rounded).filter(within).collect();
    let mut found = judged(points, judge);
    sort(&mut found);
    found.into_iter().next()
}

#[cfg(test)]
mod tests {
    use super::{Judged, round, search};

    const FINE: f64 = 1e-9;

    fn free(aim: f64) -> Option<Judged> {
        Some(Judged { aim, breach: 0.0 })
    }

    #[test]
    fn a_parabola_has_its_least_where_it_has() {
        let found = search(&[[-3.0, 5.0]], &[4.0], FINE, &|x| {
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
        let found = search(&[[-2.0, 2.0], [-1.0, 3.0]], &[-1.2, 1.0], FINE, &|x| {
            free(f(x))
        })
        .unwrap();
        assert!(f(&found.at) < 1e-4, "{found:?}");
    }

    /// Least of x + y on the disc of radius 1: −√2, on its edge.
    #[test]
    fn a_limit_is_kept_and_reached() {
        let judge = |x: &[f64]| {
            let r = x[0].hypot(x[1]);
            Some(Judged {
                aim: x[0] + x[1],
                breach: (r - 1.0).max(0.0),
            })
        };
        let found = search(&[[-2.0, 2.0], [-2.0, 2.0]], &[0.0, 0.0], FINE, &judge).unwrap();
        assert!(found.judged.breach <= 0.0);
        assert!(found.judged.aim < -1.40, "{found:?}");
    }

    /// Three to the power of so many is beyond any count.
    #[test]
    fn fifty_dimensions_are_not_too_many() {
        let range = [[0.0, 1.0]; 50];
        let judge = |x: &[f64]| free(x.iter().map(|v| (v - 0.5) * (v - 0.5)).sum());
        let found = search(&range, &[0.2; 50], FINE, &judge).unwrap();
        assert!(found.judged.aim < 1e-9, "{}", found.judged.aim);
    }

    /// The whole of every range is looked at, not a corner of it.
    #[test]
    fn no_dimension_of_many_is_left_out_of_the_first_look() {
        let judge = |x: &[f64]| {
            if x[11] < 0.6 {
                None
            } else {
                free(x.iter().sum())
            }
        };
        let found = search(&[[0.0, 1.0]; 12], &[0.0; 12], 1e-6, &judge).unwrap();
        assert!((found.judged.aim - 0.6).abs() < 1e-4, "{found:?}");
    }

    /// Halton's points to the bases 2 and 3, as he gives them: 1/2, 1/4, 3/4, 1/8 and 1/3, 2/3, 1/9.
    #[test]
    fn the_even_spread_is_haltons() {
        let to = |base, count| {
            (1..=count)
                .map(|k| super::mirrored(k, base))
                .collect::<Vec<_>>()
        };
        assert_eq!(to(2, 4), [0.5, 0.25, 0.75, 0.125]);
        for (found, expected) in to(3, 3).iter().zip([1.0 / 3.0, 2.0 / 3.0, 1.0 / 9.0]) {
            assert!((found - expected).abs() < 1e-15);
        }
        assert_eq!(super::primes(6), [2, 3, 5, 7, 11, 13]);
    }

    /// What is no number is no kept limit and no small aim, whichever of two points comes first.
    #[test]
    fn no_number_is_the_worst_of_all() {
        let of = |aim, breach| Judged { aim, breach };
        let missed = of(0.0, 0.5);
        for unknown in [of(0.0, f64::NAN), of(-1.0, f64::INFINITY)] {
            assert!(missed.beats(unknown) && !unknown.beats(missed));
            assert!(of(9.0, 0.0).beats(unknown) && !unknown.beats(of(9.0, 0.0)));
        }
        let aimless = of(f64::NAN, 0.0);
        assert!(of(9.0, 0.0).beats(aimless) && !aimless.beats(of(9.0, 0.0)));
    }

    #[test]
    fn points_without_an_answer_are_passed_over() {
        let judge = |x: &[f64]| if x[0] < 0.3 { None } else { free(x[0]) };
        let found = search(&[[0.0, 1.0]], &[0.9], FINE, &judge).unwrap();
        assert!((found.at[0] - 0.3).abs() < 1e-6, "{found:?}");
        assert!(search(&[[0.0, 0.2]], &[0.1], FINE, &judge).is_none());
    }

    #[test]
    fn rounding_keeps_the_limit() {
        // 0.3 is kept by 0.31, not by 0.30 − a little.
        let judge = |x: &[f64]| {
            Some(Judged {
                aim: x[0],
                breach: (0.302 - x[0]).max(0.0),
            })
        };
        let found = round(&[0.302], 0.01, &[[0.0, 1.0]], &judge).unwrap();
        assert!((found.at[0] - 0.31).abs() < 1e-12);
    }
}
