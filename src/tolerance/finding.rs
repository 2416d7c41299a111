//! What is found of the measures: stack-up, corners, samples.
//!
//! Derivatives are exact where virtual work gives them ([`super::exact`]), else central differences.

use super::choose::READ_IN_PART;
use super::error::StudyError;
use super::exact;
use super::fate::Fate;
use super::runs::{Runs, Values};
use super::sample::Sampling;
use super::stack::stack;
use super::study::{Clearance, Finding, Share};
use super::summary::summary;
use super::target::Kind;
use super::worker::{Play, Worker};
use crate::model::Bound;

/// What is found in the view of one jaw.
pub(super) type Found = (Vec<(Finding, Option<Values>)>, Option<Vec<bool>>);

impl Runs<'_, '_> {
    /// What is found of every target, with the samples of those that other jaws may be less at; and of each
    /// sample whether it meets all demands, `None` without any.
    pub(super) fn find(&self, sampling: &Sampling) -> Result<Found, StudyError> {
        let setup = self.setup;
        let mut worker = Worker::new(setup);
        let zero = vec![0.0; self.width];
        let mid = self.evaluate_all(&mut worker, &zero);
        let derivatives = self.derivatives(&mut worker, &mid);
        let only: Vec<Values> = (0..setup.plan.clearances.len())
            .map(|k| self.evaluate(&mut worker, &zero, Play::Only(k)))
            .collect();
        let choice = (sampling.samples >= READ_IN_PART)
            .then(|| self.choice(&mut worker, sampling, &mid, &derivatives));
        let samples = self.samples(sampling, choice.as_ref())?;
        let count = setup.targets.len();
        let mut findings = Vec::new();
        for target in 0..count {
            let mut row: Vec<f64> = derivatives.iter().map(|d| d[target]).collect();
            let exact = exact::derivatives(&mut worker, &setup.targets[target]);
            let off = exact.as_ref().map(|exact| off(&row, exact));
            for (own, exact) in row.iter_mut().zip(exact.iter().flatten()) {
                *own = *exact;
            }
            let column = samples.iter().skip(target).step_by(count).copied();
            let finding = self.finding(&mut worker, target, &row, &only, column.clone());
            let finding = Finding {
                exact: off,
                ..finding
            };
            let kept = setup.targets[target].kind == Kind::Least;
            findings.push((finding, kept.then(|| column.collect())));
        }
        let bounds: Vec<Option<Bound>> = setup.targets.iter().map(|t| t.subject.bound).collect();
        let good = |sample: &[Result<f64, Fate>]| {
            (sample.iter().zip(&bounds))
                .all(|(value, bound)| bound.is_none_or(|b| value.is_ok_and(|v| b.holds(v))))
        };
        let all_met = (bounds.iter().any(Option::is_some))
            .then(|| samples.chunks_exact(count).map(good).collect());
        Ok((findings, all_met))
    }

    /// What is found of a target: `derivatives` by every deviation, `only` with the play of each clearance
    /// alone taken up.
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
        let bound = own.subject.bound;
        let finding = Finding {
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
            summary: None,
            failed: [0; Fate::ALL.len()],
            met: None,
        };
        finding.counted(samples)
    }
}

impl Finding {
    /// The same with these samples.
    fn counted(mut self, samples: impl Iterator<Item = Result<f64, Fate>>) -> Self {
        let bound = self.subject.bound;
        let (mut met, mut values) = (0, Vec::new());
        self.failed = [0; Fate::ALL.len()];
        for value in samples {
            match value {
                Ok(value) => {
                    met += usize::from(bound.is_some_and(|b| b.holds(value)));
                    values.push(value);
                }
                Err(fate) => self.failed[fate as usize] += 1,
            }
        }
        self.summary = summary(&mut values);
        self.met = bound.map(|_| met);
        self
    }

    /// The least of this and another, of the same made tools with the load in another jaw: all but the
    /// samples are those of the one that is less on the drawn tool.
    pub(super) fn or_less(self, column: &mut Values, (other, more): (Self, &Values)) -> Self {
        for (own, other) in column.iter_mut().zip(more) {
            *own = own.and_then(|own| other.map(|other| own.min(other)));
        }
        let less = other.nominal < self.nominal;
        let base = if less { other } else { self };
        base.counted(column.iter().copied())
    }
}

/// Greatest difference of two lists, over the greatest value of the second (as it is where that is
/// zero).
fn off(found: &[f64], exact: &[f64]) -> f64 {
    let scale = exact.iter().fold(0.0_f64, |m, d| m.max(d.abs()));
    let off = (found.iter().zip(exact)).fold(0.0_f64, |m, (a, b)| m.max((a - b).abs()));
    if scale > 0.0 { off / scale } else { off }
}
