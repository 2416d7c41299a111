//! Keeps the worst of every check.

use super::cases::Case;
use super::formulas::Formula;
use super::result::{Factor, Input, Place, Subject};
use crate::model::JawId;
use crate::units::Quantity;

/// A result to be weighed against the worst so far.
#[derive(Debug, Clone, Copy)]
pub(super) struct Finding {
    pub subject: Subject,
    pub formula: Formula,
    /// Stress (MPa) or compression (N).
    pub value: f64,
    pub allowable: f64,
    pub against: &'static str,
    pub quantity: Quantity,
    pub place: Option<Place>,
}

/// The worst of every check so far, with the load at each jaw.
#[derive(Debug, Clone, Default)]
pub(super) struct Ledger {
    worst: Vec<Factor>,
    /// Subjects with a value that is no number.
    pub bad: Vec<Subject>,
}

impl Ledger {
    /// Keeps the finding if it is the worst of its check. Nothing is kept of what carries no load.
    pub(super) fn offer(
        &mut self,
        case: &Case<'_>,
        finding: Finding,
        inputs: impl FnOnce() -> Vec<Input>,
    ) {
        if !finding.value.is_finite() || !finding.allowable.is_finite() {
            self.not_a_number(finding.subject);
            return;
        }
        let factor = finding.allowable / finding.value;
        // A value of zero, or so small that the quotient overflows: no load to speak of.
        if finding.value <= 0.0 || !factor.is_finite() {
            return;
        }
        let known = self.worst.iter_mut().find(|f| {
            f.jaw == case.jaw && f.subject == finding.subject && f.formula == finding.formula
        });
        if known.as_ref().is_some_and(|f| f.factor <= factor) {
            return;
        }
        let new = Factor {
            subject: finding.subject,
            name: String::new(),
            formula: finding.formula,
            inputs: inputs(),
            value: finding.value,
            allowable: finding.allowable,
            quantity: finding.quantity,
            against: finding.against,
            factor,
            place: finding.place,
            position: case.position,
            jaw: case.jaw,
            grip: case.grip,
            load: case.load,
            hand_force: case.hand_force,
        };
        match known {
            Some(known) => *known = new,
            None => self.worst.push(new),
        }
    }

    /// Keeps in mind that a subject had a value that is no number.
    pub(super) fn not_a_number(&mut self, subject: Subject) {
        if !self.bad.contains(&subject) {
            self.bad.push(subject);
        }
    }

    /// Indices of the positions at which they are with the load at this jaw.
    pub(super) fn positions(&self, jaw: JawId) -> impl Iterator<Item = usize> {
        let worst = self.worst.iter().filter(move |factor| factor.jaw == jaw);
        worst.map(|factor| factor.position)
    }

    /// The least factor so far.
    pub(super) fn least(&self) -> Option<f64> {
        self.worst.iter().map(|found| found.factor).reduce(f64::min)
    }

    /// The worst of every check, whichever jaw carries the load; least factor first.
    pub(super) fn finish(mut self, name: impl Fn(Subject) -> String) -> Vec<Factor> {
        for factor in &mut self.worst {
            factor.name = name(factor.subject);
        }
        self.worst.sort_by(|a, b| a.factor.total_cmp(&b.factor));
        let mut kept: Vec<Factor> = Vec::with_capacity(self.worst.len());
        for factor in self.worst {
            let same = |k: &Factor| k.subject == factor.subject && k.formula == factor.formula;
            if !kept.iter().any(same) {
                kept.push(factor);
            }
        }
        kept
    }
}

/// A length among the inputs.
pub(super) fn length(symbol: &'static str, value: f64) -> Input {
    Input {
        symbol,
        value,
        quantity: Some(Quantity::Length),
    }
}

/// A force among the inputs.
pub(super) fn force(symbol: &'static str, value: f64) -> Input {
    Input {
        symbol,
        value,
        quantity: Some(Quantity::Force),
    }
}

/// A moment among the inputs.
pub(super) fn torque(symbol: &'static str, value: f64) -> Input {
    Input {
        symbol,
        value,
        quantity: Some(Quantity::Torque),
    }
}

/// A stress among the inputs.
pub(super) fn stress(symbol: &'static str, value: f64) -> Input {
    Input {
        symbol,
        value,
        quantity: Some(Quantity::Stress),
    }
}

/// An area among the inputs.
pub(super) fn area(symbol: &'static str, value: f64) -> Input {
    Input {
        symbol,
        value,
        quantity: Some(Quantity::Area),
    }
}

/// A second moment of area among the inputs.
pub(super) fn second_moment(symbol: &'static str, value: f64) -> Input {
    Input {
        symbol,
        value,
        quantity: Some(Quantity::SecondMoment),
    }
}

/// A plain number among the inputs.
pub(super) fn number(symbol: &'static str, value: f64) -> Input {
    Input {
        symbol,
        value,
        quantity: None,
    }
}
