//! Where and how the hand holds the tool.

use super::{PartId, Place};

/// The hand on the tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Hand {
    /// The handle that the fingers close.
    pub handle: HandLine,
    /// The other handle, if the file gives one.
    pub against: Option<HandLine>,
    /// Distances along the centre line at which the tool may be held, mm. Never empty.
    pub grips: Vec<f64>,
    /// Direction of the hand force.
    pub push: Push,
    /// What takes the opposite of a hand force that is not across.
    pub palm: Palm,
    /// Hand force that the curves are drawn for, N.
    pub force: f64,
    /// The most the operator may be asked for.
    pub limit: Option<HandLimit>,
    /// Thickness of each handle at the grip, mm: added to the centre-line distance to give the
    /// span.
    pub thickness: f64,
    /// Size of the handle that the fingers close, if stated.
    pub size: Option<HandleSize>,
    /// Thickness of a glove's material, mm.
    pub glove: f64,
}

/// Size of a handle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandleSize {
    /// Length of what is held, back from the outer end of the hand line, mm.
    pub length: f64,
    /// Its section across the plane of the linkage, mm.
    pub width: Option<f64>,
    /// Its section in that plane, mm.
    pub depth: Option<f64>,
}

/// The centre line of a handle, from the pivot end.
#[derive(Debug, Clone, PartialEq)]
pub struct HandLine {
    /// The part that carries it.
    pub part: PartId,
    /// Its points in that part's axes, two or more.
    pub points: Vec<Place>,
    /// Straight pieces (`false`) or a smooth curve (`true`) through the points.
    pub smooth: bool,
}

/// Direction of the hand force at the grip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Push {
    /// Towards the facing point of the other handle, which carries the opposite force.
    Across,
    /// At right angles to the handle line, in the sense that closes the tool.
    Square,
    /// A fixed direction in the fixed part's axes, rad.
    Fixed(f64),
}

/// What takes the opposite of a hand force that pushes square to the handle or in a fixed direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Palm {
    /// The part of the other handle, or where there is none the fixed part.
    #[default]
    Usual,
    /// This part lies in the palm.
    Part(PartId),
    /// Nothing of the tool: it is mounted on a bench, which holds the fixed part.
    Bench,
}

/// The most the operator may be asked for.
#[derive(Debug, Clone, PartialEq)]
pub enum HandLimit {
    /// One force at any span, N.
    Force(f64),
    /// Force over span: `[span mm, force N]`, increasing in span, two rows or more.
    Table(Vec<[f64; 2]>),
    /// The name of a built-in published set.
    Named(String),
}
