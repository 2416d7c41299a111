//! Friction, give and zero of the gap that fit the readings best.

use super::curve::{Bench, TrialError, Unknown};
use super::squares::{Minimum, least_squares};
use crate::model::{Direction, JointId};
use crate::motion::MotionError;

/// A value with its standard error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fitted {
    /// The value.
    pub value: f64,
    /// Its standard error; `None` for what was held.
    pub error: Option<f64>,
}

/// What fits the readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// One coefficient of friction for all pins that rub.
    pub friction: Fitted,
    /// What the tool gives, mm per N of jaw force.
    pub compliance: Fitted,
    /// What the measure of the gap shows at a gap of nothing, mm.
    pub zero: Fitted,
    /// Standard deviation of the readings about the fit, over themselves.
    pub scatter: f64,
    /// Sum of squares of the logarithms of measured over fitted force.
    pub squares: f64,
    /// Readings less unknowns.
    pub free: usize,
    /// Why compliance and zero were held at what is calculated; `None` where they were fitted.
    pub held: Option<Held>,
    /// Jaw force of the fit at every reading, N.
    pub forces: Vec<f64>,
    /// The same unknowns for a curve.
    pub unknown: Unknown,
    /// Small changes of compliance and zero, where these are not held.
    rest: Vec<f64>,
}

/// Why compliance and zero cannot be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// Readings of one direction do not part them from friction.
    OneWay,
    /// The force hardly changes over the gap: a shift of the gap is not seen in it.
    Flat,
}

/// A coefficient of friction for each pin.
#[derive(Debug, Clone, PartialEq)]
pub struct PerJoint {
    /// The pins.
    pub joints: Vec<(JointId, Fitted)>,
    /// How much better they fit than one for all, by the criterion of Schwarz: above [`DIFFER`] the readings tell
    /// the pins apart.
    pub better: f64,
}

/// Differences of the criterion of Schwarz from here on are strong evidence (G. Schwarz, "Estimating the dimension of
/// a model", Annals of Statistics 6 (1978), 461-464; the step of 10 from R. E. Kass and A. E. Raftery, "Bayes
/// factors", J. Am. Stat. Assoc. 90 (1995), 773-795; both from memory).
pub const DIFFER: f64 = 10.0;

impl PerJoint {
    /// Whether the readings show that the pins differ: they fit much better one by one, and two of them are apart by
    /// more than three times the error of their difference.
    #[must_use]
    pub fn differ(&self) -> bool {
        let apart = |a: &Fitted, b: &Fitted| {
            let errors = a.error.zip(b.error).map(|(a, b)| a.hypot(b));
            errors.is_some_and(|errors| (a.value - b.value).abs() > 3.0 * errors)
        };
        let pairs = |k: usize, a: &Fitted| {
            let others = self.joints.iter().skip(k + 1);
            others.map(|(_, b)| b).any(|b| apart(a, b))
        };
        let mut all = self.joints.iter().enumerate();
        self.better > DIFFER && all.any(|(k, (_, a))| pairs(k, a))
    }
}

/// Share of the readings' range of gaps that zero, or the give under the greatest force, may be uncertain by: one
/// that is less certain is not told. Our choice.
const TOLD: f64 = 0.25;

/// Fits the readings. `start`: friction of the file, and the give that is calculated, mm/N. Give and zero are held
/// where the readings cannot tell them, see [`Held`].
///
/// # Errors
/// [`TrialError`].
pub fn fit(bench: &Bench, start: (f64, f64)) -> Result<Fit, TrialError> {
    let both = [Direction::Closing, Direction::Opening]
        .iter()
        .all(|way| bench.points().iter().any(|point| point.direction == *way));
    if !both {
        return fit_with(bench, start, Some(Held::OneWay));
    }
    match fit_with(bench, start, None) {
        Ok(fit) if settles_all(bench, &fit) => Ok(fit),
        Ok(_) | Err(TrialError::Unsettled) => fit_with(bench, start, Some(Held::Flat)),
        Err(error) => Err(error),
    }
}

/// Range of the gaps of the readings, mm, and their greatest force, N.
fn measured(bench: &Bench) -> (f64, f64) {
    let points = bench.points();
    let gaps = || points.iter().map(|p| p.gap);
    let range = gaps().fold(f64::NEG_INFINITY, f64::max) - gaps().fold(f64::INFINITY, f64::min);
    let most = points.iter().map(|p| p.jaw_force).fold(0.0, f64::max);
    (range, most)
}

/// Whether the readings tell compliance and zero: both possible, and known to better than the range of the gaps.
fn settles_all(bench: &Bench, fit: &Fit) -> bool {
    let (range, most) = measured(bench);
    let sure = |of: Fitted, per: f64| {
        let error = of.error.unwrap_or(f64::INFINITY) * per;
        error <= TOLD * range && (of.value * per).abs() <= range
    };
    sure(fit.compliance, most) && sure(fit.zero, 1.0)
}

