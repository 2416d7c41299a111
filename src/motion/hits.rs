//! The places of the motion at which a target of the stroke is met.

use super::path::{Path, Waypoint};
use super::signal::Signal;
use super::solver::Solver;
use crate::model::JawId;

/// A place of the motion at which a target is met.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stop {
    /// Where on the path.
    pub spot: Waypoint,
    /// Arc length from the assembled position.
    pub place: f64,
    /// Handle angle as followed, rad.
    pub handle: f64,
    /// Gap of the jaw in view, mm.
    pub gap: f64,
    /// Gap of the jaw that closes on the stroke, mm.
    pub lead_gap: f64,
    /// Coordinates.
    pub q: Vec<f64>,
}

/// What was found of a target.
pub(super) struct Hits {
    /// Where it is met.
    pub stops: Vec<Stop>,
    /// What it speaks of, at every node.
    pub values: Vec<Option<f64>>,
    /// And where that turns round.
    pub extremes: Vec<f64>,
    /// It is met at places that could not be solved.
    pub lost: bool,
}

/// Extremes nearer than this (over the tool's size, or rad) to a target meet it.
const MEETS: f64 = 1e-9;

/// All places where `signal` is `value`, also where it only just touches it at an extreme.
/// `lengths` of the nodes from the assembled position.
pub(super) fn hits(
    path: &Path,
    solver: &mut Solver,
    lengths: &[f64],
    signal: Signal,
    value: f64,
) -> Hits {
    let mut signals = vec![signal];
    signals.extend(signal.rate());
    let mut columns = path.read(solver, &signals);
    let rates = if columns.len() > 1 {
        columns.pop().unwrap_or_default()
    } else {
        Vec::new()
    };
    let values = columns.pop().unwrap_or_default();
    let scale = if signal == Signal::Handle {
        1.0
    } else {
        solver.linkage.size
    };
    let mut extremes: Vec<(Waypoint, f64)> = Vec::new();
    if let Some(rate) = signal.rate() {
        for spot in path.zeros(solver, rate, &rates) {
            let tangent = path.stand_or_pass(solver, spot);
            extremes.push((spot, signal.read(solver, &tangent)));
        }
    }
    let mut spots = Vec::new();
    let mut lost = false;
    for level in levels(signal, value, &values) {
        for k in 0..path.nodes.len().saturating_sub(1) {
            let (Some(Some(a)), Some(Some(b))) = (values.get(k), values.get(k + 1)) else {
                continue;
            };
            let mut knots = vec![(0.0, a - level)];
            let inner = extremes.iter().filter(|(s, _)| s.node == k);
            knots.extend(inner.map(|(s, v)| {
                (
                    s.ahead,
                    if (v - level).abs() < MEETS * scale {
                        0.0
                    } else {
                        v - level
                    },
                )
            }));
            knots.push((path.reach(k), b - level));
            knots.sort_by(|p, q| p.0.total_cmp(&q.0));
            for pair in knots.windows(2) {
                let ((low, fa), (high, fb)) = (pair[0], pair[1]);
                if fa == 0.0 {
                    spots.push(Waypoint {
                        node: k,
                        ahead: low,
                    });
                } else if fb != 0.0 && (fa > 0.0) != (fb > 0.0) {
                    match path.root_between(solver, signal, level, k, [low, high]) {
                        Some(spot) => spots.push(spot),
                        None => lost = true,
                    }
                }
            }
        }
    }
    let mut stops = Vec::with_capacity(spots.len());
    for spot in spots {
        match (path.stand(solver, spot), lengths.get(spot.node)) {
            (Some(_), Some(length)) => stops.push(stop(solver, spot, length + spot.ahead)),
            _ => lost = true,
        }
    }
    Hits {
        stops,
        values,
        extremes: extremes.into_iter().map(|(_, v)| v).collect(),
        lost,
    }
}

/// The place where the solver stands.
fn stop(solver: &Solver, spot: Waypoint, place: f64) -> Stop {
    let linkage = &solver.linkage;
    Stop {
        spot,
        place,
        handle: linkage.handle(&solver.pose.q),
        gap: linkage.gap(&solver.pose, &linkage.jaws[JawId::FIRST]),
        lead_gap: linkage.gap(&solver.pose, &linkage.jaws[linkage.lead]),
        q: solver.pose.q.clone(),
    }
}

/// The values that meet a target: a handle angle is met modulo whole turns.
fn levels(signal: Signal, value: f64, values: &[Option<f64>]) -> Vec<f64> {
    if signal != Signal::Handle {
        return vec![value];
    }
    let turn = std::f64::consts::TAU;
    let low = values
        .iter()
        .flatten()
        .fold(f64::INFINITY, |a, &b| a.min(b));
    let high = values
        .iter()
        .flatten()
        .fold(f64::NEG_INFINITY, |a, &b| a.max(b));
    if !(low.is_finite() && high.is_finite()) {
        return vec![value];
    }
    let (first, last) = (
        ((low - value) / turn).floor() as i64,
        ((high - value) / turn).ceil() as i64,
    );
    (first..=last).map(|k| value + k as f64 * turn).collect()
}
