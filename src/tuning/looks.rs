//! Points spread over a box, for a first look at the whole of it.

/// Points of the first look along one dimension, along each of two, and for each of more.
const ALONG_ONE: usize = 21;
const ALONG_TWO: usize = 9;
const FOR_EACH: usize = 40;
const MOST_LOOKS: usize = 1500;

/// Where the whole of the box is looked at first.
pub(super) struct Looks {
    pub(super) points: Vec<Vec<f64>>,
    /// About how far they are apart along each dimension, over its range.
    pub(super) apart: f64,
}

/// A grid; over more than two dimensions, whose grid would be coarse or have too many points, points
/// spread evenly: the sequence of J. H. Halton, "On the efficiency of certain quasi-random sequences of
/// points in evaluating multi-dimensional integrals", Numer. Math. 2 (1960).
pub(super) fn first_look(range: &[[f64; 2]]) -> Looks {
    let n = range.len();
    let place = |share: &mut dyn FnMut() -> f64| -> Vec<f64> {
        range
            .iter()
            .map(|[low, high]| low + (high - low) * share())
            .collect()
    };
    if n <= 2 {
        let along = if n <= 1 { ALONG_ONE } else { ALONG_TWO };
        let last = (along - 1) as f64;
        let node = |k: usize| {
            let mut rest = k;
            place(&mut || {
                let step = rest % along;
                rest /= along;
                step as f64 / last
            })
        };
        let count = if n <= 1 { along } else { along * along };
        return Looks {
            points: (0..count).map(node).collect(),
            apart: 1.0 / last,
        };
    }
    let bases = primes(n);
    let point = |k: usize| {
        let mut bases = bases.iter();
        place(&mut || bases.next().map_or(0.5, |&base| mirrored(k + 1, base)))
    };
    let count = FOR_EACH.saturating_mul(n).min(MOST_LOOKS);
    Looks {
        points: (0..count).map(point).collect(),
        apart: (count as f64).powf(-1.0 / n as f64).clamp(0.05, 0.25),
    }
}

/// The digits of a number to a base, mirrored at the point: between 0 and 1.
pub(super) fn mirrored(number: usize, base: usize) -> f64 {
    let (mut rest, mut weight, mut sum) = (number, 1.0, 0.0);
    while rest > 0 {
        weight /= base as f64;
        sum += (rest % base) as f64 * weight;
        rest /= base;
    }
    sum
}

/// The first `count` primes.
pub(super) fn primes(count: usize) -> Vec<usize> {
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
