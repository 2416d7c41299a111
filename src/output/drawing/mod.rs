//! The linkage true to scale, and the free bodies of its parts.
//!
//! `ink` is what lies on the paper; `tool`, `marks` and `forces` put it there, `labels` finds room
//! for the names, `moving` puts each part into a group for itself, `page` sets the positions side by side on
//! the sheet that `paper` knows, and `write` makes it SVG.

mod cams;
mod forces;
mod ink;
mod labels;
mod marks;
mod moving;
mod outline;
mod page;
mod paper;
mod picture;
mod slots;
mod stress;
mod table;
mod tool;
mod touch;
mod write;

pub use paper::SCALES;
pub use picture::{Drawing, DrawingOptions, drawing, drawing_svg, scale_text};

pub(super) use forces::greatest;
pub(super) use moving::moving;
pub(super) use picture::standard_scale;
