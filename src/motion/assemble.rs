//! Putting the linkage together from its sketch.

use crate::mechanism::{Linkage, Pose};
use nalgebra::{Cholesky, DMatrix, DVector};

/// A loop that would not close.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenLoop {
    /// The closure equation with the greatest residual.
    pub row: usize,
    /// Distance left there, mm.
    pub distance: f64,
}

/// Closes the loops from the sketched coordinates with the least change: damped least squares
/// (Levenberg 1944, Marquardt 1963) in its minimum-norm form, dq = −Jᵀ (J Jᵀ + μ I)⁻¹ r, which
/// also holds with redundant equations.
///
/// # Errors
/// The equation that stays open, where the least distance found is not zero.
pub fn assemble(linkage: &Linkage) -> Result<Pose, OpenLoop> {
    let (m, n) = (linkage.equations, linkage.coordinates);
    let mut pose = Pose::new(linkage);
    if m == 0 {
        return Ok(pose);
    }
    let mut residual = vec![0.0; m];
    let mut jacobian = vec![0.0; m * n];
    linkage.residual(&pose, &mut residual);
    let size = linkage.size;
    let norm = |r: &[f64]| r.iter().map(|v| v * v).sum::<f64>().sqrt() / size;
    let mut error = norm(&residual);
    let mut damping = 1e-3;
    let mut trial = pose.clone();
    for _ in 0..400 {
        if error < 1e-15 || !error.is_finite() {
            break;
        }
        linkage.jacobian(&pose, &mut jacobian);
        let j = DMatrix::from_row_slice(m, n, &jacobian) / size;
        let r = DVector::from_column_slice(&residual) / size;
        // Damping vanishes with the residual, so that the last steps are Newton's.
        let mu = (damping * error * error.min(1.0)).max(1e-16);
        let normal = &j * j.transpose() + DMatrix::identity(m, m) * mu;
        let Some(factors) = Cholesky::new(normal) else {
            damping *= 100.0;
            continue;
        };
        let step = j.transpose() * factors.solve(&r);
        // A step longer than a quarter turn says little about where the loop closes.
        let scale = (0.8 / step.norm()).min(1.0);
        for (k, q) in trial.q.iter_mut().enumerate() {
            *q = pose.q[k] - scale * step[k];
        }
        trial.update(linkage);
        linkage.residual(&trial, &mut residual);
        let now = norm(&residual);
        if now < error {
            let slow = now > 0.999_999 * error && now < 1e-12;
            std::mem::swap(&mut pose, &mut trial);
            error = now;
            damping = (damping * 0.2).max(1e-12);
            if slow {
                break;
            }
        } else {
            if error < 1e-13 || damping > 1e12 {
                break;
            }
            damping *= 8.0;
        }
        linkage.residual(&pose, &mut residual);
    }
    if error < 1e-10 {
        return Ok(pose);
    }
    linkage.residual(&pose, &mut residual);
    let row = (0..m).fold(0, |worst, k| {
        if residual[k].abs() > residual[worst].abs() {
            k
        } else {
            worst
        }
    });
    Err(OpenLoop {
        row,
        distance: distance(linkage, row, &residual),
    })
}

/// Distance left at the joint of an equation: both components of a cut pin together.
fn distance(linkage: &Linkage, row: usize, residual: &[f64]) -> f64 {
    let joint_row = linkage.cuts.len() * 2;
    if row < joint_row {
        let first = row - row % 2;
        residual[first].hypot(residual[first + 1])
    } else {
        residual[row].abs()
    }
}
