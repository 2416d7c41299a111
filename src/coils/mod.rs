//! Springs wound of round wire: their rate, stress and room as functions of plain numbers, and the wires they are
//! wound of. Units mm, N, MPa (N/mm²), N mm, rad.
//!
//! A helical spring carries a force along its axis, which twists the wire; a torsion spring carries a moment about
//! its axis, which bends the wire.

mod helical;
mod repeated;
mod sizes;
mod torsion;
mod wire;

pub use helical::{CoilEnds, Helical, Seats};
pub use repeated::{Swing, repeated_factor};
pub use sizes::{INCH_WIRES, METRIC_WIRES};
pub use torsion::Torsion;
pub use wire::{Stress, Wire};
