//! Least squares by Levenberg and Marquardt, with the covariance at the minimum.
//!
//! Source: D. W. Marquardt, "An algorithm for least-squares estimation of nonlinear parameters", J. SIAM 11 (1963),
//! 431-441 (from memory).

use nalgebra::{DMatrix, DVector};

/// A minimum.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Minimum {
    pub(super) at: Vec<f64>,
    /// Of each, by the scatter of the residuals.
    pub(super) errors: Vec<f64>,
    pub(super) residuals: Vec<f64>,
}

/// Steps at most.
const STEPS: usize = 60;
/// A step that is less than this of the scales ends the search.
const SMALL: f64 = 1e-9;
/// Least eigenvalue of the scaled normal matrix over its greatest: below, the unknowns are not settled.
const FLAT: f64 = 1e-10;

/// The unknowns, each at least `least`, from `start`, by which the residuals are least; `scale` is what is a small
/// change of each. `None` where `residuals` has no value at the start, or the unknowns are not settled.
pub(super) fn least_squares<E>(
    start: &[f64],
    scale: &[f64],
    least: &[f64],
    mut residuals: impl FnMut(&[f64]) -> Result<Option<Vec<f64>>, E>,
) -> Result<Option<Minimum>, E> {
    let count = start.len();
    let mut at = start.to_vec();
    let Some(mut here) = residuals(&at)? else {
        return Ok(None);
    };
    let sum = |r: &[f64]| r.iter().map(|v| v * v).sum::<f64>();
    let mut damping = 1e-3;
    let mut slopes = DMatrix::zeros(here.len(), count);
    for _ in 0..STEPS {
        let Some(found) = jacobian(&at, scale, least, &here, &mut residuals)? else {
            return Ok(None);
        };
        slopes = found;
        let normal = slopes.transpose() * &slopes;
        let gradient = slopes.transpose() * DVector::from_column_slice(&here);
        let mut moved = None;
        for _ in 0..12 {
            let mut damped = normal.clone();
            for k in 0..count {
                damped[(k, k)] += damping * normal[(k, k)].max(1e-30);
            }
            let Some(solved) = damped.cholesky().map(|c| c.solve(&gradient)) else {
                damping *= 10.0;
                continue;
            };
            let next: Vec<f64> = (0..count)
                .map(|k| (at[k] - solved[k] * scale[k]).max(least[k]))
                .collect();
            match residuals(&next)? {
                Some(there) if sum(&there) <= sum(&here) => {
                    damping = (damping * 0.2).max(1e-12);
                    moved = Some((next, there));
                    break;
                }
                _ => damping *= 10.0,
            }
        }
        let Some((next, there)) = moved else { break };
        let step = (0..count).map(|k| ((next[k] - at[k]) / scale[k]).abs());
        let step = step.fold(0.0, f64::max);
        at = next;
        here = there;
        if step < SMALL {
            break;
        }
    }
    let normal = slopes.transpose() * &slopes;
    let values = normal.clone().symmetric_eigenvalues();
    if !(values.min() > FLAT * values.max()) {
        return Ok(None);
    }
    let Some(inverse) = normal.try_inverse() else {
        return Ok(None);
    };
    let free = here.len().saturating_sub(count).max(1) as f64;
    let scatter = sum(&here) / free;
    let errors = (0..count).map(|k| (scatter * inverse[(k, k)]).sqrt() * scale[k]);
    Ok(Some(Minimum {
        errors: errors.collect(),
        at,
        residuals: here,
    }))
}

/// Changes of the residuals with each unknown over its scale, by differences.
fn jacobian<E>(
    at: &[f64],
    scale: &[f64],
    least: &[f64],
    here: &[f64],
    residuals: &mut impl FnMut(&[f64]) -> Result<Option<Vec<f64>>, E>,
) -> Result<Option<DMatrix<f64>>, E> {
    const STEP: f64 = 1e-3;
    let mut slopes = DMatrix::zeros(here.len(), at.len());
    for k in 0..at.len() {
        let mut one = |by: f64| {
            let mut moved = at.to_vec();
            moved[k] += by * scale[k];
            residuals(&moved)
        };
        let back = at[k] - STEP * scale[k] >= least[k];
        let ahead = one(STEP)?;
        let behind = if back { one(-STEP)? } else { None };
        let (Some(high), low, width) = (match (ahead, behind) {
            (Some(high), Some(low)) => (Some(high), low, 2.0 * STEP),
            (Some(high), None) => (Some(high), here.to_vec(), STEP),
            (None, Some(low)) => (Some(here.to_vec()), low, STEP),
            (None, None) => (None, Vec::new(), STEP),
        }) else {
            return Ok(None);
        };
        for (i, (high, low)) in high.iter().zip(&low).enumerate() {
            slopes[(i, k)] = (high - low) / width;
        }
    }
    Ok(Some(slopes))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A straight line through 2, 3, 5, 7, 9 and 4, 5, 7, 10, 15: slope 1.5183, intercept 0.3049 (Mechanical
    /// Measurements, lecture slides, arietiform 500841179).
    #[test]
    fn a_straight_line() {
        let (x, y) = ([2.0, 3.0, 5.0, 7.0, 9.0], [4.0, 5.0, 7.0, 10.0, 15.0]);
        let fit = |p: &[f64]| -> Result<Option<Vec<f64>>, ()> {
            Ok(Some(
                x.iter().zip(y).map(|(x, y)| p[0] * x + p[1] - y).collect(),
            ))
        };
        let found = least_squares(&[1.0, 0.0], &[1.0, 1.0], &[f64::NEG_INFINITY; 2], fit);
        let found = found.unwrap().unwrap();
        assert!((found.at[0] - 1.5183).abs() < 5e-5, "{:?}", found.at);
        assert!((found.at[1] - 0.3049).abs() < 5e-5, "{:?}", found.at);
        // The error of the slope by its own formula: s / sqrt(sum of squares about the mean).
        let mean = x.iter().sum::<f64>() / 5.0;
        let about: f64 = x.iter().map(|x| (x - mean) * (x - mean)).sum();
        let s = found.residuals.iter().map(|r| r * r).sum::<f64>() / 3.0;
        assert!((found.errors[0] - (s / about).sqrt()).abs() < 1e-6);
    }

    #[test]
    fn what_is_not_settled_has_no_minimum() {
        let fit = |p: &[f64]| -> Result<Option<Vec<f64>>, ()> {
            Ok(Some(vec![
                p[0] + p[1] - 1.0,
                2.0 * (p[0] + p[1]) - 2.0,
                0.1,
            ]))
        };
        let found = least_squares(&[0.0, 0.0], &[1.0, 1.0], &[f64::NEG_INFINITY; 2], fit);
        assert_eq!(found.unwrap(), None);
    }
}
