//! The linkage true to scale, and the free bodies of its parts.
//!
//! `ink` is what lies on the paper; `tool`, `marks`, `forces`, `arms` and `travel` put it there, `labels` finds room
//! for the names, `ghosts` clears the earlier positions from below them, `moving` puts each part into a group for itself, `page` sets the positions side by side for
//! a page of the report; `sheets` and `sheet` put them on a standard sheet, which `paper` knows, with its `key` and title
//! `block`; `write` makes it SVG.

mod area;
mod arms;
mod bare;
mod block;
mod cams;
mod crowd;
mod forces;
mod ghosts;
mod hidden;
mod ink;
mod inside;
mod key;
mod labels;
mod marks;
mod moving;
mod outline;
mod over;
mod page;
mod paper;
mod picture;
mod sheet;
mod sheets;
mod slots;
mod stress;
mod table;
mod tool;
mod touch;
mod travel;
mod write;

pub use over::over_picture;
pub use paper::SCALES;
pub use picture::{Drawing, DrawingOptions, drawing_svg, scale_text};
pub use sheets::{Imprint, sheets};

pub(super) use moving::moving;
pub(super) use picture::{drawing_words, scale_within};
