//! Mathematics that knows no mechanics: plain `f64` slices in and out.

pub mod angle;
pub mod blocks;
pub mod curve;
pub mod face;
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
pub use face::{Face, Touch};

/// The greatest size of any number of a list, at least `least`; what is no number does not count.
#[inline]
#[must_use]
pub fn greatest(least: f64, list: &[f64]) -> f64 {
    // The comparison, unlike `f64::max`, is one machine instruction.
    let larger = |most: f64, x: &f64| if x.abs() > most { x.abs() } else { most };
    list.iter().fold(least, larger)
}

/// Sum of the products of two lists, as long as the shorter.
#[inline]
#[must_use]
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}
