//! Repeated use: what published methods say of the job, side by side.

use crate::analysis::{HandCase, Solved, hand_cases};
use crate::limits::{
    Group, Method, Rating, acceptable_share, endurance_minutes, group, hand_activity, strength,
};
use crate::model::{Direction, Job, Tool};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// A job, the methods, and what they say of each grip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JobReport {
    /// Strokes a minute.
    pub strokes: f64,
    /// How long the hand squeezes in each, s.
    pub held: f64,
    /// Hours a day.
    pub hours: f64,
    /// Angle of the wrist, deg, flexion positive.
    pub wrist: f64,
    /// Speed of work.
    pub speed: &'static str,
    /// Share of the time that the hand squeezes.
    pub duty: f64,
    /// Hand activity level, 0 to 10.
    pub hal: f64,
    /// Whose hands; null where the hand's limit is their strength.
    pub population: Option<GroupLine>,
    /// Share of them whose strength must be enough.
    pub share: f64,
    /// Share of the strength that every method finds acceptable.
    pub acceptable: f64,
    /// The methods.
    pub methods: Vec<MethodLine>,
    /// Each jaw with work at each grip, where that effort is greatest; without work each grip at shut.
    pub grips: Vec<JobGrip>,
}

/// A group of people.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GroupLine {
    /// Its name in the tool file.
    pub name: String,
    /// Who they are.
    pub who: String,
    /// Mean grip strength.
    pub mean: f64,
    /// Its standard deviation.
    pub deviation: f64,
    /// Where it is published.
    pub source: &'static str,
}

impl GroupLine {
    /// A group in these units.
    pub(super) fn of(group: &Group, units: UnitSystem) -> Self {
        Self {
            name: group.name.clone(),
            who: group.who.clone(),
            mean: units.show(group.mean, Quantity::Force),
            deviation: units.show(group.deviation, Quantity::Force),
            source: group.source,
        }
    }
}

/// A published method.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MethodLine {
    /// Name and year.
    pub name: &'static str,
    /// Its name in a column.
    pub short: &'static str,
    /// What its index is.
    pub index: &'static str,
    /// Where it is published.
    pub source: &'static str,
    /// For what it is meant.
    pub scope: &'static str,
    /// Lower and upper limit of its index; the same where it draws one line.
    pub limits: [f64; 2],
    /// Shares of the strength at which these are met.
    pub acceptable: [f64; 2],
}

/// A grip: the effort there, and what the methods say.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JobGrip {
    /// The jaw; null where only one has work.
    pub jaw: Option<String>,
    /// Distance along the hand line.
    pub grip: f64,
    /// Grip span there; null without a second handle.
    pub span: Option<f64>,
    /// Strength of the hands at that span.
    pub strength: Option<f64>,
    /// Hand force that the work needs there.
    pub force: Option<f64>,
    /// That force over the strength.
    pub effort: Option<f64>,
    /// Force that every method finds acceptable there.
    pub acceptable: Option<f64>,
    /// How long one squeeze of this force can be held at most, s; null outside of the published range.
    pub hold: Option<f64>,
    /// The worst of the methods' ratings: `"within"`, `"between"` or `"above"`; null without an effort.
    pub rating: Option<&'static str>,
    /// What each method says, in the order of the methods.
    pub methods: Vec<MethodAtGrip>,
}

/// What a method says of an effort.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MethodAtGrip {
    /// Its index; null above the strength.
    pub index: Option<f64>,
    /// `"within"`, `"between"` or `"above"`.
    pub rating: &'static str,
    /// Forces at its lower and upper limit.
    pub acceptable: [Option<f64>; 2],
}

/// The word of a rating in reports.
pub(super) fn word(rating: Rating) -> &'static str {
    match rating {
        Rating::Within => "within",
        Rating::Between => "between",
        Rating::Beyond => "above",
    }
}

/// The job of a tool whose stroke is solved; `None` without one, and for the return stroke.
pub(super) fn job_report(tool: &Tool, solved: &Solved, units: UnitSystem) -> Option<JobReport> {
    let job = tool.job.as_ref()?;
    if solved.direction == Direction::Opening {
        return None;
    }
    let population = job.population.as_deref().and_then(group);
    Some(JobReport {
        strokes: units.show(job.strokes, Quantity::Frequency),
        held: job.held,
        hours: job.hours,
        wrist: units.show(job.wrist, Quantity::Angle),
        speed: job.speed.word(),
        duty: job.duty(),
        hal: hand_activity(job),
        population: population.map(|group| GroupLine::of(group, units)),
        share: job.share,
        acceptable: acceptable_share(job),
        methods: Method::ALL
            .iter()
            .map(|method| MethodLine {
                name: method.name(),
                short: method.short(),
                index: method.what(),
                source: method.source(),
                scope: method.scope(),
                limits: method.limits(job),
                acceptable: method.shares(job),
            })
            .collect(),
        grips: match hand_cases(tool, solved) {
            Ok(cases) => cases
                .iter()
                .map(|case| worked(tool, job, case, units))
                .collect(),
            Err(_) => at_shut(tool, job, solved, units),
        },
    })
}

fn worked(tool: &Tool, job: &Job, case: &HandCase, units: UnitSystem) -> JobGrip {
    let jaw = tool.jaw(case.jaw).filter(|_| tool.working_jaws().len() > 1);
    let at = case.effort;
    JobGrip {
        jaw: jaw.map(|jaw| jaw.name.clone()),
        ..grip_line(
            job,
            case.grip,
            at.and_then(|at| at.span),
            at.and_then(|at| at.strength),
            at.and_then(|at| at.force),
            units,
        )
    }
}

/// Without work: each grip at shut.
fn at_shut(tool: &Tool, job: &Job, solved: &Solved, units: UnitSystem) -> Vec<JobGrip> {
    let Some(shut) = solved.positions.last() else {
        return Vec::new();
    };
    let grips = tool.hand.grips.iter().zip(&shut.grips);
    let line = |(&at, held): (&f64, &crate::analysis::AtGrip)| {
        let strong = strength(job, tool.hand.limit.as_ref(), held.span);
        grip_line(job, at, held.span, strong, None, units)
    };
    grips.map(line).collect()
}

fn grip_line(
    job: &Job,
    grip: f64,
    span: Option<f64>,
    strength: Option<f64>,
    force: Option<f64>,
    units: UnitSystem,
) -> JobGrip {
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let shown = |newtons: f64| units.show(newtons, Quantity::Force);
    let strong = strength.filter(|newtons| *newtons > 0.0);
    let effort = force.zip(strong).map(|(force, strong)| force / strong);
    let of_strength = |share: f64| strong.map(|newtons| shown(share * newtons));
    JobGrip {
        jaw: None,
        grip: length(grip),
        span: span.map(length),
        strength: strength.map(shown),
        force: force.map(shown),
        effort,
        acceptable: of_strength(acceptable_share(job)),
        hold: effort
            .and_then(endurance_minutes)
            .map(|minutes| 60.0 * minutes),
        rating: effort.map(|effort| word(Rating::worst(job, effort))),
        methods: Method::ALL
            .iter()
            .filter_map(|method| {
                let effort = effort?;
                Some(MethodAtGrip {
                    index: method.index(job, effort),
                    rating: word(method.rating(job, effort)),
                    acceptable: method.shares(job).map(of_strength),
                })
            })
            .collect(),
    }
}
