//! Planar linkage force calculator for hand tools.
//!
//! Folders are stages, and the arrows between them run one way:
//!
//! ```text
//! tool.toml -> input -> model -> mechanism -> motion -> statics -> report -> output
//!              (text)   (typed)  (equations)  (where)   (how hard) (data)    (strings)
//! ```
//!
//! Between statics and report, [`strength`] turns forces into factors, [`give`] into deformations.
//! [`scene`] is where everything stands at one position, for drawings. Below all of them: [`units`]
//! (a number knows what it measures) and `numeric` (mathematics that knows no mechanics); just above
//! the model, [`limits`] (what may be asked of a hand), whose names the input knows.
#![cfg_attr(
    not(test),
    warn(
        missing_docs,
        clippy::print_stdout,
        clippy::print_stderr,
        clippy::unwrap_used,
        clippy::expect_used
    )
)]

pub mod analysis;
pub mod cli;
pub mod compare;
pub mod give;
pub mod input;
pub mod limits;
pub mod loads;
pub mod measure;
pub mod mechanism;
pub mod model;
pub mod motion;
pub mod numeric;
pub mod output;
pub mod report;
pub mod scene;
pub mod statics;
pub mod strength;
pub mod tolerance;
pub mod tune;
pub mod tuning;
pub mod units;
