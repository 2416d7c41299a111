//! A measure read where a tool stands, the strength factor too.

use crate::analysis::MadePlates;
use crate::analysis::Safeties;
use crate::measure::{Measure, Reading, read_at};
use crate::model::GripId;
use crate::statics::Stand;

/// A measure of a position; of one that is the least factor over the stroke, that of the position.
pub(super) fn read_here(
    stand: &mut Stand,
    measure: &Measure,
    grip: GripId,
    (safeties, made): (&Safeties, &mut MadePlates),
) -> Reading {
    match measure {
        Measure::Safety(name) => safeties.at(stand, name.as_deref(), grip, made),
        _ => read_at(stand, measure, grip),
    }
}
