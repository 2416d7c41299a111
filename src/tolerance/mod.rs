//! How a measure moves with the dimensions: shares, worst case, root-sum-square, Monte Carlo.
//!
//! [`Analysis::tolerance`](crate::analysis::Analysis::tolerance) reads every demand of a tool, and gap and ratio at shut, off the tool itself and off
//! tools whose dimensions and pin clearances differ within their tolerances. [`stack`] and
//! [`sample`] are plain numbers and know no tool.
//!
//! # What is held
//! A measure is read at its own position on every tool: `{ gap = 0.4 }` is looked for anew, open
//! and shut are where the stroke's targets are met. A measure of the very quantity that defines its
//! position (the gap at a shut that is itself a gap) would not move at all; it is read at the
//! handle angle that the position has on the nominal tool.
//!
//! # Pin clearance
//! A pin joint with clearance c lets the later part's pin stand c/2 off the carrier's. Where the
//! joint is loaded it stands against the force that the carrier exerts on the part, at full c/2:
//! a shift, the same for every tool. Where nothing is asked of the tool (the work needs nothing
//! there yet) it stands anywhere in the circle, drawn anew for each tool. Slots have no clearance.
//!
//! # Springs
//! A spring is bought, not made with the tool: every tool gets the same free length. One that is stated
//! by its preload has the length that gives it in the tool as drawn.
//!
//! # Peaks and work over the stroke
//! Each tool is read from its own open end to its own shut, or to where its own dies meet before. Many
//! samples are read for peaks only where these may stand, as the tool itself foretells it. Work is
//! the area under the curve, exactly for the jaw where the work is stated, else integrated between the
//! rows of the work, at whose gaps it may bend or jump.
//!
//! # Strength
//! A factor of a made tool is the least where the checks that may be its weakest have their worst on the tool as
//! drawn, and at the ends of its stroke, under its own loads with the work in every jaw that works, one at a
//! time. Hand lines are as drawn, where their own numbers have no tolerance.

mod anchor;
mod anew;
mod brink;
mod choice;
mod choose;
mod collect;
mod cost;
mod course;
mod error;
mod exact;
mod fate;
mod finding;
mod iso;
mod lanes;
mod made;
mod margin;
mod nominal;
mod place;
mod plan;
mod reading;
mod run;
mod runs;
mod sample;
mod share;
mod stack;
mod study;
mod subject;
mod summary;
mod sweep;
mod target;
mod unread;
mod worker;

pub use choose::READ_IN_PART;
pub use error::StudyError;
pub use fate::Fate;
pub use iso::{SMALLEST, general_tolerance, smallest_step};
pub use made::{Cause, Made};
pub use margin::Eaten;
pub use plan::{Origin, Plan, Remark, Varied, plan};
pub use sample::{CHUNK, Sampling, Spread, Variable, sample};
pub use share::LOOK;
pub use stack::{Stack, stack};
pub use study::{Clearance, Finding, Share, Study};
pub use subject::{Hold, Subject};
pub use summary::{PERCENTILES, Summary, summary};
pub use unread::{Unread, Why};
