//! The whole study, from the tool and its motion to the findings.
//!
//! What is demanded of a jaw is read off tools that face it: the same made tools for every jaw, since all
//! draws are the same.

use super::collect::Collector;
use super::error::StudyError;
use super::lanes::Area;
use super::nominal::settle;
use super::place::Station;
use super::plan::{Plan, Varied, plan};
use super::runs::{Runs, Values};
use super::sample::{Sampling, Variable};
use super::study::{Finding, Study};
use super::unread::{Unread, as_drawn};
use super::worker::Setup;
use crate::analysis::{Analysis, with_grips};
use crate::measure::Measure;
use crate::model::dimension::DimensionSlot;
use crate::model::{Demand, Direction, JawId, Met, Tool};
use crate::statics::{Mounted, Rig};

/// Most steps of the stroke for the study's own look at the tool: peaks are refined between them.
const MOST_STEPS: usize = 120;

impl Analysis {
    /// How the tool's measures move with its dimensions, within its tolerances.
    ///
    /// # Errors
    /// [`StudyError`].
    pub fn tolerance(&self, sampling: &Sampling) -> Result<Study, StudyError> {
        study(self, sampling)
    }
}

fn study(analysis: &Analysis, sampling: &Sampling) -> Result<Study, StudyError> {
    let tool = analysis.tool();
    if !tool.tolerances.stated() {
        return Err(StudyError::NoTolerances);
    }
    let plan = plan(tool);
    if plan.varied.is_empty() && plan.clearances.is_empty() {
        return Err(StudyError::NothingVaries);
    }
    let mut views = Vec::new();
    for jaw in jaws(tool) {
        let facing = analysis.facing(jaw);
        let mut tool = with_grips(facing.tool());
        tool.stroke.steps = tool.stroke.steps.min(MOST_STEPS);
        let mounted = facing.motion().and_then(|m| m.regripped(&tool));
        views.push((jaw, tool, mounted.map_err(StudyError::Mount)?));
    }
    let (mut setups, mut unread) = (Vec::new(), Vec::new());
    for (jaw, tool, mounted) in &views {
        let works = analysis.tool().working_jaws().contains(jaw);
        let grips = &analysis.tool().hand.grips;
        let (setup, left_out) = set_up((*jaw, works), (tool, mounted), &plan, grips)?;
        setups.push(setup);
        unread.extend(left_out.into_iter().map(|one| one.seen(*jaw)));
    }
    let mut unread = as_drawn(analysis, unread)?;
    // The same tools are made for every jaw.
    let (variables, drawn) = variables(&plan, setups.iter().flat_map(stations));
    for (setup, (jaw, ..)) in setups.iter_mut().zip(&views) {
        setup.drawn.clone_from(&drawn);
        unread.extend(settle(setup).into_iter().map(|one| one.seen(*jaw)));
    }
    let runs: Vec<Runs> = setups
        .iter()
        .map(|setup| Runs::new(setup, &variables))
        .collect();
    let mut sampling = *sampling;
    for run in &runs {
        sampling.samples = run.affordable(&sampling, runs.len())?;
    }
    let mut findings: Vec<(Finding, Option<Values>)> = Vec::new();
    let mut good: Option<Vec<bool>> = None;
    for (run, (jaw, ..)) in runs.iter().zip(&views) {
        let (found, meet) = run.find(&sampling)?;
        for (finding, column) in found {
            add(&mut findings, *jaw, finding, column);
        }
        // A made tool does what is demanded if it does so with the work in every jaw.
        good = match (good, meet) {
            (Some(known), Some(meet)) => {
                Some(known.iter().zip(&meet).map(|(a, b)| *a && *b).collect())
            }
            (known, meet) => known.or(meet),
        };
    }
    let findings: Vec<Finding> = findings.into_iter().map(|(finding, _)| finding).collect();
    let known = |one: &Unread| {
        findings
            .iter()
            .any(|finding| finding.subject == one.subject)
    };
    let mut listed: Vec<Unread> = Vec::new();
    for one in unread {
        // With the load in one jaw there may be no factor that there is in another.
        if !known(&one) && !listed.contains(&one) {
            listed.push(one);
        }
    }
    Ok(Study {
        sampling,
        redundant: setups.iter().any(|setup| setup.solver.redundant()),
        plan,
        findings,
        unread: listed,
        all_met: good.map(|good| good.into_iter().filter(|good| *good).count()),
    })
}

