//! One number read off a solved stroke: the vocabulary that demands, comparing, tolerances and
//! tuning share, and the one evaluator that reads it.
//!
//! Positions are found exactly, as roots on the motion, never taken from the nearest sample;
//! peaks are refined between samples.

mod demands;
mod integrals;
mod name;
mod read;

pub use demands::{Outcome, demands, with_grips};
pub use name::{Measure, MeasureError};
pub use read::{Place, Reader, Reading};
