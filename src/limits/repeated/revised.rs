//! Revised Strain Index of 2017: a product of five multipliers without classes.
//!
//! Source: A. Garg, J. S. Moore and J. M. Kapellusch, *The Revised Strain Index: an improved upper extremity exposure
//! assessment model*, Ergonomics 60 (2017) 912–922. The formulas are from memory; their branches meet where one ends
//! and the next begins, which the tests hold them to.

use crate::numeric::root::root;

/// Up to this it is taken to be safe.
pub(super) const LIMIT: f64 = 10.0;

/// Multiplier of an effort, as a share of the strength up to 1.
pub(super) fn intensity(i: f64) -> f64 {
    if i <= 0.4 {
        30.0 * i.powi(3) - 15.6 * i.powi(2) + 13.0 * i + 0.4
    } else {
        36.0 * i.powi(3) - 33.3 * i.powi(2) + 24.77 * i - 1.86
    }
}

/// Multiplier of the efforts a minute.
fn efforts(per_minute: f64) -> f64 {
    if per_minute <= 90.0 {
        0.1 + 0.25 * per_minute
    } else {
        0.003_34 * per_minute.powf(1.96)
    }
}

/// Multiplier of the seconds that each lasts.
fn duration(seconds: f64) -> f64 {
    if seconds <= 60.0 {
        0.45 + 0.31 * seconds
    } else {
        19.17 * seconds.ln() - 59.44
    }
}

/// Multiplier of the wrist's angle in degrees, flexion positive.
fn posture(wrist: f64) -> f64 {
    if wrist >= 0.0 {
        1.2 * (0.009 * wrist).exp() - 0.2
    } else {
        1.0 + 0.000_28 * (-wrist - 30.0).max(0.0).powi(2)
    }
}

/// Multiplier of the hours a day.
fn day(hours: f64) -> f64 {
    if hours <= 0.05 {
        0.2
    } else {
        0.042 * hours + 0.09 * hours.ln() + 0.477
    }
}

/// The product of all multipliers but that of the effort.
pub(super) fn rest(per_minute: f64, seconds: f64, hours: f64, wrist: f64) -> f64 {
    efforts(per_minute) * duration(seconds) * posture(wrist) * day(hours)
}

/// Up to which share of the strength the index is at most [`LIMIT`]; 0 where none is.
pub(super) fn share(rest: f64) -> f64 {
    let over = |i: f64| Some(intensity(i) * rest - LIMIT);
    match (over(0.0), over(1.0)) {
        (Some(least), _) if least >= 0.0 => 0.0,
        (_, Some(most)) if most <= 0.0 => 1.0,
        _ => root(over, 0.0, 1.0, 1e-12).unwrap_or(0.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq as near;

    /// Garg, Moore and Kapellusch 2017, from memory: both sides of each branch, 5.024/5.024, 22.6/22.598,
    /// 19.05/19.049, and one at 8 h.
    #[test]
    fn branches_meet() {
        for (multiplier, end, value) in [
            (intensity as fn(f64) -> f64, 0.4, 5.024),
            (efforts, 90.0, 22.6),
            (duration, 60.0, 19.05),
        ] {
            near!(multiplier(end), value, epsilon = 1e-9);
            near!(multiplier(end + 1e-9), value, epsilon = 3e-3);
        }
        near!(day(8.0), 1.0001, epsilon = 1e-4);
        assert_eq!((posture(0.0), posture(-30.0)), (1.0, 1.0));
        // 1.2 e^0.27 - 0.2 and 1 + 0.000 28 · 30².
        near!(posture(30.0), 1.372, epsilon = 5e-4);
        near!(posture(-60.0), 1.252, epsilon = 1e-9);
    }

    /// Five efforts a minute of 1.5 s for 8 h with a straight wrist: 4.58 at 0.3 of the strength, 8.99 at 0.53.
    #[test]
    fn index_of_a_job() {
        let rest = rest(5.0, 1.5, 8.0, 0.0);
        near!(intensity(0.3) * rest, 4.58, epsilon = 5e-3);
        near!(intensity(0.53) * rest, 8.99, epsilon = 5e-3);
        let most = share(rest);
        near!(intensity(most) * rest, LIMIT, epsilon = 1e-9);
        assert!((0.53..0.6).contains(&most));
        assert_eq!((share(1e3), share(1e-3)), (0.0, 1.0));
    }
}
