//! Runs of the workers: readings of tools with deviations, their differences, samples.

use super::choice::Choice;
use super::choose::{Moving, Seen, choose};
use super::cost::cost;
use super::error::StudyError;
use super::fate::Fate;
use super::sample::{Sampling, Variable, sample};
use super::target::{Kind, Target};
use super::worker::{Play, Setup, Worker};

/// Step of the differences over the tool's size: the square of it, and rounding over it, are both
/// far below what a share is read to.
const STEP: f64 = 2e-6;

pub(super) type Values = Vec<Result<f64, Fate>>;

/// Runs of the workers, every answer brought to the exact nominal value.
pub(super) struct Runs<'s, 'a> {
    pub(super) setup: &'s Setup<'a>,
    variables: &'s [Variable],
    /// Deviations in all.
    pub(super) width: usize,
    /// Read on the nominal tool with all play of loaded joints taken up.
    pub(super) loaded: Values,
    /// What samples are off for their rough rules, one for each target.
    off: Vec<f64>,
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
    pub(super) fn new(setup: &'s Setup<'a>, variables: &'s [Variable]) -> Self {
        let circles = variables
            .iter()
            .filter(|v| matches!(v, Variable::Circle(_)));
        let mut this = Self {
            setup,
            variables,
            width: variables.len() + circles.count(),
            loaded: Vec::new(),
            off: Vec::new(),
            cost: 0.0,
        };
        let mut worker = Worker::new(setup);
        let zero = vec![0.0; this.width];
        this.loaded = this.evaluate(&mut worker, &zero, Play::All);
        let mut one = Worker::new(setup).roughly();
        let before = one.forces.newton_steps();
        let roughly = this.evaluate(&mut one, &zero, Play::All);
        let off = |((target, exact), rough): ((&Target, _), _)| match (target.kind, exact, rough) {
            (Kind::Area { .. }, &Ok(exact), &Ok(rough)) => exact - rough,
            _ => 0.0_f64,
        };
        let targets = setup.targets.iter();
        this.off = targets.zip(&this.loaded).zip(&roughly).map(off).collect();
        this.cost = cost(setup, one.forces.newton_steps() - before);
        this
    }

    /// How many samples to draw, where as many studies share the time.
    pub(super) fn affordable(
        &self,
        sampling: &Sampling,
        studies: usize,
    ) -> Result<usize, StudyError> {
        let (targets, clearances) = (self.setup.targets.len(), self.setup.plan.clearances.len());
        // Both sides of every deviation, every play, the corners of every measure.
        let before = (2 * self.width + clearances + 2 * targets) as f64;
        let affordable = (MOST_TIME / studies as f64 / self.cost - before).max(0.0) as usize;
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

    pub(super) fn evaluate(&self, worker: &mut Worker, deviations: &[f64], play: Play) -> Values {
        let mut out = vec![Err(Fate::NoValue); self.setup.targets.len()];
        worker.evaluate(deviations, play, &mut out);
        self.correct(&mut out);
        out
    }

    /// The same, followed by what was read at the nodes of every sweep and where the work turns.
    pub(super) fn evaluate_all(&self, worker: &mut Worker, deviations: &[f64]) -> Values {
        let mut out = self.evaluate(worker, deviations, Play::All);
        for (curve, sweep) in worker.curves.iter().zip(&self.setup.sweeps) {
            let count = sweep.nodes.len() * sweep.measures.len();
            let read = curve
                .iter()
                .copied()
                .chain(std::iter::repeat(Err(Fate::NoValue)));
            out.extend(read.take(count));
        }
        out.extend(worker.turns.iter().map(|turn| turn.2));
        out
    }

    /// Derivatives of all that is read by every deviation, all play taken up: deviations × readings.
    /// One-sided where one side has no value, NaN where neither has.
    pub(super) fn derivatives(&self, worker: &mut Worker, mid: &Values) -> Vec<Vec<f64>> {
        let length = STEP * self.setup.solver.linkage.size;
        (0..self.width)
            .map(|k| {
                let varied = self.setup.plan.varied.get(k);
                let step = varied.map_or(length, |varied| varied.step(length));
                let mut side = |sign: f64| {
                    let mut deviations = vec![0.0; self.width];
                    deviations[k] = sign * step;
                    self.evaluate_all(worker, &deviations)
                };
                let (up, down) = (side(1.0), side(-1.0));
                (up.iter().zip(&down).zip(mid))
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

    /// Where samples are read.
    pub(super) fn choice(
        &self,
        worker: &mut Worker,
        sampling: &Sampling,
        mid: &Values,
        derivatives: &[Vec<f64>],
    ) -> Choice {
        self.evaluate_all(worker, &vec![0.0; self.width]);
        let slopes = |k: usize| {
            derivatives
                .iter()
                .map(move |d| d.get(k).copied().unwrap_or(f64::NAN))
        };
        let mut moving =
            (mid.iter().enumerate())
                .skip(self.setup.targets.len())
                .map(|(k, &value)| Moving {
                    value,
                    slopes: slopes(k).collect(),
                });
        let curves: Vec<Vec<Moving>> = (self.setup.sweeps.iter())
            .map(|sweep| {
                let count = sweep.nodes.len() * sweep.measures.len();
                moving.by_ref().take(count).collect()
            })
            .collect();
        let turns: Vec<Moving> = moving.collect();
        let seen = Seen {
            variables: self.variables,
            spread: sampling.spread,
            curves: &curves,
            turns: &turns,
        };
        choose(self.setup, worker, &seen)
    }

    /// Every target of every sample.
    pub(super) fn samples(
        &self,
        sampling: &Sampling,
        choice: Option<&Choice>,
    ) -> Result<Values, StudyError> {
        let setup = self.setup;
        let start = || match choice {
            Some(choice) => Worker::new(setup).chosen(choice),
            None => Worker::new(setup).roughly(),
        };
        let outputs = vec![Err(Fate::NoValue); setup.targets.len()];
        let evaluate = |worker: &mut Worker, deviations: &[f64], out: &mut [Result<f64, Fate>]| {
            worker.evaluate(deviations, Play::All, out);
            self.correct(out);
            for (out, off) in out.iter_mut().zip(&self.off) {
                *out = out.map(|value| value + off);
            }
        };
        let samples = sample(sampling, self.variables, &outputs, start, evaluate);
        samples.map_err(StudyError::Threads)
    }
}
