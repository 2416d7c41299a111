//! Hand activity level, and what the threshold limit values allow beside it.

/// Hand activity level, 0 to 10, of `rate` exertions a second that fill a share `duty` of the time.
///
/// HAL = 6.56 ln D · F^1.31 / (1 + 3.18 F^1.31), F in 1/s, D in per cent.
///
/// Below a duty of 1 %, where the logarithm changes its sign, it is 0; the equation stays below 9.5.
///
/// Source: R. G. Radwin, D. P. Azari, M. J. Lindstrom, S. S. Ulin, T. J. Armstrong and D. Rempel, *A frequency-duty
/// cycle equation for the ACGIH hand activity level*, Ergonomics 58 (2015) 173–183.
#[must_use]
pub(super) fn hal(rate: f64, duty: f64) -> f64 {
    let power = rate.powf(1.31);
    let level = 6.56 * (100.0 * duty).ln() * power / (1.0 + 3.18 * power);
    level.max(0.0)
}

/// ACGIH 2001: action limit and threshold limit of NPF / (10 − HAL), as the form of T. E. Bernard (2002) prints
/// them.
pub(super) const RATIO_2001: [f64; 2] = [0.56, 0.78];

/// ACGIH 2018: action limit and threshold limit of the normalised peak force (0 to 10) at a hand activity level;
/// below zero nothing is allowed.
///
/// From memory: AL = 3.6 − 0.56 HAL, TLV = 5.6 − 0.56 HAL. That only exertions above a tenth of the strength count,
/// and that it is for four to eight hours a day, stands in ACGIH's draft documentation of 2018.
#[must_use]
pub(super) fn peak_2018(hal: f64) -> [f64; 2] {
    [3.6, 5.6].map(|most| (most - 0.56 * hal).max(0.0))
}

/// Exertions up to this share of the strength do not count in the revision of 2018.
pub(super) const COUNTS_2018: f64 = 0.1;

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq as near;

    /// Radwin et al. 2015, the equation of the abstract (PMC4302734) evaluated by hand; the paper's own table was
    /// not at hand.
    #[test]
    fn activity_level() {
        for (rate, percent, level) in [
            (0.5, 20.0, 3.472),
            (0.5, 50.0, 4.535),
            (1.0, 50.0, 6.139),
            (0.125, 10.0, 0.820),
        ] {
            near!(hal(rate, percent / 100.0), level, epsilon = 1e-3);
        }
        assert_eq!(hal(0.5, 0.005), 0.0, "below the scale");
        near!(hal(1e6, 1.0), 6.56 * 100_f64.ln() / 3.18, epsilon = 1e-6);
    }
}
