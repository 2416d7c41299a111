//! The design review as one self-contained HTML page: nothing is fetched, and it reads and prints
//! without scripts.
//!
//! The page is a template that knows only text; what stands in it comes from the same functions as
//! the terminal's tables and sentences.

mod first;
mod first_page;
mod loads;
mod motion;
mod motion_page;
mod page;
mod plates;
mod points;
mod setup;
mod spans;
mod stroke;
mod tolerance;
mod trial;

pub use motion_page::motion_page;
pub use page::review_page;
pub use points::points_page;
