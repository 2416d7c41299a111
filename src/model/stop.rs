//! Stops: two faces that meet and end the stroke. They push only, and add no motion.

use super::{Numbered, PointRef, StopId};

/// Two faces that meet.
#[derive(Debug, Clone, PartialEq)]
pub struct Stop {
    /// Unique name.
    pub name: String,
    /// The point that the stop pushes along +axis.
    pub on: PointRef,
    /// The point that it meets.
    pub against: PointRef,
    /// Direction from `against` to `on` as they come apart, in `against`'s axes, rad; `None`: along the line
    /// between the points.
    pub axis: Option<f64>,
    /// Point distance along the axis at which the faces meet, mm.
    pub closed: f64,
    /// Force that presses lug and pad together by a millimetre, N/mm; `None`: they are rigid.
    pub rate: Option<f64>,
    /// Which end of the stroke it is for.
    pub ends: StopEnd,
}

impl Numbered<StopId> for Stop {}

/// The end of the stroke that a stop is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StopEnd {
    /// It keeps the tool from opening further.
    Open,
    /// It keeps the tool from closing further.
    Shut,
}

/// What ends a stroke before it is shut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Met {
    /// The dies of this jaw have met.
    Dies(super::JawId),
    /// This stop is met.
    Stop(StopId),
    /// The contact comes to the end of the curved face of this cam: index into [`super::Tool::cams`].
    Face(usize),
}
