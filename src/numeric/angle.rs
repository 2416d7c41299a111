//! Angles that mean the same direction.

use std::f64::consts::{PI, TAU};

/// The angle in (−π, π] of the same direction, rad.
#[must_use]
pub fn wrapped(angle: f64) -> f64 {
    let reduced = angle - (angle / TAU).round() * TAU;
    if reduced <= -PI {
        reduced + TAU
    } else {
        reduced
    }
}

#[cfg(test)]
mod tests {
    use super::wrapped;
    use std::f64::consts::PI;

    #[test]
    fn whole_turns_are_taken_off() {
        for (angle, expected) in [(0.0, 0.0), (PI, PI), (-PI, PI), (3.0 * PI, PI)] {
            approx::assert_relative_eq!(wrapped(angle), expected, epsilon = 1e-12);
        }
        approx::assert_relative_eq!(wrapped(-7.0), -7.0 + 2.0 * PI, epsilon = 1e-12);
        approx::assert_relative_eq!(wrapped(4.0), 4.0 - 2.0 * PI, epsilon = 1e-12);
    }
}
