//! The least and the greatest that a linkage can do of a quantity, and how they move with its
//! dimensions.

use super::assemble::assemble;
use super::path::Path;
use super::signal::Signal;
use super::solver::Solver;
use crate::mechanism::{Linkage, freedom};
use crate::model::Target;
use crate::numeric::follow::System;
use std::sync::Arc;

/// A place of the motion at which a quantity turns round.
#[derive(Debug, Clone, PartialEq)]
pub struct Extreme {
    /// The quantity there, mm or rad.
    pub value: f64,
    /// Coordinates there.
    pub q: Vec<f64>,
    /// Unit tangent of the motion there.
    pub t: Vec<f64>,
}

/// The least and the greatest of what `target` speaks of, over the whole motion of `linkage`, and
/// the number of positions that were looked at. `None` for an end where the motion stops before
/// the quantity turns round, and for a linkage without one degree of freedom.
#[must_use]
pub fn extremes(linkage: &Arc<Linkage>, target: Target) -> ([Option<Extreme>; 2], usize) {
    let Ok(pose) = assemble(linkage) else {
        return ([None, None], 0);
    };
    let freedom = freedom(linkage, &pose);
    let signal = Signal::of(linkage, target);
    let (1, Some(rate)) = (freedom.degrees, signal.rate()) else {
        return ([None, None], 0);
    };
    let mut solver = Solver::new(Arc::clone(linkage));
    let path = Path::trace(&mut solver, &pose.q, freedom);
    let columns = path.read(&mut solver, &[signal, rate]);
    let [values, rates] = columns.as_slice() else {
        return ([None, None], 0);
    };
    let mut found: Vec<Extreme> = Vec::new();
    for spot in path.zeros(&mut solver, rate, rates) {
        if let Some(t) = path.stand(&mut solver, spot) {
            found.push(Extreme {
                value: signal.read(&solver, &t),
                q: solver.pose.q.clone(),
                t,
            });
        }
    }
    let ends = [1.0, -1.0].map(|sense| {
        let best = found
            .iter()
            .min_by(|a, b| (sense * a.value).total_cmp(&(sense * b.value)))?;
        let beaten = |v: &f64| sense * v < sense * best.value - 1e-9 * linkage.size;
        (!values.iter().flatten().any(beaten)).then(|| best.clone())
    });
    (ends, path.nodes.len())
}

/// The quantity of `target` on `linkage`, whose dimensions differ a little from those of the
/// linkage that `extreme` was found on, near that place.
///
/// To first order this is the extreme of the changed linkage: the quantity does not change along
/// the motion there, so a position a little off is as good as the exact one (the envelope theorem).
#[must_use]
pub fn near_extreme(linkage: &Arc<Linkage>, target: Target, extreme: &Extreme) -> Option<f64> {
    if linkage.coordinates != extreme.q.len() {
        return None;
    }
    let mut solver = Solver::new(Arc::clone(linkage));
    solver.choose_rows(&extreme.q);
    let mut q = extreme.q.clone();
    let value: f64 = extreme.t.iter().zip(&q).map(|(a, b)| a * b).sum();
    if !solver.close(&mut q, &extreme.t, value) {
        return None;
    }
    let read = Signal::of(linkage, target).read(&solver, &extreme.t);
    read.is_finite().then_some(read)
}
