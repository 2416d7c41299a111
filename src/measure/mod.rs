//! One number read off a tool that is set up: the vocabulary that demands, comparing, tolerances and
//! tuning share, and the one evaluator that reads it.
//!
//! Positions are found exactly, as roots on the motion, never taken from the nearest sample;
//! peaks are refined between samples.
//!
//! ```
//! # use jawforce::input::read_tool;
//! # let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-data");
//! # let text = std::fs::read_to_string(format!("{folder}/wire-crimp-pliers.toml")).expect("a file");
//! # let beside = |name: &str| std::fs::read_to_string(format!("{folder}/{name}")).map_err(|e| e.to_string());
//! # let tool = read_tool(&text, &beside).expect("a good file").tool;
//! use jawforce::measure::{Measure, Reader};
//! use jawforce::model::{At, Direction, GripId};
//! use jawforce::statics::{Mounted, Rig};
//!
//! let mounted = Mounted::new(&tool).expect("a stroke");
//! let mut rig = Rig::new(&tool, &mounted, Direction::Closing).expect("its open end");
//! let mut reader = Reader::new(&mut rig);
//! let open = reader.at(&Measure::Span, At::Open, GripId::FIRST).expect("on the stroke");
//! let shut = reader.at(&Measure::Span, At::Shut, GripId::FIRST).expect("on the stroke");
//! let (Ok(open), Ok(shut)) = (open, shut) else {
//!     panic!("two handles have a span");
//! };
//! assert!(open > shut); // mm
//! ```

mod evaluate;
mod extreme;
mod hand;
mod height;
mod integrals;
mod name;
mod ratchet;
mod read;
mod reading;
mod rows;
mod short;
mod stop_load;

pub use crate::model::Measure;
pub use evaluate::{contact_size, growth, read_at};
pub use hand::{EffortPeak, HandPeak, Stall, effort_peak, first_stall, hand_peak};
pub use height::{Height, finished, height, spreads};
pub use name::{MeasureError, named, readable};
pub use ratchet::{NoTeeth, Tooth, greatest_step, lets_go, teeth};
pub use read::Reader;
pub use reading::{Place, Reading};
pub use short::Short;
pub use stop_load::{StopLoad, stop_load};
