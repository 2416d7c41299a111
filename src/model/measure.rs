//! The vocabulary of measures: what each measures, over what it is read, which way is better.
//!
//! A new measure is a case of [`Measure`] with its kind and a place in [`MEASURES`], here, and its reading
//! in [`crate::measure`].

use super::{JointId, StopId};
use crate::units::Quantity;

/// A measure, its references resolved.
#[derive(Debug, Clone, PartialEq)]
pub enum Measure {
    /// Gap of a jaw, mm.
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
    /// Work out over work in, for a small step of the stroke.
    Efficiency,
    /// Force at a joint (index), N: under the work where given, else at the tool's hand force.
    PinLoad(JointId),
    /// Least strength factor, of everything or of one part or pin.
    Safety(Option<String>),
    /// Work of the hand over the stroke, N mm.
    HandWork,
    /// Work at the jaw over the stroke, N mm.
    JawWork,
    /// Height of the finished work after a full stroke, mm.
    Height,
    /// Distance of the first jaw's points across its axis, mm.
    Offset,
    /// Handle angle from shut to the nearest toggle or dead position beyond it, rad.
    ToggleMargin,
    /// What the gap of the first jaw closes on the way there, mm.
    ToggleMarginGap,
    /// What a stop carries with the hand at its limit, or else at the tool's hand force, N.
    StopLoad(StopId),
    /// The greatest gap that the tool opens by when the hand lets go between two teeth of the ratchet, mm.
    RatchetStep,
    /// Gap at which the ratchet lets go, mm.
    RatchetFree,
    /// Least factor of the springs of wire over the stroke.
    SpringSafety,
    /// Greatest stress of the springs of wire over the stroke, curvature counted, MPa.
    SpringStress,
    /// Normal force in a slot, between a cam and what it pushes, or of teeth on each other, N: under the work where given, else at the
    /// tool's hand force.
    Contact(JointId),
    /// Angle between the push of a cam and the way of the point that it pushes, rad.
    PressureAngle(JointId),
    /// Share of the tools made within their tolerances that meet every other demand.
    Yield,
    /// Mass of all plates and pins, kg.
    Mass,
    /// Least distance of plates in one layer over the stroke, mm, zero where they touch: of all, or of two parts
    /// ("lever.ram").
    Clearance(Option<String>),
    /// Least clear width beside a handle that a finger fits into with the tool open, mm.
    Pinch,
    /// Greatest stress at the cuts of a part's plates, MPa.
    Stress(String),
    /// Hand force for the work over the strength of the hands that the job is for, at the span there.
    Effort,
    /// The most that every method for repeated use finds acceptable at the span, N.
    AcceptableForce,
    /// Hand activity level of the job.
    HandActivity,
    /// Revised Strain Index of the job.
    StrainIndex,
}

/// Every measure once, as the words of [`MeasureKind`] stand in lists for people.
pub const MEASURES: [Measure; 33] = [
    Measure::Gap,
    Measure::Handle,
    Measure::Travel,
    Measure::Span,
    Measure::Ratio,
    Measure::JawForce,
    Measure::HandForce,
    Measure::HandShare,
    Measure::Efficiency,
    Measure::PinLoad(JointId::FIRST),
    Measure::Safety(None),
    Measure::HandWork,
    Measure::JawWork,
    Measure::Height,
    Measure::Offset,
    Measure::ToggleMargin,
    Measure::ToggleMarginGap,
    Measure::StopLoad(StopId::FIRST),
    Measure::RatchetStep,
    Measure::RatchetFree,
    Measure::SpringSafety,
    Measure::SpringStress,
    Measure::Contact(JointId::FIRST),
    Measure::PressureAngle(JointId::FIRST),
    Measure::Yield,
    Measure::Mass,
    Measure::Clearance(None),
    Measure::Pinch,
    Measure::Stress(String::new()),
    Measure::Effort,
    Measure::AcceptableForce,
    Measure::HandActivity,
    Measure::StrainIndex,
];

/// Over what a measure is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reads {
    /// At one position of the stroke.
    Position,
    /// Over the whole stroke.
    Stroke,
}

