//! Points and directions in the plane, and the rigid placing of one set of axes in another.

mod frame;
mod involute;
mod pixels;
mod vec;

pub use frame::Frame;
pub use involute::{Rim, contact_ratios, mesh_loss};
pub use pixels::Pixels;
pub use vec::Vec2;
