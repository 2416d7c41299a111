//! How long, or how often, a share of a hand's strength can be asked for.

/// Longest time (min) for which a share `f` of the greatest force can be held, 0.2 ≤ f ≤ 1;
/// `None` outside.
///
/// t = −1.5 + 2.1/f − 0.6/f² + 0.1/f³
///
/// Source: Rohmert's curve as given by T. E. Bernard (2006). A. Garg et al. (2002) found that it
/// overestimates the time below 45 %.
#[must_use]
pub fn endurance_minutes(f: f64) -> Option<f64> {
    (0.2..=1.0)
        .contains(&f)
        .then(|| -1.5 + 2.1 / f - 0.6 / (f * f) + 0.1 / (f * f * f))
}

/// Greatest share of the strength for efforts that fill a share `duty` of the day's time,
/// 1/28 800 ≤ duty ≤ 1; `None` outside.
///
/// MAE = 1 − (duty − 1/28 800)^0.24
///
/// Source: J. R. Potvin, *Predicting maximum acceptable efforts for repetitive tasks*, Human
/// Factors 54 (2012) 175–188; from memory.
#[must_use]
pub(super) fn repeated_share(duty: f64) -> Option<f64> {
    (ONE_SECOND..=1.0)
        .contains(&duty)
        .then(|| 1.0 - (duty - ONE_SECOND).powf(0.24))
}

/// One second in an eight-hour day.
pub(super) const ONE_SECOND: f64 = 1.0 / 28_800.0;

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq as near;

    /// Bernard 2006, recomputed from the published formula.
    #[test]
    fn holding_time() {
        for (f, t) in [
            (0.2, 6.5),
            (0.3, 2.537),
            (0.4, 1.563),
            (0.5, 1.1),
            (0.6, 0.796),
            (0.7, 0.567),
            (0.8, 0.383),
        ] {
            near!(endurance_minutes(f).expect("inside"), t, epsilon = 1e-3);
        }
        assert_eq!(endurance_minutes(0.15), None, "outside the published range");
        assert_eq!(endurance_minutes(f64::NAN), None);
    }

    /// Potvin 2012, from memory.
    #[test]
    fn repeated_efforts() {
        for (duty, share) in [
            (0.01, 0.669),
            (0.05, 0.513),
            (0.1, 0.425),
            (0.2, 0.32),
            (0.5, 0.153),
        ] {
            near!(repeated_share(duty).expect("inside"), share, epsilon = 1e-3);
        }
        assert_eq!(repeated_share(0.0), None);
    }
}
