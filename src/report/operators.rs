//! Operators by group: the share of each that can close the tool once, and as often as the job asks.

use super::job::GroupLine;
use crate::analysis::{Failure, GroupCase, group_cases};
use crate::limits::{Group, acceptable_share, group};
use crate::model::{Operators, Tool};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// The operators, and what share of them is able.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OperatorsReport {
    /// The groups, in the file's order.
    pub groups: Vec<OperatorsLine>,
    /// All of them together, each counted as the file says.
    pub mix: Vec<Able>,
    /// Share of each group, and of all together, that can do a force once, at the spans at which they are
    /// strongest.
    pub curve: Vec<AblePoint>,
}

/// One group.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OperatorsLine {
    /// Who they are.
    pub group: GroupLine,
    /// How many of them.
    pub count: f64,
    /// Share able: each jaw with work at each grip.
    pub able: Vec<Able>,
}

/// The share that is able, at a jaw and grip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Able {
    /// The jaw; null where only one has work.
    pub jaw: Option<String>,
    /// Distance along the hand line.
    pub grip: f64,
    /// Hand force that the work needs where it takes most of their strength; null of all groups together, which may
    /// have it at different spans, and where friction locks the tool.
    pub force: Option<f64>,
    /// That force at the span at which they are strongest: more, where the span takes some of their strength.
    pub at_best: Option<f64>,
    /// Share able to do it once; null where friction locks the tool.
    pub once: Option<f64>,
    /// Share for whom every method finds the job acceptable; null without a job.
    pub repeated: Option<f64>,
}

/// A point of the curves.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AblePoint {
    /// Hand force.
    pub force: f64,
    /// Share of each group.
    pub groups: Vec<f64>,
    /// Share of all together.
    pub mix: f64,
}

/// Points of a curve.
const POINTS: usize = 101;
/// The curves end so many standard deviations above the mean of the strongest group.
const BEYOND: f64 = 3.0;

/// Of the groups of a tool; `None` without any.
///
/// # Errors
/// [`Failure`].
pub(super) fn operators_report(
    tool: &Tool,
    units: UnitSystem,
) -> Result<Option<OperatorsReport>, Failure> {
    // Without any, those that the job is for.
    let of_job = tool.job.as_ref().and_then(|job| job.population.clone());
    let of_job = of_job.map(|group| Operators { group, count: 1.0 });
    let all = match tool.operators.as_slice() {
        [] => of_job.as_slice(),
        stated => stated,
    };
    let known: Vec<(&Operators, &'static Group)> = (all.iter())
        .filter_map(|of| Some((of, group(&of.group)?)))
        .collect();
    if known.is_empty() {
        return Ok(None);
    }
    let several = tool.working_jaws().len() > 1;
    let share = tool.job.as_ref().map(acceptable_share);
    let mut groups = Vec::new();
    for (of, group) in &known {
        let cases = group_cases(tool, &of.group)?;
        let able = cases.iter().map(|case| {
            let jaw = tool.jaw(case.jaw).filter(|_| several);
            able(group, case, share, jaw.map(|jaw| jaw.name.clone()), units)
        });
        groups.push(OperatorsLine {
            group: GroupLine::of(group, units),
            count: of.count,
            able: able.collect(),
        });
    }
    Ok(Some(OperatorsReport {
        mix: mixed(&groups),
        curve: curve(&known, units),
        groups,
    }))
}

fn able(
    group: &Group,
    case: &GroupCase,
    share: Option<f64>,
    jaw: Option<String>,
    units: UnitSystem,
) -> Able {
    let shown = |newtons: f64| units.show(newtons, Quantity::Force);
    // Of the mean strength at the span there.
    let at_best = case.effort.effort.ok().map(|effort| effort * group.mean);
    let at_best = at_best.filter(|newtons| newtons.is_finite());
    Able {
        jaw,
        grip: units.show(case.grip, Quantity::Length),
        force: case.effort.force.map(shown),
        at_best: at_best.map(shown),
        once: at_best.map(|newtons| group.able(newtons, None)),
        repeated: at_best
            .zip(share)
            .map(|(newtons, share)| match share > 0.0 {
                true => group.able(newtons / share, None),
                false => 0.0,
            }),
    }
}

/// All groups together, case by case: the mean of their shares, each counted as often as it has people.
fn mixed(groups: &[OperatorsLine]) -> Vec<Able> {
    let Some(first) = groups.first() else {
        return Vec::new();
    };
    let mean = |k: usize, of: fn(&Able) -> Option<f64>| {
        let shares: Option<Vec<(f64, f64)>> = (groups.iter())
            .map(|line| Some((line.count, of(line.able.get(k)?)?)))
            .collect();
        shares.and_then(weighed)
    };
    let all = first.able.iter().enumerate();
    all.map(|(k, case)| Able {
        force: None,
        at_best: None,
        once: mean(k, |able| able.once),
        repeated: mean(k, |able| able.repeated),
        ..case.clone()
    })
    .collect()
}

fn curve(known: &[(&Operators, &'static Group)], units: UnitSystem) -> Vec<AblePoint> {
    let ends = known
        .iter()
        .map(|(_, group)| group.mean + BEYOND * group.deviation);
    let end = ends.fold(0.0, f64::max);
    let point = |k: usize| {
        let newtons = end * k as f64 / (POINTS - 1) as f64;
        let groups: Vec<f64> = (known.iter())
            .map(|(_, group)| group.able(newtons, None))
            .collect();
        let counts = known.iter().map(|(of, _)| of.count);
        AblePoint {
            force: units.show(newtons, Quantity::Force),
            mix: weighed(counts.zip(groups.iter().copied()).collect()).unwrap_or(0.0),
            groups,
        }
    };
    (0..POINTS).map(point).collect()
}

/// The mean of values, each with its weight.
fn weighed(values: Vec<(f64, f64)>) -> Option<f64> {
    let whole: f64 = values.iter().map(|(weight, _)| weight).sum();
    let sum: f64 = values.iter().map(|(weight, value)| weight * value).sum();
    (whole > 0.0).then(|| sum / whole)
}
