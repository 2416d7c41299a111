//! The formulas, as functions of plain numbers in mm, N, MPa (N/mm²), N mm.

pub mod beam;
pub mod column;
pub mod contact;
pub mod cut;
pub mod fatigue;
pub mod notch;
pub mod pin;
pub mod plate;
pub mod spring;
pub mod tooth;

/// A formula as it is shown beside a result.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Formula {
    /// Name of the check.
    pub check: &'static str,
    /// The formula in plain symbols.
    pub text: &'static str,
    /// Book and section; "from memory" or "common practice, no source" where that is so.
    pub source: &'static str,
}

/// Shear strength over tensile strength by the distortion-energy rule, 1/√3 to three figures as
/// books print it. Source: R. G. Budynas and J. K. Nisbett, *Shigley's Mechanical Engineering
/// Design*, sec. 5-5 (from memory).
pub const SHEAR_SHARE: f64 = 0.577;

pub(crate) const BEER_1: &str =
    "F. P. Beer, E. R. Johnston, J. T. DeWolf, Mechanics of Materials, ch. 1";
