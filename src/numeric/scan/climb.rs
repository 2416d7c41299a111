//! The greatest value of a curve, and the first place where it is above a level: between the places
//! at which it is looked at too.

use crate::numeric::least::least;

/// What was found along a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Climb {
    /// Where the curve is greatest, and its value there: −∞ where it has none. Up to where it is
    /// above the level.
    pub greatest: [f64; 2],
    /// Two places between which the curve first comes above the level, on either side of it; the
    /// same one twice where it begins above.
    pub above: Option<[f64; 2]>,
}

/// Share of the way to the next place at which it is seen whether a curve rises.
const NUDGE: f64 = 1e-5;
/// A rise below this, over the value, is rounding.
const ROUNDING: f64 = 1e-13;

/// Looks at `f` in all `places`, which rise, and seeks the top about each that is above those beside
/// it, by Brent's method and within `near`. Stops where `f` is above `level`. Between two places `f` is
/// taken to turn once at most: corners and jumps belong among them. Of places nearer to each other than
/// `near` the one with the greatest value counts. What is no number is taken for no value.
///
/// # Errors
/// The first error of `f`.
pub fn climb<E>(
    mut f: impl FnMut(f64) -> Result<f64, E>,
    places: &[f64],
    level: f64,
    near: f64,
) -> Result<Climb, E> {
    let mut f = |at: f64| f(at).map(|y| if y.is_nan() { f64::NEG_INFINITY } else { y });
    let mut found = Climb {
        greatest: [places.first().copied().unwrap_or(0.0), f64::NEG_INFINITY],
        above: None,
    };
    let (mut before, mut middle): (Option<[f64; 2]>, Option<[f64; 2]>) = (None, None);
    for &at in places {
        let here = [at, f(at)?];
        let low = middle.map_or(at, |m| m[0]);
        if found.note(here, low, level) {
            return Ok(found);
        }
        match middle {
            Some(known) if at - known[0] <= near => {
                if here[1] > known[1] {
                    middle = Some(here);
                }
                continue;
            }
            Some(known) => found.top(&mut f, [before, Some(known), Some(here)], level, near)?,
            None => {}
        }
        if found.above.is_some() {
            return Ok(found);
        }
        (before, middle) = (middle, Some(here));
    }
    found.top(&mut f, [before, middle, None], level, near)?;
    Ok(found)
}

impl Climb {
    /// Takes in a value; whether it is above the level, which the one at `low` is not.
    fn note(&mut self, [at, value]: [f64; 2], low: f64, level: f64) -> bool {
        if value > self.greatest[1] {
            self.greatest = [at, value];
        }
        if value > level {
            self.above = Some([low, at]);
        }
        value > level
    }

