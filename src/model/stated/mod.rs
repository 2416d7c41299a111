//! Every number that a tool file states besides the dimensions of parts: friction, springs, hand, jaws,
//! slots, sections, materials, work, outlines, the ends of the stroke.
//!
//! Each knows where it lives in a [`Tool`], what it measures, and which values it may have.

mod hand;
mod job;
mod life;
mod listing;
mod outline;
mod reach;
mod work;
mod wound;

pub use hand::HandNumber;
pub use job::JobNumber;
pub use life::LifeNumber;
pub(super) use listing::addressed;
pub use outline::OutlineNumber;
pub use work::WorkNumber;
pub use wound::WoundNumber;

use crate::model::{JawId, JointId, StopId};
use crate::units::Quantity;

/// A number that is no dimension of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stated {
    /// Of every pin that states none of its own.
    Joints(JointNumber),
    /// Of every joint on the pin of this one.
    Pin(JointId, JointNumber),
    /// Of this joint alone, where three or more parts share its pin.
    Joint(JointId, JointNumber),
    /// Of one of [`Tool::slots`](crate::model::Tool::slots).
    Slot(usize, SlotNumber),
    /// Of one of [`Tool::cams`](crate::model::Tool::cams).
    Cam(usize, CamNumber),
    /// Of one of [`Tool::springs`](crate::model::Tool::springs).
    Spring(usize, SpringNumber),
    /// Of the hand.
    Hand(HandNumber),
    /// One of [`super::Hand::grips`].
    Grip(usize),
    /// A coordinate (0: x, 1: y) of a place on a hand line.
    Line {
        /// On that of the other handle.
        against: bool,
        /// Which place of the line.
        place: usize,
        /// 0 or 1.
        axis: usize,
    },
    /// Of a jaw.
    Jaw(JawId, JawNumber),
    /// Of a stop, whose numbers are those of a jaw.
    Stop(StopId, JawNumber),
    /// How the faces of a stop give.
    StopRate(StopId),
    /// Of one of [`Tool::gears`](crate::model::Tool::gears).
    Gears(usize, GearNumber),
    /// Of the ratchet.
    Ratchet(RatchetNumber),
    /// The setting of one of [`Tool::adjusters`](crate::model::Tool::adjusters).
    Setting {
        /// Which.
        adjuster: usize,
        /// It turns an eccentric pin; else it is added to a length.
        turns: bool,
    },
    /// Where the stroke begins (`false`) or ends (`true`).
    End(bool, EndNumber),
    /// Of one of [`Tool::sections`](crate::model::Tool::sections).
    Section(usize, SectionNumber),
    /// Of one of [`Tool::materials`](crate::model::Tool::materials).
    Material(usize, MaterialNumber),
    /// Of the work at a jaw.
    Work(JawId, WorkNumber),
    /// Of one of [`Tool::outlines`](crate::model::Tool::outlines).
    Outline(usize, OutlineNumber),
    /// Of the room between plates, of stock and bench.
    Room(RoomNumber),
    /// Of the job.
    Job(JobNumber),
    /// Of the life that is asked for.
    Life(LifeNumber),
    /// How many people one of [`Tool::operators`](crate::model::Tool::operators) are.
    Operators(usize),
}

/// What is asked of the room between plates, of stock and bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum RoomNumber {
    Finger,
    Apart,
    /// Between blanks on a sheet.
    Margin,
    /// Out of the bench.
    Up,
    /// A coordinate (0 or 1) of the place on the bench.
    Base(usize),
}

/// A number of a pin joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum JointNumber {
    Diameter,
    Friction,
    Clearance,
}

/// A number of a slot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum SlotNumber {
    Angle,
    Turn,
    Friction,
    Width,
    ThroughX,
    ThroughY,
    CentreX,
    CentreY,
    Radius,
    RollerDiameter,
    RollerPin,
    RollerWidth,
}

