//! Groups of people whose grip strength is published as a mean and a standard deviation.
//!
//! Strength is taken to be normally distributed within a group.

use super::set::Falloff;
use crate::numeric::root::root;

/// One group.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Its name in the tool file.
    pub name: String,
    /// Who they are, and which hand.
    pub who: String,
    /// Mean of the grip strength, N.
    pub mean: f64,
    /// Standard deviation, N.
    pub deviation: f64,
    /// Title, author, year.
    pub source: &'static str,
    /// How the strength falls with the span beyond the best one.
    pub falloff: Falloff,
    /// Breadth of their hands across the palm, mm, at the 5th, 50th and 95th percentile.
    pub breadth: [f64; 3],
}

impl Group {
    /// What a share of the group (above 0, below 1) can do at a grip span (mm), N: the mean less so many standard
    /// deviations, less what is lost above the best span. Never less than 0; `None`: no such share.
    #[must_use]
    pub fn strength(&self, share: f64, span: Option<f64>) -> Option<f64> {
        let force = self.mean - quantile(share)? * self.deviation;
        Some((force * self.left(span)).max(0.0))
    }

    /// The share of the group that can do a force (N) at a grip span (mm).
    #[must_use]
    pub fn able(&self, force: f64, span: Option<f64>) -> f64 {
        let left = self.left(span);
        if force <= 0.0 {
            return 1.0;
        }
        if left <= 0.0 {
            return 0.0;
        }
        below((self.mean - force / left) / self.deviation)
    }

    /// What is left of the strength at a span; all of it where none is known.
    fn left(&self, span: Option<f64>) -> f64 {
        span.map_or(1.0, |span| self.falloff.share(span))
    }
}

/// The share of a normal distribution below `z` standard deviations from its mean.
fn below(z: f64) -> f64 {
    0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// So many standard deviations lie below the mean at which a share (above 0, below 1) of a normal distribution is
/// above.
#[must_use]
pub fn quantile(share: f64) -> Option<f64> {
    if !(share > 0.0 && share < 1.0) {
        return None;
    }
    // Beyond 38 deviations there is no share that a number of the machine could tell from 0.
    root(|z| Some(below(z) - share), -38.0, 38.0, 1e-12)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq as near;

    /// Tables of the normal distribution: 0.75 at 0.6745 (0.674 in the settled reading), 0.95 at 1.645.
    #[test]
    fn normal_distribution() {
        for (share, z) in [(0.5, 0.0), (0.75, 0.6745), (0.95, 1.645), (0.05, -1.645)] {
            near!(quantile(share).expect("a share"), z, epsilon = 5e-4);
        }
        assert_eq!(quantile(0.0), None);
        assert_eq!(quantile(1.0), None);
        assert_eq!(quantile(f64::NAN), None);
        assert!(quantile(1e-300).is_some_and(|z| z < -35.0));
    }
}
