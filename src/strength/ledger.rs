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
    /// Which stretch of a border it is on, of a check that keeps a worst for each; else 0.
    pub stretch: usize,
}

/// The worst of every check so far, with the load at each jaw.
#[derive(Debug, Clone, Default)]
pub(super) struct Ledger {
    /// With their stretches.
    worst: Vec<(usize, Factor)>,
    /// Subjects with a value that is no number.
    pub bad: Vec<Subject>,
    /// The least factor so far, where nothing else is wanted.
    least_alone: Option<f64>,
}

impl Ledger {
    /// One that keeps the least factor alone.
    pub(super) fn of_the_least() -> Self {
        Self {
            least_alone: Some(f64::INFINITY),
            ..Self::default()
        }
    }

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
        if let Some(least) = &mut self.least_alone {
            *least = least.min(factor);
            return;
        }
        let known = self.worst.iter_mut().find(|(stretch, f)| {
            f.jaw == case.jaw
                && f.subject == finding.subject
                && f.formula == finding.formula
                && *stretch == finding.stretch
        });
        if known.as_ref().is_some_and(|(_, f)| f.factor <= factor) {
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
            Some((_, known)) => *known = new,
            None => self.worst.push((finding.stretch, new)),
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
        // Of a check that keeps several, the least tells where to look closer: others are near it, or matter less.
        let least = move |k: &usize| {
            let (_, own) = &self.worst[*k];
            let same =
                |f: &Factor| f.jaw == jaw && f.subject == own.subject && f.formula == own.formula;
            let mut others = self.worst.iter().enumerate();
            own.jaw == jaw
                && others.all(|(j, (_, f))| {
                    !same(f) || f.factor > own.factor || (f.factor == own.factor && j >= *k)
                })
        };
        let all = (0..self.worst.len()).filter(least);
        all.map(|k| self.worst[k].1.position)
    }

    /// The least factor so far.
    pub(super) fn least(&self) -> Option<f64> {
        if let Some(least) = self.least_alone {
            return least.is_finite().then_some(least);
        }
        let all = self.worst.iter().map(|(_, found)| found.factor);
        all.reduce(f64::min)
    }

    /// The worst of every check, whichever jaw carries the load; least factor first.
    pub(super) fn finish(mut self, name: impl Fn(Subject) -> String) -> Vec<Factor> {
        for (_, factor) in &mut self.worst {
            factor.name = name(factor.subject);
        }
        self.worst
            .sort_by(|(_, a), (_, b)| a.factor.total_cmp(&b.factor));
        let mut kept: Vec<Factor> = Vec::with_capacity(self.worst.len());
        for (_, factor) in self.worst {
            let same = |k: &&Factor| k.subject == factor.subject && k.formula == factor.formula;
            let first = !kept.iter().any(|k| same(&k));
            if first || is_place_of_its_own(&factor, &kept) {
                kept.push(factor);
            }
        }
        kept
    }
}

/// Further cuts told of a part beside the worst of each check.
const MORE: usize = 3;
/// Those whose factor is more than so many times the part's least at a cut are not worth telling.
const WORTH: f64 = 2.0;

/// Whether a cut is told beside the worst one of its check: nearly as bad, and not the same neck of the plate as one
/// that is told already.
fn is_place_of_its_own(factor: &Factor, kept: &[Factor]) -> bool {
    let Some(Place::Cut(ends)) = factor.place else {
        return false;
    };
    let own = kept.iter().filter(|k| k.subject == factor.subject);
    let cuts: Vec<(&Factor, [[f64; 2]; 2])> = own
        .filter_map(|k| match k.place {
            Some(Place::Cut(ends)) => Some((k, ends)),
            _ => None,
        })
        .collect();
    let apart = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    let depth = apart(ends[0], ends[1]);
    let clear = |(_, known): &(&Factor, [[f64; 2]; 2])| {
        let pairs = ends
            .iter()
            .flat_map(|a| known.iter().map(|b| apart(*a, *b)));
        pairs.fold(f64::INFINITY, f64::min) > depth
    };
    let least = cuts.first().map_or(f64::INFINITY, |(k, _)| k.factor);
    cuts.len() < 2 + MORE && factor.factor <= WORTH * least && cuts.iter().all(clear)
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
