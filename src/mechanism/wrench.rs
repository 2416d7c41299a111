//! What acts on a body: forces with their places, couples, and their sum.

use super::cross;

/// Forces on a body: sum (N) and moment about its entry (N mm).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Wrench {
    /// Sum of the forces.
    pub force: [f64; 2],
    /// Moment about the body's entry.
    pub moment: f64,
}

impl Wrench {
    /// Adds a force at the end of an arm from the entry.
    #[inline]
    pub fn push(&mut self, arm: [f64; 2], force: [f64; 2]) {
        self.force[0] += force[0];
        self.force[1] += force[1];
        self.moment += cross(arm, force);
    }
}

/// One thing that a joint does to one body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Effort {
    /// A force.
    Force {
        /// The body.
        body: usize,
        /// From the body's entry to the place, mm.
        arm: [f64; 2],
        /// Where it acts, in the tool's axes, mm.
        place: [f64; 2],
        /// In the tool's axes, N.
        force: [f64; 2],
    },
    /// A couple.
    Couple {
        /// The body.
        body: usize,
        /// Counter-clockwise, N mm.
        moment: f64,
    },
}

impl Effort {
    /// Adds it to the sum of its body.
    #[inline]
    pub fn add_to(self, sums: &mut [Wrench]) {
        match self {
            Self::Force {
                body, arm, force, ..
            } => sums[body].push(arm, force),
            Self::Couple { body, moment } => sums[body].moment += moment,
        }
    }
}
