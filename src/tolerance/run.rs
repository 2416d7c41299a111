//! The whole study, from the tool and its motion to the findings.

use super::collect::Collector;
use super::error::StudyError;
use super::lanes::Area;
use super::nominal::settle;
use super::place::Station;
use super::plan::{Plan, Varied, plan};
use super::runs::Runs;
use super::sample::{Sampling, Variable};
use super::study::Study;
use super::unread::as_drawn;
use super::worker::Setup;
use crate::analysis::{Analysis, with_grips};
use crate::model::Direction;
use crate::statics::Rig;

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
    let (drawn, grips) = (tool, &tool.hand.grips);
    let mut tool = with_grips(drawn);
    tool.stroke.steps = tool.stroke.steps.min(MOST_STEPS);
    let mounted = analysis.motion().and_then(|m| m.regripped(&tool));
    let mounted = mounted.map_err(StudyError::Mount)?;
    let mut rig = Rig::new(&tool, &mounted, Direction::Closing)?;
    rig.go_to(0.0)?;
    let dies = rig.forces().gap.first().is_some_and(|gap| *gap > 0.0);
    let mut collector = Collector::new(&mut rig, &plan)?;
    collector.collect(grips)?;
    let mut unread = as_drawn(analysis, collector.unread)?;
    let Collector {
        pace,
        stations,
        courses,
        sweeps,
        areas,
        targets,
        ..
    } = collector;
    let swept = sweeps.iter().flat_map(|s| &s.nodes);
    let integrated = areas.iter().flat_map(Area::posts).map(|post| &post.station);
    let (variables, drawn) = variables(&plan, stations.iter().chain(swept).chain(integrated));
    let mut setup = Setup {
        tool: &tool,
        solver: rig.solver().clone(),
        forces: rig.forces().clone(),
        ask: rig.asked().clone(),
        plan,
        pace,
        stations,
        courses,
        sweeps,
        areas,
        targets,
        dies,
        drawn,
    };
    unread.extend(settle(&mut setup));
    let redundant = setup.solver.redundant();
    let runs = Runs::new(&setup, &variables);
    let sampling = Sampling {
        samples: runs.affordable(sampling)?,
        ..*sampling
    };
    let (findings, all_met) = runs.find(&sampling)?;
    let plan = setup.plan;
    Ok(Study {
        sampling,
        plan,
        findings,
        unread,
        all_met,
        redundant,
    })
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
