//! How the pixels of the picture behind a sketch lie in the fixed part's axes.

/// One place in both, and the size of a pixel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pixels {
    /// A place of the picture, pixels, y down.
    pub pixel: [f64; 2],
    /// The same place in the fixed part's axes, mm, y up.
    pub place: [f64; 2],
    /// Millimetres in a pixel.
    pub mm: f64,
}
