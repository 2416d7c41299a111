//! Mechanisms with a closed-form answer, built as tools.

pub mod build;
pub mod four_bar;
pub mod slider_crank;
