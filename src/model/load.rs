//! What loads the linkage besides the hand: the work, springs, friction at the pins.

use super::PointRef;

/// What the job needs at the first jaw.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// `[gap mm, force N]`, two rows or more, sorted by falling gap, no gap twice.
    pub need: Vec<[f64; 2]>,
    /// Free text: how it was measured.
    pub note: Option<String>,
    /// Thickness of a rigid workpiece, mm, if the jaw presses one.
    pub rigid: Option<f64>,
}

impl Work {
    /// Jaw force needed at a gap, N: straight lines between the rows; nothing before the work is
    /// touched (a gap wider than the first row's), the last row's force beyond the last.
    #[must_use]
    pub fn at(&self, gap: f64) -> f64 {
        match (self.need.first(), self.need.last()) {
            (Some(first), _) if gap > first[0] => 0.0,
            (_, Some(last)) if gap <= last[0] => last[1],
            _ => self
                .need
                .windows(2)
                .find(|w| gap <= w[0][0] && gap >= w[1][0])
                .map_or(0.0, |w| {
                    w[0][1] + (w[1][1] - w[0][1]) * (gap - w[0][0]) / (w[1][0] - w[0][0])
                }),
        }
    }
}

impl Work {
    /// Gaps (mm) of the rows at which the need has a peak (`sense` 1) or a dip (−1): a curve may have one
    /// that is narrower than the steps of a stroke.
    #[must_use]
    pub fn turns(&self, sense: f64) -> Vec<f64> {
        // Nothing before the work is touched, the last row's force beyond it.
        let beyond = self.need.last().map_or(0.0, |row| row[1]);
        let forces = self.need.iter().map(|row| row[1]);
        let forces: Vec<f64> = std::iter::once(0.0)
            .chain(forces)
            .chain([beyond])
            .map(|force| sense * force)
            .collect();
        let rows = self.need.iter().zip(forces.windows(3));
        rows.filter_map(|(row, three)| match three {
            [before, here, after] => {
                let turns = here >= before && here >= after && (here > before || here > after);
                turns.then_some(row[0])
            }
            _ => None,
        })
        .collect()
    }
}

/// How a pin passes its load on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shear {
    /// One shear plane.
    Single,
    /// Two shear planes (fork and eye).
    Double,
}

/// Data of one pin joint.
#[derive(Debug, Clone, PartialEq)]
pub struct JointData {
    /// Pin diameter, mm.
    pub diameter: Option<f64>,
    /// Coefficient of friction in the joint.
    pub friction: f64,
    /// Hole minus pin, on the diameter, mm.
    pub clearance: f64,
    /// Number of shear planes.
    pub shear: Shear,
    /// Index into [`super::Tool::materials`].
    pub material: Option<usize>,
}

impl Default for JointData {
    fn default() -> Self {
        Self {
            diameter: None,
            friction: 0.0,
            clearance: 0.0,
            shear: Shear::Double,
            material: None,
        }
    }
}

/// A spring.
#[derive(Debug, Clone, PartialEq)]
pub struct Spring {
    /// Between what it acts.
    pub ends: SpringEnds,
    /// N/mm, or N mm/rad about a pin. Greater than zero.
    pub rate: f64,
    /// How its slack state or its load at the open end is given.
    pub set: SpringSet,
    /// In which sense it acts.
    pub acts: Acts,
}

/// What a spring connects.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpringEnds {
    /// Two points of different parts.
    Points(PointRef, PointRef),
    /// Two parts about their common pin: the angle meant is that of `second` against `first`.
    Pin {
        /// First of the file's parts on that pin.
        first: usize,
        /// Second of the file's parts on that pin.
        second: usize,
    },
}

/// How a spring's force is fixed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpringSet {
    /// Free length, mm (or angle at which it is slack, rad).
    Free(f64),
    /// Force (N) or moment (N mm) at the open end of the stroke, positive when it pushes the
    /// points apart (or turns the second part counter-clockwise).
    Preload(f64),
}

/// Senses in which a spring acts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Acts {
    /// Both.
    Both,
    /// It can only push: slack when longer than free.
    Push,
    /// It can only pull: slack when shorter than free.
    Pull,
}
