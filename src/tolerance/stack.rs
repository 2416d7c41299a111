//! Stacking up tolerances to first order: plain numbers.
//!
//! Worst case: every dimension at the end of its tolerance that hurts, Σ|d t|. Root-sum-square:
//! √Σ(d t)², the 3σ range of the measure when each tolerance is 3σ of its dimension, independent
//! of the others (K. W. Chase, "Basic Tools for Tolerance Analysis of Mechanical Assemblies",
//! *Manufacturing Engineering Handbook*, ch. 7).

/// A stack-up.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stack {
    /// Derivative times tolerance of each dimension, with the derivative's sign.
    pub shares: Vec<f64>,
    /// Worst case, ±.
    pub worst: f64,
    /// Root-sum-square, ±.
    pub root_sum_square: f64,
}

/// The stack-up of `derivatives` and `tolerances` (±), pair by pair.
#[must_use]
pub fn stack(derivatives: &[f64], tolerances: &[f64]) -> Stack {
    let shares: Vec<f64> = (derivatives.iter().zip(tolerances))
        .map(|(d, t)| d * t)
        .collect();
    Stack {
        worst: shares.iter().map(|s| s.abs()).sum(),
        root_sum_square: shares.iter().map(|s| s * s).sum::<f64>().sqrt(),
        shares,
    }
}
