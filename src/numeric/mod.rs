//! Mathematics that knows no mechanics: plain `f64` slices in and out.

pub mod angle;
pub mod blocks;
pub mod climb;
pub mod curve;
pub mod follow;
pub mod gauss;
pub mod halve;
pub mod least;
pub mod lu;
pub mod rank;
pub mod root;
pub mod segments;

pub use curve::Curve;
