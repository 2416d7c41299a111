//! Where every part is along the stroke: assembly, the motion curve, toggles, targets, and the
//! positions of the stroke.

mod assemble;
mod error;
mod path;
mod signal;
mod solver;
mod stroke;
mod targets;

pub use assemble::{OpenLoop, assemble};
pub(crate) use error::number;
pub use error::{MotionError, Quantity, Reach};
pub use path::{Path, Spot};
pub use signal::Signal;
pub use solver::{CLOSED, Solver};
pub use stroke::{Stance, Stroke, Walk};
pub use targets::{Event, Happening, Survey, survey};
