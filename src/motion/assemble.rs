//! Putting the linkage together from its sketch.

use crate::mechanism::{Kind, Linkage, Pose};
use crate::model::JointId;
use nalgebra::{Cholesky, DMatrix, DVector};

/// A loop that would not close.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenLoop {
    /// The joint that is furthest apart, as an index into [`Linkage::joints`].
    pub joint: JointId,
    /// Distance left there, mm.
    pub distance: f64,
}

/// Closes the loops from the sketched coordinates with the least change: damped least squares
/// (Levenberg 1944, Marquardt 1963) in its minimum-norm form, dq = −Jᵀ (J Jᵀ + μ I)⁻¹ r, which
/// also holds with redundant equations.
///
/// # Errors
/// The joint that stays open, where the least distance found is not zero.
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
    Err(open_loop(linkage, &residual))
}

/// The joint with the greatest residual.
fn open_loop(linkage: &Linkage, residual: &[f64]) -> OpenLoop {
    let mut open = OpenLoop {
        joint: JointId::FIRST,
        distance: 0.0,
    };
    let mut greatest = f64::NEG_INFINITY;
    for &joint in &linkage.closing {
        let own = &residual[linkage.joints[joint].rows()];
        let most = own.iter().fold(0.0, |most, r| r.abs().max(most));
        if most > greatest {
            greatest = most;
            open = OpenLoop {
                joint,
                distance: linkage.joints[joint].apart(own),
            };
        }
    }
    open
}
