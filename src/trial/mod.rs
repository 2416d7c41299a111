//! A trial on the bench: measured forces laid on the predicted ones, and the friction, give and zero of the gap that
//! fit them best.
//!
//! A reading is a jaw force F at a hand force, with the gap as it was measured. The rigid tool stands at the gap
//! less the zero of its measure and less what the tool gives, compliance x F; friction is that of the pins. With
//! these three the logarithm of measured over predicted force has the least sum of squares: errors of readings go
//! with the readings. Standard errors are those of linear least squares at the minimum: the root of the diagonal of
//! s² (JᵀJ)⁻¹, s² being the sum over the readings less the unknowns (any textbook of regression, for instance
//! N. R. Draper and H. Smith, *Applied Regression Analysis*, ch. on nonlinear estimation; from memory).

mod band;
mod curve;
mod fit;
mod sheet;
mod squares;

pub use band::band;
pub use curve::{Bench, TrialError, Unknown, rubbing};
pub use fit::{DIFFER, Fit, Fitted, Held, PerJoint, fit, pins};
pub use sheet::{Line, lines};
