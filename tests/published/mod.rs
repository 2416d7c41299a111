//! Published values: each tool is drawn as a tool file, read, solved and compared.

mod drawing;
mod friction;
mod hand_tools;
mod kinematics;
mod toggles;

pub use drawing::{Drawing, Reading, close};
