//! Why a position is not on the stroke.

use super::number;
use crate::model::{FixedBy, Tool};
use crate::statics::LocateError;
use crate::units::UnitSystem;

impl LocateError {
    /// What is wrong and what to do.
    #[must_use]
    pub fn text(&self, tool: &Tool, units: UnitSystem) -> String {
        match self {
            Self::OutOfRange { fixed, reach } if matches!(fixed.by, FixedBy::Stop(_)) => {
                let show = |v: f64| number(v, fixed.by.quantity(), units);
                format!(
                    "stop{} is not met on the stroke, where the distance of its faces runs from {} to {}",
                    fixed.by.of_jaw(tool),
                    show(reach.low),
                    show(reach.high)
                )
            }
            Self::OutOfRange { fixed, reach } => {
                let show = |v: f64| number(v, fixed.by.quantity(), units);
                format!(
                    "{0}{4} = {1} is not on the stroke, where {0} runs from {2} to {3}",
                    fixed.by.word(),
                    show(fixed.value),
                    show(reach.low),
                    show(reach.high),
                    fixed.by.of_jaw(tool)
                )
            }
            Self::NoSpan => "there is no span: the tool has no second handle.\n\
                 Give `against` in [hand], or state the position by gap or handle"
                .to_owned(),
            Self::NotAPosition => {
                "`peak` and `least` need a measure; state open, shut, gap, handle, span or stop"
                    .to_owned()
            }
            Self::Motion(error) => error.text(tool, units),
        }
    }
}