/// A number of a cam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum CamNumber {
    /// Of a curved face: which point, counted from 0, and which of its two coordinates.
    Point(usize, usize),
    CentreX,
    CentreY,
    Radius,
    RollerDiameter,
    RollerPin,
    RollerWidth,
    Flat,
    Width,
    Friction,
}

impl SlotNumber {
    /// Whether it is the size of something, which is never zero.
    fn is_size(self) -> bool {
        matches!(
            self,
            Self::Width | Self::Radius | Self::RollerDiameter | Self::RollerPin | Self::RollerWidth
        )
    }
}

/// A number of a pair of gears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum GearNumber {
    Angle,
    Face,
    Backlash,
    Friction,
}

/// A number of the ratchet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum RatchetNumber {
    /// A coordinate (0: x, 1: y) of the pawl's pin.
    Pin(usize),
    Length,
    Spring,
    Radius,
    Pitch,
    OverTravel,
    Height,
    Face,
    Flank,
    Friction,
}

/// A number of a spring, by what it measures and which sign it may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SpringNumber {
    /// Force per length.
    Rate,
    /// Torque per angle.
    TurnRate,
    /// Free length.
    Free,
    /// Angle at which it is slack.
    Slack,
    /// Preload of a spring that acts both ways.
    Preload,
    /// Preload of one that only pushes.
    Push,
    /// Preload of one that only pulls, stated as a pull: the model counts a push as positive.
    Pull,
    /// Preload about a pin.
    Torque,
    /// Of what is bought.
    Wound(WoundNumber),
}

/// A number of a jaw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum JawNumber {
    Axis,
    Closed,
}

/// What an end of the stroke is given by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum EndNumber {
    Gap,
    Span,
    Handle,
}

/// A number of a cross-section.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum SectionNumber {
    Width,
    /// The depth at one of the stations.
    WidthAt(usize),
    Thickness,
    Edge,
}

/// A number of a material.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the words of the tool file")]
pub enum MaterialNumber {
    Yield,
    Ultimate,
    Modulus,
    Density,
    Price,
}

/// Which values a number may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Values {
    /// Any.
    Any,
    /// Zero or more.
    NotNegative,
    /// Greater than zero.
    Positive,
    /// A coefficient of friction: from 0 to below [`MOST_FRICTION`].
    Friction,
    /// A share: above 0 and below 1.
    Share,
    /// Hours of a day: above 0, up to 24.
    Hours,
    /// A number of strokes, which may be great.
    Strokes,
    /// Per cent of the parts that last: from 50 to 99.99.
    Reliability,
}

/// Dry rubber on steel comes to about 1 (common practice, no source); what is beyond 2 is a per cent or an
/// angle that was meant.
pub const MOST_FRICTION: f64 = 2.0;
/// What a spread takes down to zero is taken for this, in any internal unit.
const LEAST: f64 = 1e-6;
/// A coefficient of friction below this is not meant as friction, unless it is zero.
pub const LEAST_FRICTION: f64 = 1e-9;

impl Values {
    /// Whether a value is one of them.
    #[must_use]
    pub fn allow(self, value: f64) -> bool {
        match self {
            Self::Any => value.is_finite(),
            Self::NotNegative => value >= 0.0 && value.is_finite(),
            Self::Positive => value > 0.0 && value.is_finite(),
            Self::Strokes => value > 0.0 && value <= 1e12,
            Self::Share => value > 0.0 && value < 1.0,
            Self::Hours => value > 0.0 && value <= 24.0,
            Self::Reliability => (50.0..=99.99).contains(&value),
            Self::Friction => value == 0.0 || (value > LEAST_FRICTION && value < MOST_FRICTION),
        }
    }

    /// The nearest of them, for a made tool that a normal spread takes beyond its tolerance.
    #[must_use]
    pub fn nearest(self, value: f64) -> f64 {
        match self {
            Self::Any => value,
            Self::NotNegative => value.max(0.0),
            Self::Positive | Self::Strokes => value.max(LEAST),
            Self::Share => value.clamp(LEAST, 1.0 - LEAST),
            Self::Hours => value.clamp(LEAST, 24.0),
            Self::Reliability => value.clamp(50.0, 99.99),
            Self::Friction => value.clamp(2.0 * LEAST_FRICTION, MOST_FRICTION - 1e-9),
        }
    }
}

