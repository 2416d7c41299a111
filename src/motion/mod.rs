//! Where every part is along the stroke: assembly, the motion curve, toggles, targets, and the
//! positions of the stroke.

mod advice;
mod assemble;
mod beyond;
mod candidate;
mod choice;
mod error;
mod events;
mod extremes;
mod gradients;
mod hits;
mod margin;
mod meets;
mod path;
mod pushed_open;
mod signal;
mod solver;
mod stroke;
mod targets;
mod walk;

pub use advice::{Change, changes};
pub use assemble::{OpenLoop, assemble};
pub use beyond::Beyond;
pub use candidate::{Candidate, Mark, Refusal};
pub use error::{MotionError, Reach};
pub use events::{Event, Happening};
pub use extremes::{Extreme, extremes, near_extreme};
pub use margin::Margin;
pub use meets::{Meeting, first_meeting, off_face_at_open, past_at_open, reached, spots, stop_met};
pub use path::{Path, Waypoint};
pub use pushed_open::{PushedOpen, Spread};
pub use signal::Signal;
pub use solver::{CLOSED, Solver};
pub use stroke::{Stance, Stroke};
pub use targets::{Survey, outwards, survey};
pub use walk::Walk;
