//! A tool whose jaw the hand opens, and what mends it.

use crate::model::GripId;

/// The hand closes the jaw that leads the stroke at no place of the stroke. Lengths in mm, angles in rad.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PushedOpen {
    /// Grip (index) at which it is so.
    pub grip: GripId,
    /// There is another grip at which the hand closes the jaw.
    pub other_grip: bool,
    /// Gap at open and shut.
    pub gap: [f64; 2],
    /// Span at that grip, at open and shut.
    pub span: [Option<f64>; 2],
    /// Jaw force per hand force at open, or at the first place after it that has one.
    pub ratio: f64,
    /// The lines that turn the jaw round.
    pub spread: Spread,
}

/// How a jaw is turned round that is meant to spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Direction from the jaw's `on` to its `against` where it is spread as far as it goes, in the axes
    /// of `against`'s part, rad: its axis turned round. `None` where the points stand on each other.
    pub outwards: Option<f64>,
    /// Distance of the two points there, along that axis, mm.
    pub apart: f64,
    /// Way that it spreads, mm.
    pub way: f64,
}
