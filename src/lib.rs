//! Planar linkage force calculator for hand tools.
//!
//! Folders are stages, and the arrows between them run one way:
//!
//! ```text
//! tool.toml -> input -> model -> mechanism -> motion -> statics -> report -> output
//!              (text)   (typed)  (equations)  (where)   (how hard) (data)    (strings)
//! ```
//!
//! Between statics and report, [`strength`] turns forces into factors, [`give`] into deformations;
//! [`measure`] reads one number off a tool that is set up. [`analysis`] is the door: a tool, with its
//! motion, stroke and strength found once, and all that is asked of it. Below all of them: [`units`]
//! (a number knows what it measures), [`geometry`] (points, directions and axes in the plane), `numeric`
//! (mathematics that knows no mechanics) and [`outline`] (borders of plates); just above
//! the model, [`limits`] (what may be asked of a hand), whose names the input knows. On top of the
//! chain: [`scene`] (where everything stands at one position, for drawings), [`compare`] (tools side
//! by side), [`tolerance`] (how exact a tool comes out) and [`tune`] (which dimensions to choose);
//! [`words`] says what cannot be done; [`cli`] is the program around it all.
//!
//! From a tool file to a jaw force, here of a plain lever with arms of 120 and 30 mm:
//!
//! ```
//! use jawforce::analysis::{Analysis, Direction};
//! use jawforce::input::{no_side_files, read_tool};
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let text = r#"
//!     [tool]
//!     units = "mm-N"
//!     [parts.base]
//!     fixed = true
//!     pins  = { heel = [0, 0] }
//!     marks = { anvil = [30, 0] }
//!     [parts.lever]
//!     pins  = { heel = [0, 0] }
//!     marks = { nose = [30, 0] }
//!     [hand]
//!     part  = "lever"
//!     line  = [[0, 0], [-120, 0]]
//!     grips = [120]
//!     force = 80
//!     [[jaw]]
//!     name = "nose"
//!     on = "lever.nose"
//!     against = "base.anvil"
//!     axis = 90
//!     [stroke]
//!     open = { gap = 8 }
//!     shut = { gap = 0 }
//! "#;
//! let analysis = Analysis::of(read_tool(text, &no_side_files)?.tool);
//! let stroke = analysis.stroke(Direction::Closing)?;
//! let shut = stroke.positions.last().expect("at least two");
//! let ratio = shut.grips[0].ratio[0].expect("no toggle");
//! assert!((ratio - 120.0 / 30.0).abs() < 1e-9);
//! # Ok(())
//! # }
//! ```
//!
//! Single numbers, at exact positions, come from [`measure`]; tools can be built in code too, see
//! [`model::Tool::new`].
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
pub mod coils;
pub mod compare;
pub mod geometry;
pub mod give;
pub mod input;
pub mod jobs;
pub mod limits;
pub mod measure;
pub mod mechanism;
pub mod model;
pub mod motion;
pub mod numeric;
pub mod outline;
pub mod output;
pub mod plates;
pub mod report;
pub mod room;
pub mod scene;
pub mod statics;
pub mod strength;
pub mod tolerance;
pub mod trial;
pub mod tune;
pub mod tuning;
pub mod units;
pub mod words;