/// What follows a measure's name behind a full stop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Suffix {
    /// Nothing.
    None,
    /// The label of a pin joint: `pin_load.knee`.
    Joint,
    /// A part or pin, or nothing: `safety`, `safety.ram`.
    PartOrPin,
    /// A jaw, or nothing where the first is meant: `gap`, `gap.nest2`.
    Jaw,
    /// A part: `stress.frame`.
    Part,
    /// Two parts, or nothing: `clearance`, `clearance.lever.ram`.
    TwoParts,
    /// The name of a stop: `stop_load.handle-stop`.
    Stop,
    /// A slot or cam: `contact.press`, `contact.slots.1`.
    Contact,
    /// A cam: `pressure_angle.press`.
    Cam,
}

/// Whether a smaller or a greater value is the better one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Better {
    /// Less is better.
    Less,
    /// More is better.
    More,
    /// Neither.
    Neither,
}

/// How a value is rounded for people.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Digits {
    /// As lengths are: to 0.01 mm or 0.001 in.
    Length,
    /// This many decimals.
    Decimals(usize),
    /// Three significant figures or more.
    Figures,
}

/// What is to be known of a measure, whatever the tool.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MeasureKind {
    /// Its word in files, what follows it left out.
    pub word: &'static str,
    /// Its quantity; `None` for plain numbers.
    pub quantity: Option<Quantity>,
    /// Over what it is read.
    pub reads: Reads,
    /// What may or must follow the word behind a full stop.
    pub suffix: Suffix,
    /// Which way is better.
    pub better: Better,
    /// How it is rounded.
    pub digits: Digits,
}

impl Measure {
    /// What is to be known of it.
    #[must_use]
    pub fn kind(&self) -> MeasureKind {
        let at = |word, quantity, better, digits| MeasureKind {
            word,
            quantity,
            reads: Reads::Position,
            suffix: Suffix::None,
            better,
            digits,
        };
        let (length, angle) = (Some(Quantity::Length), Some(Quantity::Angle));
        let (force, energy) = (Some(Quantity::Force), Some(Quantity::Energy));
        let of_jaw = |kind| MeasureKind {
            suffix: Suffix::Jaw,
            ..kind
        };
        let over = |kind| MeasureKind {
            reads: Reads::Stroke,
            ..kind
        };
        match self {
            Self::Gap => of_jaw(at("gap", length, Better::Neither, Digits::Length)),
            Self::Handle => at("handle", angle, Better::Neither, Digits::Decimals(2)),
            Self::Travel => at("travel", angle, Better::Neither, Digits::Decimals(2)),
            Self::Span => at("span", length, Better::Neither, Digits::Length),
            Self::Ratio => of_jaw(at("ratio", None, Better::More, Digits::Decimals(2))),
            Self::JawForce => of_jaw(at("jaw_force", force, Better::More, Digits::Figures)),
            Self::HandForce => of_jaw(at("hand_force", force, Better::Less, Digits::Figures)),
            Self::HandShare => of_jaw(at("hand_share", None, Better::Less, Digits::Decimals(2))),
            Self::Efficiency => of_jaw(at("efficiency", None, Better::More, Digits::Decimals(3))),
            Self::PinLoad(_) => MeasureKind {
                suffix: Suffix::Joint,
                ..at("pin_load", force, Better::Less, Digits::Figures)
            },
            Self::Safety(_) => MeasureKind {
                suffix: Suffix::PartOrPin,
                ..over(at("safety", None, Better::More, Digits::Decimals(2)))
            },
            Self::HandWork => of_jaw(over(at("hand_work", energy, Better::Less, Digits::Figures))),
            Self::JawWork => of_jaw(over(at(
                "jaw_work",
                energy,
                Better::Neither,
                Digits::Figures,
            ))),
            Self::Height => of_jaw(over(at("height", length, Better::Neither, Digits::Length))),
            Self::Offset => of_jaw(at("offset", length, Better::Less, Digits::Length)),
            Self::StopLoad(_) => MeasureKind {
                suffix: Suffix::Stop,
                ..over(at("stop_load", force, Better::Less, Digits::Figures))
            },
            Self::RatchetStep => over(at("ratchet.step", length, Better::Less, Digits::Length)),
            Self::SpringSafety => {
                over(at("spring_safety", None, Better::More, Digits::Decimals(2)))
            }
            Self::SpringStress => over(at(
                "spring_stress",
                Some(Quantity::Stress),
                Better::Less,
                Digits::Figures,
            )),
            Self::RatchetFree => over(at("ratchet.free_gap", length, Better::Less, Digits::Length)),
            Self::Contact(_) => MeasureKind {
                suffix: Suffix::Contact,
                ..at("contact", force, Better::Less, Digits::Figures)
            },
            Self::PressureAngle(_) => MeasureKind {
                suffix: Suffix::Cam,
                ..at("pressure_angle", angle, Better::Less, Digits::Decimals(2))
            },
            Self::Yield => over(at("yield", None, Better::More, Digits::Decimals(3))),
            Self::Mass => over(at(
                "mass",
                Some(Quantity::Mass),
                Better::Less,
                Digits::Figures,
            )),
            Self::Clearance(_) => MeasureKind {
                suffix: Suffix::TwoParts,
                ..over(at("clearance", length, Better::More, Digits::Length))
            },
            Self::Pinch => over(at("pinch", length, Better::More, Digits::Length)),
            Self::Stress(_) => MeasureKind {
                suffix: Suffix::Part,
                ..over(at(
                    "stress",
                    Some(Quantity::Stress),
                    Better::Less,
                    Digits::Figures,
                ))
            },
            Self::Effort => of_jaw(at("effort", None, Better::Less, Digits::Decimals(2))),
            Self::AcceptableForce => at("acceptable_force", force, Better::More, Digits::Figures),
            Self::HandActivity => over(at("hal", None, Better::Less, Digits::Decimals(1))),
            Self::StrainIndex => {
                of_jaw(at("strain_index", None, Better::Less, Digits::Decimals(1)))
            }
            Self::ToggleMargin => over(at(
                "toggle_margin",
                angle,
                Better::More,
                Digits::Decimals(2),
            )),
            Self::ToggleMarginGap => over(at(
                "toggle_margin.gap",
                length,
                Better::More,
                Digits::Length,
            )),
        }
    }