impl Stated {
    /// What it measures; `None`: a plain number.
    #[must_use]
    pub fn quantity(self) -> Option<Quantity> {
        match self {
            Self::Joints(number) | Self::Pin(_, number) | Self::Joint(_, number) => match number {
                JointNumber::Friction => None,
                JointNumber::Diameter | JointNumber::Clearance => Some(Quantity::Length),
            },
            Self::Slot(_, number) => match number {
                SlotNumber::Angle | SlotNumber::Turn => Some(Quantity::Angle),
                SlotNumber::Friction => None,
                _ => Some(Quantity::Length),
            },
            Self::Cam(_, number) => match number {
                CamNumber::Flat => Some(Quantity::Angle),
                CamNumber::Friction => None,
                _ => Some(Quantity::Length),
            },
            Self::StopRate(_) => Some(Quantity::Rate),
            Self::Gears(_, number) => match number {
                GearNumber::Angle => Some(Quantity::Angle),
                GearNumber::Friction => None,
                GearNumber::Face | GearNumber::Backlash => Some(Quantity::Length),
            },
            Self::Ratchet(number) => match number {
                RatchetNumber::Friction => None,
                RatchetNumber::Pitch | RatchetNumber::OverTravel | RatchetNumber::Flank => {
                    Some(Quantity::Angle)
                }
                RatchetNumber::Spring => Some(Quantity::Torque),
                _ => Some(Quantity::Length),
            },
            Self::Spring(_, SpringNumber::Wound(number)) => number.quantity(),
            Self::Spring(_, number) => Some(match number {
                SpringNumber::Rate => Quantity::Rate,
                SpringNumber::TurnRate => Quantity::TurnRate,
                SpringNumber::Free => Quantity::Length,
                SpringNumber::Slack => Quantity::Angle,
                SpringNumber::Preload | SpringNumber::Push | SpringNumber::Pull => Quantity::Force,
                SpringNumber::Torque | SpringNumber::Wound(_) => Quantity::Torque,
            }),
            Self::Hand(number) => Some(number.quantity()),
            Self::Jaw(_, JawNumber::Axis)
            | Self::Stop(_, JawNumber::Axis)
            | Self::Setting { turns: true, .. }
            | Self::End(_, EndNumber::Handle)
            | Self::Room(RoomNumber::Up) => Some(Quantity::Angle),
            Self::Material(_, MaterialNumber::Density) => Some(Quantity::Density),
            Self::Material(_, MaterialNumber::Price) => None,
            Self::Work(_, number) => number.quantity(),
            Self::Material(..) => Some(Quantity::Stress),
            Self::Job(number) => number.quantity(),
            Self::Operators(_) | Self::Life(_) => None,
            Self::Grip(_)
            | Self::Line { .. }
            | Self::Jaw(_, JawNumber::Closed)
            | Self::Stop(_, JawNumber::Closed)
            | Self::Setting { turns: false, .. }
            | Self::End(_, EndNumber::Gap | EndNumber::Span)
            | Self::Section(..)
            | Self::Outline(..)
            | Self::Room(_) => Some(Quantity::Length),
        }
    }

