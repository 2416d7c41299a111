//! Points and directions in the plane, and the rigid placing of one set of axes in another.

mod frame;
mod vec;

pub use frame::Frame;
pub use vec::Vec2;
