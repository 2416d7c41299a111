//! Sparse square systems cut into blocks that are solved one after the other.
//!
//! The structure is found once ([`Plan`]), the numbers change at every position ([`Factors`]).

mod factors;
mod order;
mod plan;

pub use factors::Factors;
pub use order::{Order, order};
pub use plan::Plan;
