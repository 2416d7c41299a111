//! Mathematics that knows no mechanics: plain numbers in, plain numbers out.

mod curve;

pub use curve::Curve;
