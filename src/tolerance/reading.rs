//! A measure read where a tool stands, the strength factor too.

use crate::analysis::Weakest;
use crate::measure::{Measure, Reading, read_at};
use crate::model::GripId;
use crate::statics::{Absent, Stand};

/// A measure of a position; of one that is the least factor over the stroke, that of the position.
pub(super) fn read_here(
    stand: &mut Stand,
    measure: &Measure,
    grip: GripId,
    weakest: &[Weakest],
) -> Reading {
    let Measure::Safety(name) = measure else {
        return read_at(stand, measure, grip);
    };
    let own = weakest.iter().find(|w| w.is_of(name.as_deref()));
    own.ok_or(Absent::NoFactor)?.at(stand, grip)
}
