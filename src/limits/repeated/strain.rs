//! Strain Index of 1995: a product of six classed multipliers.
//!
//! Source: J. S. Moore and A. Garg, *The Strain Index: a proposed method to analyze jobs for risk of distal upper
//! extremity disorders*, Am. Ind. Hyg. Assoc. J. 56 (1995) 443–458; the classes of the wrist's angle from memory.

use crate::model::Speed;

/// Up to the first it is probably safe, above the second probably hazardous. (Other texts draw one line at 5.)
pub(super) const LIMITS: [f64; 2] = [3.0, 7.0];

/// Classes of effort: the share of the strength at which each ends, and its multiplier: light below 10 %, somewhat
/// hard to 29 %, hard to 49 %, very hard to 79 %, near maximal from 80 %.
const EFFORTS: [(f64, f64); 5] = [
    (0.10, 1.0),
    (0.30, 3.0),
    (0.50, 6.0),
    (0.80, 9.0),
    (f64::INFINITY, 13.0),
];

/// The multiplier of an effort, as a share of the strength.
fn intensity(effort: f64) -> f64 {
    class(effort, &EFFORTS)
}

/// The first class that a value is below the end of.
fn class(value: f64, classes: &[(f64, f64)]) -> f64 {
    let own = classes.iter().find(|(end, _)| value < *end);
    own.or(classes.last()).map_or(f64::NAN, |(_, of)| *of)
}

/// The same where the end belongs to the class.
fn class_to(value: f64, classes: &[(f64, f64)]) -> f64 {
    let own = classes.iter().find(|(end, _)| value <= *end);
    own.or(classes.last()).map_or(f64::NAN, |(_, of)| *of)
}

/// The product of all multipliers but that of the effort: efforts a minute, share of the time, hours a day, angle
/// of the wrist in degrees (flexion positive).
pub(super) fn rest(per_minute: f64, duty: f64, hours: f64, wrist: f64, speed: Speed) -> f64 {
    let efforts = class(
        per_minute,
        &[
            (4.0, 0.5),
            (9.0, 1.0),
            (15.0, 1.5),
            (20.0, 2.0),
            (f64::INFINITY, 3.0),
        ],
    );
    let time = class(
        duty,
        &[
            (0.10, 0.5),
            (0.30, 1.0),
            (0.50, 1.5),
            (0.80, 2.0),
            (f64::INFINITY, 3.0),
        ],
    );
    // The printed classes "4 to 8" and "8 and more" both have 8. It is taken for the day of 8 h that the multiplier of
    // 1 is for, as in the index of 2017, which has 1 there too.
    let day = class(
        hours,
        &[
            (1.0 + EDGE, 0.25),
            (2.0 + EDGE, 0.5),
            (4.0 + EDGE, 0.75),
            (8.0 + EDGE, 1.0),
            (f64::INFINITY, 1.5),
        ],
    );
    let ends = if wrist >= 0.0 {
        [5.0, 15.0, 30.0, 50.0]
    } else {
        [10.0, 25.0, 40.0, 60.0]
    };
    let [very_good, good, fair, bad] = ends;
    let posture = class_to(
        wrist.abs(),
        &[
            (very_good, 1.0),
            (good, 1.0),
            (fair, 1.5),
            (bad, 2.0),
            (f64::INFINITY, 3.0),
        ],
    );
    let pace = match speed {
        Speed::VerySlow | Speed::Slow | Speed::Fair => 1.0,
        Speed::Fast => 1.5,
        Speed::VeryFast => 2.0,
    };
    efforts * time * day * posture * pace
}

/// So near an end of a class of hours it is the end.
const EDGE: f64 = 1e-9;

/// The index of an effort beside the other multipliers.
pub(super) fn index(effort: f64, rest: f64) -> f64 {
    intensity(effort) * rest
}

/// Up to which share of the strength the index is at most `limit`: the end of the last class of effort that is; 0
/// where none is.
pub(super) fn share(limit: f64, rest: f64) -> f64 {
    let allowed = |&&(_, of): &&(f64, f64)| of * rest <= limit;
    let last = EFFORTS.iter().take_while(allowed).last();
    last.map_or(0.0, |(end, _)| end.min(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Moore and Garg 1995, the worked products of a copy: 9·3·2·1·1·1 = 54, 3·3·2 = 18, 1·3·2 = 6. Here: very
    /// hard, somewhat hard and light, for 80 % of the time, 15 to 19 times a minute, wrist straight, fair, 4 to 8 h.
    #[test]
    fn products() {
        let rest = rest(16.0, 0.85, 6.0, 0.0, Speed::Fair);
        for (effort, product) in [(0.6, 54.0), (0.2, 18.0), (0.05, 6.0)] {
            assert_eq!(index(effort, rest), product);
        }
        assert_eq!(share(54.0, rest), 0.8, "the end of the class");
        assert_eq!(share(5.9, rest), 0.0, "not even a light one");
        assert_eq!(share(100.0, rest), 1.0);
    }

    /// The multipliers as printed (Moore and Garg 1995), on both sides of the ends of classes.
    #[test]
    fn classes() {
        let base =
            |per_minute, duty, hours, wrist, speed| rest(per_minute, duty, hours, wrist, speed);
        let of_rate = [3.9, 4.0, 8.0, 9.0, 14.9, 15.0, 19.0, 20.0];
        let rates = of_rate.map(|rate| base(rate, 0.2, 6.0, 0.0, Speed::Fair));
        assert_eq!(rates, [0.5, 1.0, 1.0, 1.5, 1.5, 2.0, 2.0, 3.0]);
        let of_duty = [0.09, 0.1, 0.29, 0.3, 0.49, 0.5, 0.79, 0.8];
        let duties = of_duty.map(|duty| base(5.0, duty, 6.0, 0.0, Speed::Fair));
        assert_eq!(duties, [0.5, 1.0, 1.0, 1.5, 1.5, 2.0, 2.0, 3.0]);
        let of_hours = [1.0, 2.0, 4.0, 8.0, 8.1];
        let days = of_hours.map(|hours| base(5.0, 0.2, hours, 0.0, Speed::Fair));
        assert_eq!(days, [0.25, 0.5, 0.75, 1.0, 1.5]);
        let bent = [10.0, 20.0, 40.0, 60.0, -20.0, -30.0, -50.0, -70.0];
        let wrists = bent.map(|wrist| base(5.0, 0.2, 6.0, wrist, Speed::Fair));
        assert_eq!(wrists, [1.0, 1.5, 2.0, 3.0, 1.0, 1.5, 2.0, 3.0]);
        let speeds = Speed::ALL.map(|(_, speed)| base(5.0, 0.2, 6.0, 0.0, speed));
        assert_eq!(speeds, [1.0, 1.0, 1.0, 1.5, 2.0]);
        let efforts = [0.09, 0.1, 0.29, 0.3, 0.49, 0.5, 0.79, 0.8].map(intensity);
        assert_eq!(efforts, [1.0, 3.0, 3.0, 6.0, 6.0, 9.0, 9.0, 13.0]);
    }
}
