//! The whole study: derivatives, stack-up, extremes, samples.
//!
//! Derivatives are exact where virtual work gives them ([`super::exact`]), else central differences
//! of measures read off tools that are solved anew, on the same storage as the samples.

use super::collect::Collector;
use super::cost::cost;
use super::error::StudyError;
use super::exact;
use super::fate::Fate;
use super::lanes::Area;
use super::nominal::settle;
use super::pilot::pilot;
use super::place::Station;
use super::plan::{Plan, Varied, plan};
use super::sample::{Sampling, Variable, sample};
use super::stack::stack;
use super::subject::{Hold, Subject};
use super::summary::{Summary, summary};
use super::unread::{Unread, as_drawn};
use super::worker::{Play, Setup, Worker};
use crate::analysis::{Analysis, with_grips};
use crate::model::{Bound, Direction};
use crate::statics::Rig;

impl Study {
    /// Whether the tool as drawn meets every demand.
    #[must_use]
    pub fn nominal_met(&self) -> bool {
        let unread = self.unread.iter().map(Unread::nominal_met);
        let mut all = self.findings.iter().map(|f| f.nominal_met).chain(unread);
        all.all(|met| met != Some(false))
    }
}

/// How a tool's measures move with its dimensions.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// The run of samples.
    pub sampling: Sampling,
    /// What varies.
    pub plan: Plan,
    /// One for each measure.
    pub findings: Vec<Finding>,
    /// What is not read off samples.
    pub unread: Vec<Unread>,
    /// Samples that meet every demand that was read; `None` without demands.
    pub all_met: Option<usize>,
    /// The tool has more bars than it needs: its samples would be strained, and are closed over as
    /// many equations as are independent.
    pub redundant: bool,
}

/// What was found of one measure, in internal units (mm, N, rad).
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Which measure.
    pub subject: Subject,
    /// What is held.
    pub hold: Hold,
    /// Its value on the tool as it is drawn, without play.
    pub nominal: f64,
    /// Whether that meets the demand.
    pub nominal_met: Option<bool>,
    /// The value with the play of loaded joints taken up.
    pub loaded: Result<f64, Fate>,
    /// One for each dimension of the plan, in its order.
    pub shares: Vec<Share>,
    /// Where their derivatives are exact, by virtual work: how far the differences are off, over the
    /// greatest derivative (as it is where all are zero). `None`: they are the differences.
    pub exact: Option<f64>,
    /// One for each clearance of the plan.
    pub clearances: Vec<Clearance>,
    /// Worst case to first order, ± about `loaded`.
    pub worst: f64,
    /// Root-sum-square, ± about `loaded`.
    pub root_sum_square: f64,
    /// The tool itself with every dimension at the end that lowers, that raises the measure.
    pub corners: [Result<f64, Fate>; 2],
    /// The samples that have a value; `None` where none has.
    pub summary: Option<Summary>,
    /// How many have none, for each of [`Fate::ALL`].
    pub failed: [usize; Fate::ALL.len()],
    /// How many meet the demand; those without a value do not.
    pub met: Option<usize>,
}

/// What one dimension does to one measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// Change of the measure per mm.
    pub derivative: f64,
    /// Derivative times tolerance, with the derivative's sign.
    pub share: f64,
}

/// What the clearance of one joint does to one measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Clearance {
    /// Taken up by load: shifts the measure by this; `None` where the measure then has no value.
    Shift(Option<f64>),
    /// Nothing loads the joint: anywhere within ± this.
    Random(f64),
}

/// Step of the differences over the tool's size: the square of it, and rounding over it, are both
/// far below what a share is read to.
const STEP: f64 = 2e-6;

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

type Values = Vec<Result<f64, Fate>>;

/// Runs of the workers, every answer brought to the exact nominal value.
struct Runs<'s, 'a> {
    setup: &'s Setup<'a>,
    variables: &'s [Variable],
    /// Deviations in all.
    width: usize,
    /// Read on the nominal tool with all play of loaded joints taken up.
    loaded: Values,
    /// What one sample costs, ns.
    cost: f64,
}

/// Most time of a study on one core, ns, where it chooses itself how many samples to draw.
const MOST_TIME: f64 = 1.2e10;
/// Fewest samples that say something.
const LEAST_SAMPLES: usize = 200;
/// Most numbers of all samples together: 300 MB.
const MOST_NUMBERS: usize = 20_000_000;

