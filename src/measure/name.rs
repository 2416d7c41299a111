//! Measures by name.

use crate::model::Tool;
use crate::model::{Reads, measure_kind};

/// A measure, its references resolved.
#[derive(Debug, Clone, PartialEq)]
pub enum Measure {
    /// Gap of the first jaw, mm.
    Gap,
    /// Handle angle, rad.
    Handle,
    /// Handle angle since open, rad.
    Travel,
    /// Grip span, mm.
    Span,
    /// Jaw force per hand force, without friction and springs.
    Ratio,
    /// Jaw force at the tool's hand force, N.
    JawForce,
    /// Hand force for the work, N.
    HandForce,
    /// Hand force for the work over the hand's limit at the span there.
    HandShare,
    /// Work out over work in, for a small step of the stroke, see [`Answer::efficiency`](crate::statics::Answer::efficiency).
    Efficiency,
    /// Force at a joint (index), N: under the work where given, else at the tool's hand force.
    PinLoad(usize),
    /// Least strength factor, of everything or of one part or pin.
    Safety(Option<String>),
    /// Work of the hand over the stroke, N mm.
    HandWork,
    /// Work at the jaw over the stroke, N mm.
    JawWork,
}

/// Why a measure cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MeasureError(pub String);

impl std::fmt::Display for MeasureError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for MeasureError {}

impl Measure {
    /// The measure of that name for `tool`.
    ///
    /// # Errors
    /// A name that is not in the vocabulary, or that names a pin or part the tool has not; and
    /// measures that need a table the tool has not.
    pub fn parse(tool: &Tool, name: &str) -> Result<Self, MeasureError> {
        let fail = |text: String| Err(MeasureError(text));
        let Some((_, rest)) = measure_kind(name) else {
            let known: Vec<&str> = crate::model::MEASURES.iter().map(|m| m.0).collect();
            return fail(format!(
                "there is no measure `{name}`; measures: {}",
                known.join(", ")
            ));
        };
        let first = name.split('.').next().unwrap_or(name);
        let measure = match (first, rest) {
            ("gap", None) => Self::Gap,
            ("handle", None) => Self::Handle,
            ("travel", None) => Self::Travel,
            ("span", None) => Self::Span,
            ("ratio", None) => Self::Ratio,
            ("jaw_force", None) => Self::JawForce,
            ("hand_force", None) => Self::HandForce,
            ("hand_share", None) => Self::HandShare,
            ("efficiency", None) => Self::Efficiency,
            ("hand_work", None) => Self::HandWork,
            ("jaw_work", None) => Self::JawWork,
            ("pin_load", Some(label)) => {
                let labels: Vec<String> = (0..tool.joints.len())
                    .map(|j| tool.joint_label(j))
                    .collect();
                match labels.iter().position(|l| l == label) {
                    Some(joint) => Self::PinLoad(joint),
                    None => {
                        return fail(format!(
                            "there is no pin `{label}`; pins: {}",
                            labels.join(", ")
                        ));
                    }
                }
            }
            ("pin_load", None) => return fail("say which pin: pin_load.NAME".to_owned()),
            ("safety", rest) => Self::Safety(rest.map(str::to_owned)),
            _ => return fail(format!("`{name}`: nothing follows `{first}`")),
        };
        match measure {
            Self::HandForce if tool.work.is_none() => {
                fail("`hand_force` is what the work needs, and the tool has no [work]".to_owned())
            }
            Self::HandShare if tool.work.is_none() || tool.hand.limit.is_none() => fail(
                "`hand_share` is what the work needs over what the hand can give: it needs [work] \
                 and [hand] limit"
                    .to_owned(),
            ),
            Self::Span if tool.hand.against.is_none() => {
                fail("`span` needs a second handle: [hand] against".to_owned())
            }
            _ => Ok(measure),
        }
    }

    /// Whether it is read at a position (otherwise over the stroke).
    #[must_use]
    pub fn at_position(name: &str) -> bool {
        measure_kind(name).is_some_and(|(kind, _)| kind.reads == Reads::Position)
    }

    /// Whether it follows the work: where that has a narrow peak, so may this.
    #[must_use]
    pub fn follows_work(&self) -> bool {
        matches!(self, Self::HandForce | Self::HandShare | Self::PinLoad(_))
    }

    /// Whether it depends on where the hand holds the tool.
    #[must_use]
    pub fn per_grip(&self) -> bool {
        !matches!(
            self,
            Self::Gap | Self::Handle | Self::Travel | Self::JawWork | Self::Safety(_)
        )
    }
}
