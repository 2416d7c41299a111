//! Why a tool as it is described cannot be solved.

use super::{Words, number};
use crate::model::{ModelError, WhichHandle};
use crate::units::{Quantity, UnitSystem};

impl ModelError {
    /// What is wrong, in these units.
    #[must_use]
    pub fn words(&self, units: UnitSystem) -> Words {
        let length = |mm: f64| number(mm, Quantity::Length, units);
        Words::new(match self {
            Self::NoFixedPart => "the fixed part is not among the parts",
            Self::NotFinite => "a coordinate is not a finite number",
            Self::JawOnOnePart => "a jaw needs two different parts",
            Self::NoSpringPart => "a spring names a part that does not exist",
            Self::NoPalmPart => "the palm holds a part that does not exist, or the handle itself",
            Self::NoSuchJaw => {
                "the stroke, a demand, the aim or who asks names a jaw that does not exist"
            }
            Self::RatchetParts => "the teeth of a ratchet and its pawl need two different parts",
            Self::StopOnOnePart => "a stop needs two different parts",
            Self::NoSuchStop => {
                "the stroke, a demand, the aim or who asks names a stop that does not exist"
            }
            Self::NoMesh => {
                "a pair of gears needs two toothed parts, a pressure angle below 45 deg, and a keyed slot for a rack"
            }
            Self::NoJawOrGrip => "a tool needs a jaw and a grip",
            Self::JointData => "every pin joint needs an entry in joint_data",
            Self::FewSteps => "a stroke needs two steps or more",
            Self::NoPoint => "a point is named that does not exist",
            Self::NoPlace => "a place is on a part that does not exist, or not finite",
            Self::ShortLine => "a hand line needs two points or more",
            Self::LineWithoutLength => "the hand line has no length",
            Self::GripOff { handle, grip, line } => {
                let whose = match handle {
                    WhichHandle::Own => "hand line",
                    WhichHandle::Other => "line of the other handle",
                };
                return Words::new(format!(
                    "the grip at {} is off the end of the {whose}, which is {} long; hold nearer to its first point",
                    length(*grip),
                    length(*line)
                ));
            }
        })
    }
}
