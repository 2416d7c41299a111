//! Text for a terminal: tables, sentences and a first look at the curves.

mod blocks;
mod check;
mod compare;
mod factors;
mod groups;
mod jaws;
mod job;
mod keys;
mod life;
mod loads;
mod motion;
mod parts;
mod people;
mod plot;
mod room;
mod setup;
mod springs;
mod springs_list;
mod summary;
mod table;
mod tolerance;
mod trial;
mod trial_sheet;
mod tune;

pub use check::check_text;
pub use compare::compare_table;
pub use keys::keys_text;
pub use loads::loads_text;
pub use parts::parts_text;
pub use people::people_text;
pub use plot::plot;
pub use setup::setup_text;
pub use springs_list::springs_text;
pub use summary::demands_text;
pub use table::{Rows, TableOptions, to_table};
pub use tolerance::tolerance_text;
pub use trial::trial_text;
pub use trial_sheet::trial_sheet_text;
pub use tune::tune_text;

pub(super) use blocks::JawTable;
pub(super) use compare::{Grid, grid};
pub(super) use groups::{Column, Group};
pub(super) use jaws::JawsTable;
pub(super) use table::{legend, pick_rows};
