//! What a curve does over an interval: looked at in given places first, closed in on afterwards.
//!
//! The caller gives the places, and with them what the curve does between two of them: its corners and
//! jumps, and places near enough to each other that it turns once at most, belong among them.

mod border;
mod climb;
mod passes;

pub use border::{border, first_border};
pub use climb::{Climb, climb};
pub use passes::{Knot, first_met, knots, passes, with_turns};

/// So many even steps from one end of an interval to the other, both among them.
pub fn even([from, to]: [f64; 2], steps: usize) -> impl Iterator<Item = f64> + Clone {
    (0..=steps).map(move |k| from + (to - from) * k as f64 / steps as f64)
}
