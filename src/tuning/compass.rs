//! A compass search, for what is not smooth (R. Hooke and T. A. Jeeves, *Direct search solution of
//! numerical and statistical problems*, J. ACM 8 (1961)).

use super::{Depth, Found, Task};

/// Shrinkings of the compass, and the points that it judges, at most: so many, or for each dimension.
pub(super) const SHRINKS: usize = 22;
const MOST_JUDGED: usize = 400;
const FOR_EACH: usize = 40;

impl Task<'_> {
    /// Steps along each dimension, and along the last way that helped, halved whenever none helps. The
    /// first are `size` over the range; below `fine` none is taken.
    pub(super) fn compass(&self, mut here: Found, depth: Depth, size: f64, fine: f64) -> Found {
        let mut size: Vec<f64> = self
            .range
            .iter()
            .map(|[low, high]| (high - low) * size)
            .collect();
        let mut left = MOST_JUDGED.max(FOR_EACH * self.range.len());
        // Whether a point is better, and the search goes on from there.
        let mut better = |here: &mut Found, at: Vec<f64>| {
            let at = self.inside(&at);
            if at == here.at || left == 0 {
                return false;
            }
            left -= 1;
            let judged = self.beating(&at, depth, here.judged);
            if let Some(judged) = judged {
                *here = Found { at, judged };
            }
            judged.is_some()
        };
        for _ in 0..SHRINKS {
            loop {
                let before = here.at.clone();
                for k in 0..self.range.len() {
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
}
