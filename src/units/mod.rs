//! A number knows what it measures.
//!
//! Inside the program every quantity is in one consistent set: millimetres, newtons, radians (so
//! stress is N/mm² = MPa, a moment is N mm). Units live at the edges only: [`UnitSystem`] and
//! [`Quantity`] say what a bare number in a tool file, or a printed number, means.

mod number;
mod parse;
mod parse_error;
mod table;
mod words;

pub use number::{alike, decimals_for, figures, fixed, trimmed};
pub use parse::{parse, parse_plain, parse_unit};
pub use parse_error::{ParseError, ParseErrorKind};
pub use words::{article, examples, noun};

/// Millimetres in an inch (exact: international yard and pound agreement, 1959).
pub const MM_PER_IN: f64 = 25.4;
/// Newtons in a pound-force (exact: 0.453 592 37 kg × 9.806 65 m/s²).
pub const N_PER_LBF: f64 = 4.448_221_615_260_5;
/// kg in a pound (avoirdupois): exact, by the same agreement.
pub const KG_PER_LB: f64 = 0.453_592_37;

/// What bare numbers mean: `"mm-N"` or `"in-lbf"`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum UnitSystem {
    /// Millimetres, newtons, degrees, MPa.
    MmN,
    /// Inches, pounds-force, degrees, psi.
    InLbf,
}

/// The kind of a quantity, which decides what units it may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Quantity {
    /// mm inside.
    Length,
    /// N inside.
    Force,
    /// rad inside.
    Angle,
    /// N mm inside.
    Torque,
    /// MPa = N/mm² inside.
    Stress,
    /// Force per length, N/mm inside.
    Rate,
    /// Torque per angle, N mm/rad inside.
    TurnRate,
    /// Energy, N mm = mJ inside.
    Energy,
    /// mm² inside.
    Area,
    /// kg inside.
    Mass,
    /// Mass per volume, kg/mm³ inside.
    Density,
    /// Second moment of area, mm⁴ inside.
    SecondMoment,
    /// s inside.
    Time,
    /// How often something is done, 1/s inside.
    Frequency,
}

impl UnitSystem {
    /// The name as it stands in a tool file.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::MmN => "mm-N",
            Self::InLbf => "in-lbf",
        }
    }

    /// What calipers read, mm: 0.01 mm or 0.001 in. Common practice, no source.
    #[must_use]
    pub fn caliper_step(self) -> f64 {
        match self {
            Self::MmN => 0.01,
            Self::InLbf => 0.001 * MM_PER_IN,
        }
    }

    /// The system of that name, if there is one.
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        match name {
            "mm-N" => Some(Self::MmN),
            "in-lbf" => Some(Self::InLbf),
            _ => None,
        }
    }

    /// How many internal units (mm, N, rad, s) one unit of this system is.
    #[must_use]
    pub fn factor(self, quantity: Quantity) -> f64 {
        let (length, force) = match self {
            Self::MmN => (1.0, 1.0),
            Self::InLbf => (MM_PER_IN, N_PER_LBF),
        };
        let degree = std::f64::consts::PI / 180.0;
        match quantity {
            Quantity::Length => length,
            Quantity::Force => force,
            Quantity::Angle => degree,
            Quantity::Torque | Quantity::Energy => force * length,
            Quantity::Stress => force / (length * length),
            Quantity::Rate => force / length,
            Quantity::TurnRate => force * length / degree,
            Quantity::Area => length.powi(2),
            Quantity::SecondMoment => length.powi(4),
            Quantity::Mass => self.mass(),
            // Metric densities are stated per cubic metre.
            Quantity::Density if self == Self::MmN => 1e-9,
            Quantity::Density => self.mass() / length.powi(3),
            Quantity::Time => 1.0,
            // Strokes are counted by the minute.
            Quantity::Frequency => 1.0 / 60.0,
        }
    }

    /// How many kg one unit of mass of this system is.
    fn mass(self) -> f64 {
        match self {
            Self::MmN => 1.0,
            Self::InLbf => KG_PER_LB,
        }
    }

    /// The symbol of the unit, as printed.
    #[must_use]
    pub fn symbol(self, quantity: Quantity) -> &'static str {
        match (self, quantity) {
            (Self::MmN, Quantity::Length) => "mm",
            (Self::MmN, Quantity::Force) => "N",
            (_, Quantity::Angle) => "deg",
            (_, Quantity::Time) => "s",
            (_, Quantity::Frequency) => "/min",
            (Self::MmN, Quantity::Torque) => "N mm",
            (Self::MmN, Quantity::Stress) => "MPa",
            (Self::MmN, Quantity::Rate) => "N/mm",
            (Self::MmN, Quantity::TurnRate) => "N mm/deg",
            (Self::MmN, Quantity::Energy) => "mJ",
            (Self::MmN, Quantity::Area) => "mm2",
            (Self::MmN, Quantity::Mass) => "kg",
            (Self::MmN, Quantity::Density) => "kg/m3",
            (Self::MmN, Quantity::SecondMoment) => "mm4",
            (Self::InLbf, Quantity::Length) => "in",
            (Self::InLbf, Quantity::Force) => "lbf",
            (Self::InLbf, Quantity::Torque | Quantity::Energy) => "in lbf",
            (Self::InLbf, Quantity::Stress) => "psi",
            (Self::InLbf, Quantity::Rate) => "lbf/in",
            (Self::InLbf, Quantity::TurnRate) => "in lbf/deg",
            (Self::InLbf, Quantity::Area) => "in2",
            (Self::InLbf, Quantity::Mass) => "lb",
            (Self::InLbf, Quantity::Density) => "lb/in3",
            (Self::InLbf, Quantity::SecondMoment) => "in4",
        }
    }

    /// The symbol of the unit of what may be a plain number, which has none.
    #[must_use]
    pub fn unit(self, quantity: Option<Quantity>) -> &'static str {
        quantity.map_or("", |quantity| self.symbol(quantity))
    }

    /// An internal value in this system's unit; a plain number as it is.
    #[must_use]
    pub fn shown(self, value: f64, quantity: Option<Quantity>) -> f64 {
        quantity.map_or(value, |quantity| self.show(value, quantity))
    }

    /// An internal value (mm, N, rad …) in this system's unit.
    #[must_use]
    pub fn show(self, value: f64, quantity: Quantity) -> f64 {
        value / self.factor(quantity)
    }
}