/// Adds what is found in the view of a jaw. What is of no jaw is found in several views: of that the least
/// counts.
fn add(
    findings: &mut Vec<(Finding, Option<Values>)>,
    jaw: JawId,
    mut finding: Finding,
    column: Option<Values>,
) {
    let Some(column) = column else {
        if jaw != JawId::FIRST {
            finding.subject.jaw = jaw;
        }
        findings.push((finding, None));
        return;
    };
    let known = findings
        .iter_mut()
        .find(|(known, _)| known.subject == finding.subject);
    match known {
        Some((known, Some(own))) => *known = known.clone().or_less(own, (finding, &column)),
        _ => findings.push((finding, Some(column))),
    }
}

/// The jaw in view, each other that a demand is about, and those that work where strength is demanded.
fn jaws(tool: &Tool) -> Vec<JawId> {
    let works = tool.working_jaws();
    let asked = |jaw: &JawId| {
        let mut demands = tool.demands.iter();
        let about = |d: &Demand| match d.measure {
            Measure::Safety(_) => works.contains(jaw),
            _ => d.jaw == *jaw && d.is_of_jaw(),
        };
        *jaw == JawId::FIRST || demands.any(about)
    };
    JawId::ids(tool.jaws.len()).filter(asked).collect()
}

/// What is read off samples of a tool that faces a jaw, and what is not.
fn set_up<'a>(
    (jaw, works): (JawId, bool),
    (tool, mounted): (&'a Tool, &Mounted),
    plan: &Plan,
    grips: &[f64],
) -> Result<(Setup<'a>, Vec<Unread>), StudyError> {
    let mut rig = Rig::new(tool, mounted, Direction::Closing)?;
    rig.go_to(0.0)?;
    let dies = rig.forces().gap.first().is_some_and(|gap| *gap > 0.0);
    let faces = !matches!(rig.meets(), Some(Met::Face(_)));
    let mut collector = Collector::new(&mut rig, plan)?;
    collector.collect(grips, jaw == JawId::FIRST, works)?;
    let Collector {
        pace,
        stations,
        courses,
        sweeps,
        areas,
        brink,
        targets,
        safeties,
        unread,
        ..
    } = collector;
    let mut slots =
        (plan.varied.iter().map(|v| v.slot)).chain(tool.ties.iter().map(|tie| tie.slot));
    let anew = slots.any(|slot| matches!(slot, DimensionSlot::Stated(_)));
    let setup = Setup {
        tool,
        solver: rig.solver().clone(),
        forces: rig.forces().clone(),
        ask: rig.asked().clone(),
        plan: plan.seen_from(jaw),
        pace,
        stations,
        courses,
        sweeps,
        areas,
        brink,
        targets,
        safeties,
        dies,
        faces,
        anew,
        drawn: Vec::new(),
    };
    Ok((setup, unread))
}

/// All places at which the tools are read.
fn stations<'s>(setup: &'s Setup<'_>) -> impl Iterator<Item = &'s Station> + Clone {
    let swept = setup.sweeps.iter().flat_map(|s| &s.nodes);
    let integrated = (setup.areas.iter())
        .flat_map(Area::posts)
        .map(|post| &post.station);
    setup.stations.iter().chain(swept).chain(integrated)
}

/// What is drawn: every dimension of the plan, then the play of joints that stand unloaded
/// somewhere; and the place of each clearance among the deviations.
fn variables<'s>(
    plan: &Plan,
    stations: impl Iterator<Item = &'s Station> + Clone,
) -> (Vec<Variable>, Vec<Option<usize>>) {
    let within = |v: &Varied| Variable::Within(v.tolerance);
    let mut variables: Vec<Variable> = plan.varied.iter().map(within).collect();
    let mut next = variables.len();
    let mut drawn = Vec::new();
    for (k, &(_, radius)) in plan.clearances.iter().enumerate() {
        let free = stations.clone().any(|s| s.pushed.get(k) == Some(&None));
        drawn.push(free.then_some(next));
        if free {
            variables.push(Variable::Circle(radius));
            next += 2;
        }
    }
    (variables, drawn)
}
