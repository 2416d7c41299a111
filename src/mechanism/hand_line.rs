//! The centre line of a handle, in its part's axes.

use super::joint::resolve;
use crate::model::{HandLine, ModelError, Tool};
use crate::numeric::curve::Curve;

/// The centre line of a handle, in its part's axes.
///
/// # Errors
/// When the line has no length.
pub fn hand_curve(tool: &Tool, line: &HandLine) -> Result<Curve, ModelError> {
    let points: Vec<[f64; 2]> = line
        .points
        .iter()
        .map(|&p| resolve(tool, line.part, p).xy())
        .collect();
    Curve::through(&points, line.smooth).ok_or(ModelError::LineWithoutLength)
}
