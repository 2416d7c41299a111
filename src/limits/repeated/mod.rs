//! What a hand may be asked for again and again: published methods side by side.
//!
//! Each takes the effort as a share of the strength of the hand (maximum voluntary contraction) and says up to which
//! share its index stays within its limits.

mod hal;
mod revised;
mod strain;

use crate::limits::effort::{ONE_SECOND, repeated_share};
use crate::limits::groups::group;
use crate::limits::limit_at;
use crate::model::{HandLimit, Job};

/// A published method.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// ACGIH threshold limit value for hand activity, 2001.
    HandActivity,
    /// Its revision of 2018.
    HandActivityRevised,
    /// Strain Index, 1995.
    StrainIndex,
    /// Revised Strain Index, 2017.
    StrainIndexRevised,
    /// Maximum acceptable effort, 2012.
    AcceptableEffort,
}

/// How an effort stands to the limits of a method.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rating {
    /// Up to the lower limit.
    Within,
    /// Between the two.
    Between,
    /// Above the upper one.
    Beyond,
}

impl Rating {
    /// The worst that the methods say of an effort, over the strength, of a job.
    #[must_use]
    pub fn worst(job: &Job, effort: f64) -> Self {
        let all = Method::ALL.iter().map(|method| method.rating(job, effort));
        all.fold(Self::Within, Self::max)
    }
}

impl Method {
    /// All, in the order in which they are printed.
    pub const ALL: [Self; 5] = [
        Self::StrainIndexRevised,
        Self::AcceptableEffort,
        Self::HandActivity,
        Self::HandActivityRevised,
        Self::StrainIndex,
    ];