impl<'s, 'a> Runs<'s, 'a> {
    fn new(setup: &'s Setup<'a>, variables: &'s [Variable]) -> Self {
        let circles = variables
            .iter()
            .filter(|v| matches!(v, Variable::Circle(_)));
        let mut this = Self {
            setup,
            variables,
            width: variables.len() + circles.count(),
            loaded: Vec::new(),
            cost: 0.0,
        };
        let mut worker = Worker::new(setup);
        let zero = vec![0.0; this.width];
        this.loaded = this.evaluate(&mut worker, &zero, Play::All);
        let mut one = Worker::new(setup).roughly();
        let before = one.forces.factored();
        this.evaluate(&mut one, &zero, Play::All);
        this.cost = cost(setup, one.forces.factored() - before);
        this
    }

    /// How many samples to draw.
    fn affordable(&self, sampling: &Sampling) -> Result<usize, StudyError> {
        let (targets, clearances) = (self.setup.targets.len(), self.setup.plan.clearances.len());
        // Both sides of every deviation, every play, the corners of every measure.
        let before = (2 * self.width + clearances + 2 * targets) as f64;
        let affordable = (MOST_TIME / self.cost - before).max(0.0) as usize;
        if affordable < LEAST_SAMPLES {
            return Err(StudyError::TooManyMeasures(targets));
        }
        let most = MOST_NUMBERS / targets.max(1);
        if sampling.fewer {
            Ok(sampling.samples.min(affordable).min(most))
        } else if sampling.samples > most {
            Err(StudyError::TooManySamples { most })
        } else {
            Ok(sampling.samples)
        }
    }

    /// Brings what a worker has read to the exact nominal value.
    fn correct(&self, read: &mut [Result<f64, Fate>]) {
        for (out, target) in read.iter_mut().zip(&self.setup.targets) {
            *out = out.map(|value| value + target.correction);
        }
    }

    fn evaluate(&self, worker: &mut Worker, deviations: &[f64], play: Play) -> Values {
        let mut out = vec![Err(Fate::NoValue); self.setup.targets.len()];
        worker.evaluate(deviations, play, &mut out);
        self.correct(&mut out);
        out
    }

    /// Derivatives by every deviation, all play taken up: deviations × targets. One-sided where
    /// one side has no value, NaN where neither has.
    fn derivatives(&self, worker: &mut Worker) -> Vec<Vec<f64>> {
        let step = STEP * self.setup.solver.linkage.size;
        (0..self.width)
            .map(|k| {
                let mut side = |sign: f64| {
                    let mut deviations = vec![0.0; self.width];
                    deviations[k] = sign * step;
                    self.evaluate(worker, &deviations, Play::All)
                };
                let (up, down) = (side(1.0), side(-1.0));
                (up.iter().zip(&down).zip(&self.loaded))
                    .map(|((up, down), mid)| match (up, down, mid) {
                        (Ok(up), Ok(down), _) => (up - down) / (2.0 * step),
                        (Ok(up), Err(_), Ok(mid)) => (up - mid) / step,
                        (Err(_), Ok(down), Ok(mid)) => (mid - down) / step,
                        _ => f64::NAN,
                    })
                    .collect()
            })
            .collect()
    }

    fn find(&self, sampling: &Sampling) -> Result<(Vec<Finding>, Option<usize>), StudyError> {
        let setup = self.setup;
        let mut worker = Worker::new(setup);
        let derivatives = self.derivatives(&mut worker);
        let zero = vec![0.0; self.width];
        let only: Vec<Values> = (0..setup.plan.clearances.len())
            .map(|k| self.evaluate(&mut worker, &zero, Play::Only(k)))
            .collect();
        let count = setup.targets.len();
        let pilot = pilot(setup, self.variables, sampling).map_err(StudyError::Threads)?;
        let piloted = || match &pilot {
            Some(pilot) => Worker::new(setup).piloted(pilot),
            None => Worker::new(setup).roughly(),
        };
        let samples = sample(
            sampling,
            self.variables,
            &vec![Err(Fate::NoValue); count],
            piloted,
            |worker, deviations, out: &mut [Result<f64, Fate>]| {
                worker.evaluate(deviations, Play::All, out);
                self.correct(out);
            },
        )
        .map_err(StudyError::Threads)?;
        let mut findings = Vec::new();
        for target in 0..count {
            let mut row: Vec<f64> = derivatives.iter().map(|d| d[target]).collect();
            let exact = exact::derivatives(&mut worker, &setup.targets[target]);
            let off = exact.as_ref().map(|exact| off(&row, exact));
            for (own, exact) in row.iter_mut().zip(exact.iter().flatten()) {
                *own = *exact;
            }
            let column = samples.iter().skip(target).step_by(count).copied();
            let finding = self.finding(&mut worker, target, &row, &only, column);
            findings.push(Finding {
                exact: off,
                ..finding
            });
        }
        let bounds: Vec<Option<Bound>> = setup.targets.iter().map(|t| t.subject.bound).collect();
        let good = |sample: &&[Result<f64, Fate>]| {
            (sample.iter().zip(&bounds))
                .all(|(value, bound)| bound.is_none_or(|b| value.is_ok_and(|v| b.holds(v))))
        };
        let all_met = (bounds.iter().any(Option::is_some))
            .then(|| samples.chunks_exact(count).filter(good).count());
        Ok((findings, all_met))
    }

