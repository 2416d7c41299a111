//! A ratchet: teeth on one part, a pawl on another that lets it go on and not back.

use super::{JawId, JointId, PartId, Target};

/// Teeth and pawl.
#[derive(Debug, Clone, PartialEq)]
pub struct Ratchet {
    /// The part that has the teeth.
    pub teeth_on: PartId,
    /// The pin about which it turns against the part of the pawl.
    pub about: JointId,
    /// The pawl.
    pub pawl: Pawl,
    /// Radius of the tips of the teeth about that pin, mm.
    pub radius: f64,
    /// From tooth to tooth, rad.
    pub pitch: f64,
    /// Where the pawl falls behind the first tooth.
    pub engages: Target,
    /// Where the last tooth has let it go, at the latest.
    pub frees: Target,
    /// Angle from letting go on that the pawl needs to turn over, rad.
    pub over_travel: f64,
    /// Height of the teeth, mm.
    pub height: Option<f64>,
    /// Width of the teeth, mm.
    pub face: Option<f64>,
    /// Undercut of the flank that holds: its angle to the radius, rad.
    pub flank: f64,
    /// Coefficient of friction of pawl and tooth.
    pub friction: f64,
    /// Of the teeth.
    pub material: Option<usize>,
}

/// The pawl.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pawl {
    /// The part that carries it.
    pub on: PartId,
    /// Its pin in the axes of that part, mm.
    pub pin: [f64; 2],
    /// From the pin to the tip, mm.
    pub length: f64,
    /// Moment of its spring, N mm.
    pub spring: f64,
}

impl Ratchet {
    /// The same ratchet of a tool that faces `jaw` instead of its first.
    pub(super) fn face(&mut self, jaw: JawId) {
        for target in [&mut self.engages, &mut self.frees] {
            if let Target::Gap(_, of) = target {
                *of = of.seen_from(jaw);
            }
        }
    }
}
