//! Materials and cross-sections.

use super::{PartId, Surface, between};

/// A material. Stresses in MPa.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Unique name.
    pub name: String,
    /// Yield strength, MPa.
    pub yield_strength: f64,
    /// Ultimate tensile strength, MPa.
    pub ultimate: Option<f64>,
    /// Young's modulus, MPa.
    pub modulus: Option<f64>,
    /// Mass per volume, kg/mm³.
    pub density: Option<f64>,
    /// Price per kg, in a file of inches per lb, in whatever money.
    pub price: Option<f64>,
    /// How its surface was made, where that is said.
    pub surface: Option<Surface>,
}

/// The cross-section of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// The part.
    pub part: PartId,
    /// Depth in the plane, across the pins.
    pub width: Depth,
    /// Thickness of one plate, mm.
    pub thickness: f64,
    /// Number of plates.
    pub plates: u32,
    /// Sheets of the stack that they run in, one for each; none: not said.
    pub layers: Vec<u32>,
    /// Hole centre to the end of the link, mm.
    pub edge: Option<f64>,
    /// Index into [`super::Tool::materials`].
    pub material: usize,
}

/// Depth of a part in the plane.
#[derive(Debug, Clone, PartialEq)]
pub enum Depth {
    /// The same all along, mm.
    Uniform(f64),
    /// `[distance along the hand line mm, depth mm]`, increasing in distance.
    Stations(Vec<[f64; 2]>),
    /// What the part's outline is, from cut to cut.
    Outlined,
}

impl Section {
    /// Thickness of all plates together, mm.
    #[must_use]
    pub fn all_plates(&self) -> f64 {
        self.thickness * f64::from(self.plates)
    }
}

impl Depth {
    /// Depth at a distance along the hand line, mm: straight lines between stations, the first
    /// and the last beyond them. Not a number without any, or where the outline tells.
    #[must_use]
    pub fn at(&self, along: f64) -> f64 {
        match self {
            Self::Uniform(width) => *width,
            Self::Stations(rows) => between(rows, along).unwrap_or(f64::NAN),
            Self::Outlined => f64::NAN,
        }
    }
}
