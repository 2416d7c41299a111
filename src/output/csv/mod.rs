//! Comma-separated values, one file for each command.

mod compare;
mod loads;
mod parts;
mod stroke;
mod text;
mod tolerance;

pub use compare::compare_csv;
pub use loads::loads_csv;
pub use parts::parts_csv;
pub use stroke::to_csv;
pub use tolerance::tolerance_csv;