fn fit_with(bench: &Bench, start: (f64, f64), held: Option<Held>) -> Result<Fit, TrialError> {
    let points = bench.points();
    let unknowns = if held.is_none() { 3 } else { 1 };
    if points.len() < unknowns + 2 {
        return Err(TrialError::TooFew {
            readings: points.len(),
            least: unknowns + 2,
        });
    }
    let (friction, compliance) = (start.0.max(0.02), start.1.max(0.0));
    let of = |p: &[f64]| Unknown {
        friction: vec![p[0]; bench.joints.len()],
        compliance: p.get(1).copied().unwrap_or(compliance),
        zero: p.get(2).copied().unwrap_or(0.0),
    };
    let begin = of(&[friction]);
    if let Some(k) = bench.forces(&begin)?.iter().position(Option::is_none) {
        // With less friction it may have one.
        let none = bench.forces(&of(&[0.0]))?;
        if none.get(k).copied().flatten().is_none() {
            return Err(TrialError::NoForce(k));
        }
    }
    let (range, most) = measured(bench);
    let length = 0.1 * range.max(1e-3);
    let scales = [0.05, length / most, length];
    let (scale, least) = (
        &scales[..unknowns],
        [0.0, f64::NEG_INFINITY, f64::NEG_INFINITY],
    );
    let begin: Vec<f64> = [friction, compliance, 0.0][..unknowns].to_vec();
    let low: Vec<f64> = [0.0, friction].into();
    let mut found = None;
    for first in low {
        let mut from = begin.clone();
        from[0] = first;
        let one = least_squares(&from, scale, &least[..unknowns], |p| {
            residuals(bench, &of(p))
        })?;
        found = better(found, one);
    }
    let found = found.ok_or(TrialError::Unsettled)?;
    let unknown = of(&found.at);
    let forces = bench.forces(&unknown)?;
    let forces: Option<Vec<f64>> = forces.into_iter().collect();
    let squares: f64 = found.residuals.iter().map(|r| r * r).sum();
    let free = points.len() - unknowns;
    let fitted = |k: usize, held: f64| Fitted {
        value: found.at.get(k).copied().unwrap_or(held),
        error: found.errors.get(k).copied(),
    };
    Ok(Fit {
        friction: fitted(0, friction),
        compliance: fitted(1, compliance),
        zero: fitted(2, 0.0),
        scatter: (squares / free as f64).sqrt(),
        squares,
        free,
        held,
        forces: forces.ok_or(TrialError::Unsettled)?,
        rest: scale.get(1..).unwrap_or_default().to_vec(),
        unknown,
    })
}

/// Of two searches the one that came lower.
fn better(a: Option<Minimum>, b: Option<Minimum>) -> Option<Minimum> {
    let sum = |m: &Minimum| m.residuals.iter().map(|r| r * r).sum::<f64>();
    match (a, b) {
        (Some(a), Some(b)) => Some(if sum(&b) < sum(&a) { b } else { a }),
        (a, b) => a.or(b),
    }
}

/// Logarithm of measured over calculated force at every reading; `None` where one has no force.
fn residuals(bench: &Bench, unknown: &Unknown) -> Result<Option<Vec<f64>>, MotionError> {
    let forces = bench.forces(unknown)?;
    let pairs = bench.points().iter().zip(forces);
    Ok(pairs
        .map(|(point, force)| Some((point.jaw_force / force?).ln()))
        .collect())
}

/// A coefficient for each pin, beside what else is not known; `None` where only one rubs, or the readings do not
/// settle them.
///
/// # Errors
/// [`TrialError`].
pub fn pins(bench: &Bench, fit: &Fit) -> Result<Option<PerJoint>, TrialError> {
    let (common, squares, rest) = (&fit.unknown, fit.squares, fit.rest.as_slice());
    let (readings, joints) = (bench.points().len(), bench.joints.len());
    if joints < 2 || readings < joints + rest.len() + 2 {
        return Ok(None);
    }
    let of = |p: &[f64]| Unknown {
        friction: p.iter().take(joints).copied().collect(),
        compliance: p.get(joints).copied().unwrap_or(common.compliance),
        zero: p.get(joints + 1).copied().unwrap_or(common.zero),
    };
    let with = |pin: f64, of_rest: [f64; 2]| -> Vec<f64> {
        let pins = std::iter::repeat_n(pin, joints);
        pins.chain(of_rest.into_iter().take(rest.len())).collect()
    };
    let mut start = common.friction.clone();
    start.extend(
        [common.compliance, common.zero]
            .into_iter()
            .take(rest.len()),
    );
    let scale = with(
        0.05,
        [
            rest.first().copied().unwrap_or(1.0),
            rest.get(1).copied().unwrap_or(1.0),
        ],
    );
    let least = with(0.0, [f64::NEG_INFINITY; 2]);
    let found = least_squares(&start, &scale, &least, |p| residuals(bench, &of(p)))?;
    let Some(found) = found else { return Ok(None) };
    let left: f64 = found.residuals.iter().map(|r| r * r).sum();
    let n = readings as f64;
    let better = if left > 0.0 {
        n * (squares / left).ln() - (joints - 1) as f64 * n.ln()
    } else {
        0.0
    };
    let fitted = found.at.iter().zip(&found.errors).take(joints);
    let fitted = fitted.map(|(value, error)| Fitted {
        value: *value,
        error: Some(*error),
    });
    Ok(Some(PerJoint {
        joints: bench.joints.iter().copied().zip(fitted).collect(),
        better,
    }))
}
