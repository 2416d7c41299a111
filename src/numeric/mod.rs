//! Mathematics that knows no mechanics: plain `f64` slices in and out.

pub mod angle;
pub mod blocks;
pub mod curve;
pub mod follow;
pub mod gauss;
pub mod least;
pub mod lu;
#[cfg(test)]
mod noise;
pub mod rank;
pub mod root;
pub mod scan;
pub mod segments;

pub use curve::Curve;

/// Sum of the products of two lists, as long as the shorter.
#[inline]
#[must_use]
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}