    /// Whether it is about plates, which made tools have as they are drawn.
    #[must_use]
    pub fn is_of_plates(&self) -> bool {
        matches!(
            self,
            Self::Mass | Self::Clearance(_) | Self::Pinch | Self::Stress(_)
        )
    }

    /// Whether it follows the work: where that has a narrow peak, so may this.
    #[must_use]
    pub fn follows_work(&self) -> bool {
        matches!(
            self,
            Self::HandForce
                | Self::HandShare
                | Self::PinLoad(_)
                | Self::Contact(_)
                | Self::Effort
                | Self::StrainIndex
        )
    }

    /// Whether it tells what the work asks of the hand.
    #[must_use]
    pub fn is_asked_of_the_hand(&self) -> bool {
        matches!(
            self,
            Self::HandForce | Self::HandShare | Self::Effort | Self::StrainIndex
        )
    }

    /// Whether it is of one jaw, or read under the work at one.
    #[must_use]
    pub fn per_jaw(&self) -> bool {
        self.kind().suffix == Suffix::Jaw
            || matches!(
                self,
                Self::PinLoad(_) | Self::Contact(_) | Self::ToggleMargin | Self::ToggleMarginGap
            )
    }

    /// Whether it depends on where the hand holds the tool.
    #[must_use]
    pub fn per_grip(&self) -> bool {
        !matches!(
            self,
            Self::Gap
                | Self::Handle
                | Self::Travel
                | Self::JawWork
                | Self::Safety(_)
                | Self::Offset
                | Self::PressureAngle(_)
                | Self::ToggleMargin
                | Self::ToggleMarginGap
                | Self::RatchetStep
                | Self::RatchetFree
                | Self::SpringSafety
                | Self::SpringStress
                | Self::Yield
                | Self::HandActivity
        )
    }

    /// Whether it is read at one position of the stroke.
    #[must_use]
    pub fn at_position(&self) -> bool {
        self.kind().reads == Reads::Position
    }
}

#[cfg(test)]
mod tests;