    /// Its name and year.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::HandActivity => "hand activity TLV 2001",
            Self::HandActivityRevised => "hand activity TLV 2018",
            Self::StrainIndex => "Strain Index 1995",
            Self::StrainIndexRevised => "Revised Strain Index 2017",
            Self::AcceptableEffort => "maximum acceptable effort 2012",
        }
    }

    /// Its name in a column.
    #[must_use]
    pub fn short(self) -> &'static str {
        match self {
            Self::HandActivity => "TLV 2001",
            Self::HandActivityRevised => "TLV 2018",
            Self::StrainIndex => "SI",
            Self::StrainIndexRevised => "RSI",
            Self::AcceptableEffort => "MAE",
        }
    }

    /// What its index is.
    #[must_use]
    pub fn what(self) -> &'static str {
        match self {
            Self::HandActivity => "peak force (0 to 10) / (10 - HAL)",
            Self::HandActivityRevised => "peak force (0 to 10)",
            Self::StrainIndex | Self::StrainIndexRevised => "index",
            Self::AcceptableEffort => "effort / strength",
        }
    }

    /// Where it is published, and which of its figures are not confirmed.
    #[must_use]
    pub fn source(self) -> &'static str {
        match self {
            Self::HandActivity => {
                "ACGIH, TLV for hand activity (2001), with HAL by R. G. Radwin et al., Ergonomics 58 (2015) 173-183"
            }
            Self::HandActivityRevised => {
                "ACGIH, TLV for hand activity (2018), with HAL as above (unconfirmed figures: verify against the \
                 publication)"
            }
            Self::StrainIndex => {
                "J. S. Moore and A. Garg, The Strain Index, Am Ind Hyg Assoc J 56 (1995) 443-458 (classes of the \
                 wrist's angle unconfirmed)"
            }
            Self::StrainIndexRevised => {
                "A. Garg, J. S. Moore and J. M. Kapellusch, The Revised Strain Index, Ergonomics 60 (2017) 912-922 \
                 (unconfirmed figures: verify against the publication)"
            }
            Self::AcceptableEffort => {
                "J. R. Potvin, Predicting maximum acceptable efforts for repetitive tasks, Human Factors 54 (2012) \
                 175-188 (unconfirmed figures: verify against the publication)"
            }
        }
    }

    /// For what it is meant.
    #[must_use]
    pub fn scope(self) -> &'static str {
        match self {
            Self::HandActivity => "one task for 4 h a day or more; posture left to judgement",
            Self::HandActivityRevised => {
                "jobs of 4 to 8 h a day; efforts up to 10 % of the strength do not count"
            }
            Self::StrainIndex => "one task; classes jump",
            Self::StrainIndexRevised => "one task, all efforts alike",
            Self::AcceptableEffort => {
                "a day of 8 h; few of the data have the hand busy for half of the time or more"
            }
        }
    }

    /// Its lower and upper limit for a job; the same where it draws one line.
    #[must_use]
    pub fn limits(self, job: &Job) -> [f64; 2] {
        match self {
            Self::HandActivity => hal::RATIO_2001,
            Self::HandActivityRevised => hal::peak_2018(hand_activity(job)),
            Self::StrainIndex => strain::LIMITS,
            Self::StrainIndexRevised => [revised::LIMIT; 2],
            Self::AcceptableEffort => [repeated_share(duty(job)).unwrap_or(0.0); 2],
        }
    }

    /// Its index for an effort; `None` above the strength, and where the strokes of a minute take longer than that.
    #[must_use]
    pub fn index(self, job: &Job, effort: f64) -> Option<f64> {
        if !(0.0..=1.0).contains(&effort) || job.duty() > 1.0 {
            return None;
        }
        match self {
            Self::HandActivity => Some(10.0 * effort / (10.0 - hand_activity(job))),
            Self::HandActivityRevised => Some(10.0 * effort),
            Self::StrainIndex => Some(strain::index(effort, strain_rest(job))),
            Self::StrainIndexRevised => Some(revised::intensity(effort) * revised_rest(job)),
            Self::AcceptableEffort => Some(effort),
        }
    }

    /// The shares of the strength up to which it is within its lower and upper limit; 0 where no effort is.
    #[must_use]
    pub fn shares(self, job: &Job) -> [f64; 2] {
        if job.duty() > 1.0 {
            return [0.0; 2];
        }
        let most = |share: f64| share.clamp(0.0, 1.0);
        match self {
            Self::HandActivity => {
                let left = 10.0 - hand_activity(job);
                hal::RATIO_2001.map(|ratio| most(ratio * left / 10.0))
            }
            Self::HandActivityRevised => {
                let peaks = hal::peak_2018(hand_activity(job));
                peaks.map(|peak| most((peak / 10.0).max(hal::COUNTS_2018)))
            }
            Self::StrainIndex => strain::LIMITS.map(|limit| strain::share(limit, strain_rest(job))),
            Self::StrainIndexRevised => [revised::share(revised_rest(job)); 2],
            Self::AcceptableEffort => self.limits(job),
        }
    }

    /// How an effort, as a share of the strength, stands to its limits.
    #[must_use]
    pub fn rating(self, job: &Job, effort: f64) -> Rating {
        let [low, high] = self.limits(job);
        let counts = self != Self::HandActivityRevised || effort > hal::COUNTS_2018;
        match self.index(job, effort) {
            _ if effort == 0.0 || (!counts && job.duty() <= 1.0) => Rating::Within,
            Some(index) if index <= low => Rating::Within,
            Some(index) if index <= high => Rating::Between,
            _ => Rating::Beyond,
        }
    }
}

/// The strength of the hands that a job is for at a grip span (mm), N: of the share of its population, or else
/// the hand's limit; `None` where neither is known there.
#[must_use]
pub fn strength(job: &Job, limit: Option<&HandLimit>, span: Option<f64>) -> Option<f64> {
    match &job.population {
        Some(name) => group(name)?.strength(job.share, span),
        None => limit_at(limit?, span),
    }
}

/// Hand activity level of a job, 0 to 10.
#[must_use]
pub fn hand_activity(job: &Job) -> f64 {
    hal::hal(job.strokes, duty(job))
}

/// Revised Strain Index of a job for an effort as a share of the strength, up to 1.
#[must_use]
pub fn strain_index(job: &Job, effort: f64) -> Option<f64> {
    Method::StrainIndexRevised.index(job, effort)
}

