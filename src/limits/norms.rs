//! Grip strength of men and women, as measured on many: means and 5th percentiles by age.

use super::data::{AUSTRALIAN_MEN, AUSTRALIAN_WOMEN, LEFT, RIGHT_MEN, RIGHT_WOMEN, Row};
use super::group::Group;
use super::handle;
use super::set::{Falloff, LimitSet, Status};
use crate::units::N_PER_LBF;

/// Newtons in a kilogram-force (exact: standard gravity, 3rd CGPM, 1901).
const N_PER_KGF: f64 = 9.806_65;
/// Standard deviations from the mean down to the 5th percentile of a normal distribution.
const FIFTH: f64 = 1.645;

const MATHIOWETZ: &str = "V. Mathiowetz et al., Grip and pinch strength: normative data for \
    adults, Arch Phys Med Rehabil 66 (1985) 69-74";
const MASSY_WESTROPP: &str = "N. M. Massy-Westropp et al., Hand grip strength: age and gender \
    stratified normative data in a population-based study, BMC Research Notes 4 (2011) 127";
const LEYK: &str = "D. Leyk et al., Hand-grip strength of young men, women and highly trained \
    female athletes, Eur J Appl Physiol 99 (2007) 415-421";

/// Grip strength of men and women.
pub(super) fn people() -> Vec<(Sex, LimitSet)> {
    let mut sets = Vec::new();
    for (sex, rows) in [(Sex::Men, &RIGHT_MEN), (Sex::Women, &RIGHT_WOMEN)] {
        norms(
            &mut sets,
            "norm-grip",
            "right hand",
            MATHIOWETZ,
            sex,
            rows,
            N_PER_LBF,
        );
    }
    for (row, (men, women)) in RIGHT_MEN.iter().zip(LEFT) {
        for (sex, mean) in [(Sex::Men, men), (Sex::Women, women)] {
            let set = LimitSet {
                name: format!("norm-grip-left-{}-{}-mean", sex.letter(), row.0),
                what: format!(
                    "mean grip strength of {} {}, left hand",
                    sex.word(),
                    ages(row.0)
                ),
                source: MATHIOWETZ,
                status: Status::Read,
                force: mean * N_PER_LBF,
                falloff: None,
            };
            sets.push((sex, set));
        }
    }
    for (sex, rows) in [(Sex::Men, &AUSTRALIAN_MEN), (Sex::Women, &AUSTRALIAN_WOMEN)] {
        norms(
            &mut sets,
            "norm-grip-au",
            "dominant hand",
            MASSY_WESTROPP,
            sex,
            rows,
            N_PER_KGF,
        );
    }
    for (sex, force) in [(Sex::Men, 541.0), (Sex::Women, 329.0)] {
        let set = LimitSet {
            name: format!("norm-grip-{}-20-25-mean", sex.letter()),
            what: format!("mean grip strength of {} aged 20 to 25", sex.word()),
            source: LEYK,
            status: Status::Read,
            force,
            falloff: None,
        };
        sets.push((sex, set));
    }
    sets
}

/// The groups whose strength is published with its deviation.
pub(super) fn groups() -> Vec<Group> {
    let mut groups = Vec::new();
    let both = [
        (Sex::Women, &RIGHT_WOMEN[..], &AUSTRALIAN_WOMEN[..]),
        (Sex::Men, &RIGHT_MEN, &AUSTRALIAN_MEN),
    ];
    for (sex, right, australian) in both {
        let mut take = |rows: &[Row], start: &str, hand: &str, source, unit: f64| {
            groups.extend(rows.iter().map(|&(age, mean, deviation)| Group {
                name: format!("{start}{}-{age}", sex.letter()),
                who: format!("{} {}, {hand}", sex.word(), ages(age)),
                mean: mean * unit,
                deviation: deviation * unit,
                source,
                falloff: sex.falloff(),
                breadth: sex.breadth(),
            }));
        };
        take(right, "", "right hand", MATHIOWETZ, N_PER_LBF);
        take(
            australian,
            "au-",
            "dominant hand",
            MASSY_WESTROPP,
            N_PER_KGF,
        );
    }
    groups
}

/// Of whom a figure is.
#[derive(Clone, Copy)]
pub(super) enum Sex {
    Men,
    Women,
}

impl Sex {
    fn letter(self) -> &'static str {
        match self {
            Self::Men => "m",
            Self::Women => "w",
        }
    }

    pub(super) fn falloff(self) -> Falloff {
        match self {
            Self::Men => Falloff::MEN,
            Self::Women => Falloff::WOMEN,
        }
    }

    fn breadth(self) -> [f64; 3] {
        match self {
            Self::Men => handle::MEN,
            Self::Women => handle::WOMEN,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Self::Men => "men",
            Self::Women => "women",
        }
    }
}

/// Means and 5th percentiles of one table.
fn norms(
    sets: &mut Vec<(Sex, LimitSet)>,
    family: &str,
    hand: &str,
    source: &'static str,
    sex: Sex,
    rows: &[Row],
    unit: f64,
) {
    for &(age, mean, deviation) in rows {
        let who = format!("{} {}, {hand}", sex.word(), ages(age));
        let fifth = (mean - FIFTH * deviation) * unit;
        for (tail, what, force) in [
            ("mean", format!("mean grip strength of {who}"), mean * unit),
            (
                "p5",
                format!("5th percentile of the grip strength of {who} (mean less 1.645 SD)"),
                fifth,
            ),
        ] {
            let set = LimitSet {
                name: format!("{family}-{}-{age}-{tail}", sex.letter()),
                what,
                source,
                status: Status::Read,
                force,
                falloff: None,
            };
            sets.push((sex, set));
        }
    }
}

/// "aged 20 to 24", "aged 75 and over", "in their 20s".
fn ages(range: &str) -> String {
    match range.split_once('-') {
        Some((from, "up")) => format!("aged {from} and over"),
        Some((from, to)) => format!("aged {from} to {to}"),
        None => format!("in their {range}"),
    }
}