    /// Seeks the top about the second of three places, if that is above the other two.
    fn top<E>(
        &mut self,
        f: &mut impl FnMut(f64) -> Result<f64, E>,
        [before, middle, after]: [Option<[f64; 2]>; 3],
        level: f64,
        near: f64,
    ) -> Result<(), E> {
        let Some([at, value]) = middle.filter(|m| m[1].is_finite()) else {
            return Ok(());
        };
        let beside = || before.iter().chain(&after);
        if beside().any(|b| b[1] > value) || beside().all(|b| b[1] == value) {
            return Ok(());
        }
        for (end, low) in [(before, before), (after, middle)] {
            let (Some([end, _]), Some([low, _])) = (end, low) else {
                continue;
            };
            // A side that falls from the place has no top; nor has one that is level but for rounding.
            let rise = f(at + NUDGE * (end - at))? - value;
            if rise > ROUNDING * value.abs() {
                let (top, depth) = least(|p| f(p).map(|y| -y), at, end, near)?;
                if self.note([top, -depth], low, level) {
                    return Ok(());
                }
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::{Climb, climb};
    use std::convert::Infallible;

    fn of(f: impl Fn(f64) -> f64, places: &[f64], level: f64) -> (Climb, usize) {
        let mut calls = 0;
        let curve = |x| {
            calls += 1;
            Ok::<_, Infallible>(f(x))
        };
        let Ok(found) = climb(curve, places, level, 1e-9);
        (found, calls)
    }

    /// sin x is 1 at π/2; sin(x) / x falls from 1, and its next top is at x = tan x, x = 7.7252518
    /// (M. Abramowitz and I. A. Stegun, *Handbook of Mathematical Functions* (1964), table 4.19).
    #[test]
    fn tops_between_places_and_at_ends() {
        let ([at, value], _) = {
            let (found, calls) = of(f64::sin, &[0.0, 1.0, 2.0, 3.0], f64::MAX);
            (found.greatest, calls)
        };
        assert!((at - std::f64::consts::FRAC_PI_2).abs() < 1e-7);
        assert!((value - 1.0).abs() < 1e-14);
        let (found, _) = of(|x| x.sin() / x, &[5.0, 6.5, 8.5, 10.0], f64::MAX);
        assert!((found.greatest[0] - 7.725_251_8).abs() < 1e-6, "{found:?}");
        // A curve that only falls or rises is greatest at an end, which is not left for rounding.
        assert_eq!(of(|x| -x, &[1.0, 2.0], f64::MAX).0.greatest, [1.0, -1.0]);
        assert_eq!(of(|x| x, &[1.0, 2.0], f64::MAX).0.greatest, [2.0, 2.0]);
        let level = of(|_| 3.0, &[0.0, 1.0, 2.0], f64::MAX);
        assert_eq!((level.0.greatest, level.1), ([0.0, 3.0], 3));
    }

    /// By hand: of two tops, 2 at 1.5 and 3 at 7.5, the second lies where the places say less.
    #[test]
    fn the_highest_place_need_not_be_beside_the_highest_top() {
        let tent = |x: f64, at: f64, top: f64| top - 4.0 * (x - at).abs();
        let curve = |x: f64| tent(x, 1.4, 2.0).max(tent(x, 7.5, 3.0)).max(0.0);
        let (found, _) = of(curve, &[0.0, 1.3, 4.0, 7.0, 8.0, 9.0], f64::MAX);
        assert!((found.greatest[0] - 7.5).abs() < 1e-8, "{found:?}");
        assert!((found.greatest[1] - 3.0).abs() < 1e-7, "{found:?}");
    }

    /// 1 − (x − 5)²/9 is above ½ from 5 − 3/√2 = 2.879 on, and all places lie below that or beyond
    /// the other side, 7.121.
    #[test]
    fn the_first_place_above_a_level_is_bracketed() {
        let hill = |x: f64| 1.0 - (x - 5.0).powi(2) / 9.0;
        for places in [&[0.0, 2.8, 7.4, 9.0][..], &[0.0, 2.8, 5.0], &[0.0, 7.4]] {
            let (found, _) = of(hill, places, 0.5);
            let Some([low, high]) = found.above else {
                panic!("{places:?}");
            };
            assert!(low < 2.879 && high > 2.879 && high < 7.121, "{low} {high}");
        }
        assert_eq!(of(hill, &[4.0, 5.0], 0.5).0.above, Some([4.0, 4.0]));
        assert_eq!(of(hill, &[0.0, 2.8, 7.4], 1.01).0.above, None);
    }

    #[test]
    fn a_jump_with_places_on_both_sides_and_no_values() {
        let step = |x: f64| if x < 2.0 { x } else { 1.0 - x };
        let places = [0.0, 1.0, 2.0 - 1e-11, 2.0, 2.0 + 1e-11, 3.0];
        let [at, value] = of(step, &places, f64::MAX).0.greatest;
        assert!((at - 2.0).abs() < 1e-9 && (value - 2.0).abs() < 1e-9);
        let gone = |x: f64| if x > 1.5 { f64::NAN } else { x };
        let [at, _] = of(gone, &[0.0, 1.0, 2.0], f64::MAX).0.greatest;
        assert!((at - 1.5).abs() < 1e-8, "{at}");
        let (none, _) = of(|_| f64::NAN, &[0.0, 1.0], f64::MAX);
        assert_eq!(none.greatest[1], f64::NEG_INFINITY);
        assert_eq!(climb(|_| Err::<f64, _>("no"), &[1.0], 0.0, 1e-9), Err("no"));
    }
}