    /// Which values it may have.
    #[must_use]
    pub fn values(self) -> Values {
        match self {
            Self::Joints(number) | Self::Pin(_, number) | Self::Joint(_, number) => match number {
                JointNumber::Friction => Values::Friction,
                JointNumber::Diameter => Values::Positive,
                JointNumber::Clearance => Values::NotNegative,
            },
            Self::Outline(_, number) => number.values(),
            Self::Job(number) => number.values(),
            Self::Hand(number) => number.values(),
            Self::Work(_, number) => number.values(),
            Self::Life(number) => number.values(),
            Self::Slot(_, SlotNumber::Friction)
            | Self::Cam(_, CamNumber::Friction)
            | Self::Gears(_, GearNumber::Friction)
            | Self::Ratchet(RatchetNumber::Friction) => Values::Friction,
            Self::Ratchet(RatchetNumber::Pin(_) | RatchetNumber::Flank) => Values::Any,
            Self::Gears(_, GearNumber::Backlash)
            | Self::Ratchet(RatchetNumber::Spring | RatchetNumber::OverTravel) => {
                Values::NotNegative
            }
            Self::Gears(..) | Self::Ratchet(_) | Self::StopRate(_) => Values::Positive,
            Self::Cam(
                _,
                CamNumber::Point(..) | CamNumber::CentreX | CamNumber::CentreY | CamNumber::Flat,
            ) => Values::Any,
            Self::Cam(..) => Values::Positive,
            Self::Slot(_, number) if number.is_size() => Values::Positive,
            Self::Spring(_, SpringNumber::Rate | SpringNumber::TurnRate | SpringNumber::Free)
            | Self::Operators(_)
            | Self::Section(..)
            | Self::Material(..)
            | Self::Room(RoomNumber::Finger)
            | Self::End(_, EndNumber::Span) => Values::Positive,
            Self::Spring(_, SpringNumber::Wound(WoundNumber::Leg(_))) => Values::NotNegative,
            Self::Spring(_, SpringNumber::Wound(_)) => Values::Positive,
            Self::Spring(_, SpringNumber::Push | SpringNumber::Pull)
            | Self::Room(RoomNumber::Apart | RoomNumber::Margin)
            | Self::Grip(_) => Values::NotNegative,
            Self::Slot(..)
            | Self::Spring(..)
            | Self::Line { .. }
            | Self::Jaw(..)
            | Self::Stop(..)
            | Self::Setting { .. }
            | Self::Room(RoomNumber::Up | RoomNumber::Base(_))
            | Self::End(..) => Values::Any,
        }
    }

    /// Whether tools are made with it, so that it may have a tolerance.
    #[must_use]
    pub fn is_made(self) -> bool {
        !matches!(
            self,
            Self::Ratchet(_)
                | Self::StopRate(_)
                | Self::Room(_)
                | Self::Job(_)
                | Self::Operators(_)
                | Self::Life(_)
                | Self::Material(_, MaterialNumber::Density | MaterialNumber::Price)
                | Self::End(..)
                | Self::Setting { .. }
                | Self::Grip(_)
                | Self::Hand(
                    HandNumber::Limit
                        | HandNumber::HandleLength
                        | HandNumber::HandleWidth
                        | HandNumber::HandleDepth
                        | HandNumber::Glove
                )
                | Self::Work(_, WorkNumber::Rigid)
                | Self::Spring(_, SpringNumber::Wound(WoundNumber::Cycles))
        )
    }

    /// The same number in a tool that faces `jaw` instead of its first.
    #[must_use]
    pub fn seen_from(self, jaw: JawId) -> Self {
        match self {
            Self::Jaw(own, number) => Self::Jaw(own.seen_from(jaw), number),
            Self::Work(own, number) => Self::Work(own.seen_from(jaw), number),
            _ => self,
        }
    }

    /// Whether the linkage stands otherwise with another value.
    #[must_use]
    pub fn moves(self) -> bool {
        match self {
            Self::Slot(_, number) => {
                number == SlotNumber::Radius
                    || !(number.is_size() || number == SlotNumber::Friction)
            }
            Self::Cam(_, number) => !matches!(
                number,
                CamNumber::Friction
                    | CamNumber::Width
                    | CamNumber::RollerPin
                    | CamNumber::RollerWidth
            ),
            Self::Line { .. }
            | Self::Jaw(..)
            | Self::Stop(..)
            | Self::Setting { .. }
            | Self::End(..)
            | Self::Grip(_) => true,
            Self::Hand(number) => number == HandNumber::Thickness,
            Self::Gears(_, number) => number == GearNumber::Backlash,
            Self::Joints(number) | Self::Pin(_, number) | Self::Joint(_, number) => {
                number == JointNumber::Clearance
            }
            _ => false,
        }
    }
}