/// The share of the strength that every method finds acceptable: the least of their lower limits.
#[must_use]
pub fn acceptable_share(job: &Job) -> f64 {
    let all = Method::ALL.iter().map(|method| method.shares(job)[0]);
    all.fold(1.0, f64::min)
}

/// Share of the time that the hand is busy: no less than one second in the day, with which the published formulas
/// begin.
fn duty(job: &Job) -> f64 {
    job.duty().max(ONE_SECOND)
}

fn wrist(job: &Job) -> f64 {
    job.wrist.to_degrees()
}

fn strain_rest(job: &Job) -> f64 {
    strain::rest(
        60.0 * job.strokes,
        job.duty(),
        job.hours,
        wrist(job),
        job.speed,
    )
}

fn revised_rest(job: &Job) -> f64 {
    revised::rest(60.0 * job.strokes, job.held, job.hours, wrist(job))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Speed;
    use approx::assert_abs_diff_eq as near;

    fn job(per_minute: f64, held: f64) -> Job {
        Job {
            strokes: per_minute / 60.0,
            held,
            hours: 8.0,
            wrist: 0.0,
            speed: Speed::Fair,
            population: None,
            share: 0.75,
        }
    }

    /// ACGIH 2001, as the form of T. E. Bernard (2002) has it: peak force 3 at HAL 4 gives 0.50. The rate that gives
    /// HAL 4 at half of the time is found here.
    #[test]
    fn ratio_of_2001() {
        let rate = crate::numeric::root::root(|f| Some(hal::hal(f, 0.5) - 4.0), 0.01, 5.0, 1e-12);
        let rate = rate.expect("a rate");
        let job = job(60.0 * rate, 0.5 / rate);
        near!(hand_activity(&job), 4.0, epsilon = 1e-9);
        let ratio = Method::HandActivity.index(&job, 0.3).expect("an index");
        near!(ratio, 0.5, epsilon = 1e-9);
        assert_eq!(Method::HandActivity.rating(&job, 0.3), Rating::Within);
        assert_eq!(Method::HandActivity.rating(&job, 0.4), Rating::Between);
        assert_eq!(Method::HandActivity.rating(&job, 0.5), Rating::Beyond);
        // 2018, from memory: 3.6 and 5.6 less 0.56 HAL.
        let [low, high] = Method::HandActivityRevised.limits(&job);
        near!(low, 1.36, epsilon = 1e-9);
        near!(high, 3.36, epsilon = 1e-9);
    }

    /// The share that a method calls acceptable is where its own index meets its limit.
    #[test]
    fn shares_are_where_the_index_meets_the_limit() {
        for (per_minute, held) in [(0.5, 1.0), (6.0, 1.5), (12.0, 2.0), (30.0, 1.0)] {
            let job = job(per_minute, held);
            for method in Method::ALL {
                let [low, high] = method.shares(&job);
                assert!((0.0..=1.0).contains(&low) && low <= high && high <= 1.0);
                for (share, least) in [(low, Rating::Between), (high, Rating::Beyond)] {
                    if share > 0.0 {
                        assert!(method.rating(&job, share * (1.0 - 1e-6)) < least);
                    }
                    if share < 1.0 {
                        assert!(method.rating(&job, share * (1.0 + 1e-6) + 1e-9) >= least);
                    }
                }
            }
            assert!(acceptable_share(&job) <= Method::StrainIndexRevised.shares(&job)[0]);
        }
    }

    #[test]
    fn more_than_all_the_time_is_nothing_that_a_hand_can_do() {
        let job = job(60.0, 1.5);
        assert_eq!(acceptable_share(&job), 0.0);
        for method in Method::ALL {
            assert_eq!(method.index(&job, 0.2), None);
            assert_eq!(method.rating(&job, 0.2), Rating::Beyond);
        }
    }

    #[test]
    fn an_effort_above_the_strength_has_no_index() {
        for method in Method::ALL {
            assert_eq!(method.index(&job(6.0, 1.5), 1.2), None);
            assert_eq!(method.rating(&job(6.0, 1.5), 1.2), Rating::Beyond);
        }
    }
}