    fn finding(
        &self,
        worker: &mut Worker,
        target: usize,
        derivatives: &[f64],
        only: &[Values],
        samples: impl Iterator<Item = Result<f64, Fate>>,
    ) -> Finding {
        let (plan, own) = (&self.setup.plan, &self.setup.targets[target]);
        let dimensions = plan.varied.len();
        let tolerances: Vec<f64> = plan.varied.iter().map(|v| v.tolerance).collect();
        let mut stacked = stack(&derivatives[..dimensions], &tolerances);
        let shares: Vec<Share> = (derivatives.iter().zip(&stacked.shares))
            .map(|(&derivative, &share)| Share { derivative, share })
            .collect();
        // At the corner that raises the measure.
        let mut corner: Vec<f64> = (derivatives.iter().zip(&tolerances))
            .map(|(d, t)| if *d < 0.0 { -t } else { *t })
            .collect();
        corner.resize(self.width, 0.0);
        let mut clearances = Vec::new();
        for (k, &(_, radius)) in plan.clearances.iter().enumerate() {
            let at = self.setup.drawn.get(k).copied().flatten();
            let slope = at.map_or([0.0; 2], |at| [derivatives[at], derivatives[at + 1]]);
            let steep = slope[0].hypot(slope[1]);
            if let Some(at) = at
                && (steep > 0.0 || steep.is_nan())
            {
                let share = radius * steep;
                clearances.push(Clearance::Random(share));
                stacked.worst += share;
                stacked.root_sum_square = stacked.root_sum_square.hypot(share);
                if steep > 0.0 {
                    corner[at] = radius * slope[0] / steep;
                    corner[at + 1] = radius * slope[1] / steep;
                }
            } else {
                let moved = only.get(k).and_then(|values| values[target].ok());
                clearances.push(Clearance::Shift(moved.map(|moved| moved - own.nominal)));
            }
        }
        let other: Vec<f64> = corner.iter().map(|d| -d).collect();
        let corners = [&other, &corner].map(|c| self.evaluate(worker, c, Play::All)[target]);
        let mut failed = [0; Fate::ALL.len()];
        let mut met = 0;
        let bound = own.subject.bound;
        let mut values = Vec::new();
        for value in samples {
            match value {
                Ok(value) => {
                    met += usize::from(bound.is_some_and(|b| b.holds(value)));
                    values.push(value);
                }
                Err(fate) => failed[fate as usize] += 1,
            }
        }
        Finding {
            subject: own.subject.clone(),
            hold: own.hold,
            nominal: own.nominal,
            nominal_met: bound.map(|b| b.holds(own.nominal)),
            loaded: self.loaded[target],
            shares,
            exact: None,
            clearances,
            worst: stacked.worst,
            root_sum_square: stacked.root_sum_square,
            corners,
            summary: summary(&mut values),
            failed,
            met: bound.map(|_| met),
        }
    }
}

/// Greatest difference of two lists, over the greatest value of the second (as it is where that is
/// zero).
fn off(found: &[f64], exact: &[f64]) -> f64 {
    let scale = exact.iter().fold(0.0_f64, |m, d| m.max(d.abs()));
    let off = (found.iter().zip(exact)).fold(0.0_f64, |m, (a, b)| m.max((a - b).abs()));
    if scale > 0.0 { off / scale } else { off }
}
