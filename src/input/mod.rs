//! TOML to a [`model::Tool`](crate::model::Tool), or all problems of the file, each with its place.
//!
//! The document is walked as a tree of values with places rather than deserialised, so that one run
//! shows every problem. Readers of the tables ([`Reader`](fields::Reader) methods, one file for each
//! group of tables) report what they find and go on; a tool comes out only when nothing was wrong.

mod adjusters;
mod amount;
mod around;
mod cams;
mod checks;
pub mod code;
mod demands;
mod diagnostic;
mod document;
mod draft;
mod expression;
mod fields;
mod finish;
mod flaws;
mod freeze;
mod gears;
mod hand;
mod jaws;
mod jobs;
pub mod keys;
mod life;
mod limit;
mod loads;
mod mend;
mod modelled;
mod named_jaw;
mod outlines;
mod overrides;
mod parts;
mod people;
mod place;
mod pose;
mod problems;
mod ratchet;
mod read;
mod render;
mod rewrite;
mod setting;
mod shop;
mod side_file;
mod size;
mod sketch;
mod slots;
mod spelling;
mod springs;
mod stops;
mod strength;
mod ties;
mod tolerances;
mod trial;
mod value;
mod wound;

pub use amount::{most_steps, too_much};
pub use diagnostic::{Diagnostic, Label, Severity};
pub use freeze::{Frozen, freeze};
pub use limit::typed_limit;
pub use overrides::{OverrideError, apply_overrides, apply_values, off_line};
pub use parts::{MOST_JOINTS, MOST_PARTS};
pub use problems::Problems;
pub use read::{ReadTool, no_side_files, read_tool};
pub use render::{one_line, render, render_all};
pub use rewrite::{Written, rewrite, states};
pub use setting::setting_problem;
pub use side_file::MOST_ROWS;
pub use size::{typed, typed_as};
pub use spelling::{hint, meant};
pub use trial::{USUAL_ERROR, read_trial};
