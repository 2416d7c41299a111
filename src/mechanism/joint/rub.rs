//! What rubbing at a joint costs.

/// One of the two places at which a joint may rub. A pin and a slider rub at the first whichever way they
/// are pressed; a roller rolls on one wall of its slot or on the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wall {
    /// Where a positive load presses.
    First,
    /// Where a negative load presses.
    Second,
}

impl Wall {
    /// Both.
    pub const ALL: [Self; 2] = [Self::First, Self::Second];

    /// Sign of the load that presses there.
    #[inline]
    #[must_use]
    pub fn sign(self) -> f64 {
        match self {
            Self::First => 1.0,
            Self::Second => -1.0,
        }
    }
}

/// Friction at a joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rub {
    /// Friction for a contact force of 1 N: N along a joint that slides, N mm at one that turns. Of teeth in
    /// mesh the contact force is a moment already, and this is 1.
    pub drag: f64,
    /// How the contact force follows from the joint's load.
    pub force: ContactForce,
    /// The contact only pushes: where the load does not press there, it lifts off.
    pub lifts: bool,
}

/// The contact force (N) that rubs, from the two numbers of a joint's load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ContactForce {
    /// The length of the vector that they are the components of.
    Length,
    /// The first, or `edge` (1/mm) times the second where that is greater.
    Greater {
        /// Contact force that a moment of 1 N mm makes.
        edge: f64,
    },
    /// The first, where it has this sign; none where it has the other.
    Pressed {
        /// 1 or −1.
        sign: f64,
    },
    /// The first times one of two weights (mm), by which of the joint's two bodies drives.
    Driven {
        /// Where the first body drives.
        first: f64,
        /// Where the second does.
        second: f64,
        /// The first body drives where the load has the sign of the rubbing; else where it has the other.
        opposed: bool,
    },
}

impl ContactForce {
    /// The contact force, N; `sense`: sign of the rubbing.
    #[inline]
    #[must_use]
    pub fn of(self, [a, b]: [f64; 2], sense: f64) -> f64 {
        match self {
            Self::Length => (a * a + b * b).sqrt(),
            Self::Greater { edge } => a.abs().max(edge * b.abs()),
            Self::Pressed { sign } => (sign * a).max(0.0),
            Self::Driven { .. } => self.weight(a, sense) * a.abs(),
        }
    }

    /// The weight of a load that is driven.
    #[inline]
    fn weight(self, load: f64, sense: f64) -> f64 {
        match self {
            Self::Driven {
                first,
                second,
                opposed,
            } => {
                if (load * sense > 0.0) == opposed {
                    first
                } else {
                    second
                }
            }
            _ => 1.0,
        }
    }

    /// What the contact force changes by at most where the load changes by these two numbers, N.
    #[inline]
    #[must_use]
    pub fn most(self, by: [f64; 2]) -> f64 {
        match self {
            Self::Length | Self::Greater { .. } => self.of(by, 0.0),
            Self::Pressed { .. } => by[0].abs(),
            Self::Driven { first, second, .. } => first.max(second) * by[0].abs(),
        }
    }

    /// Its gradient by the two numbers.
    #[inline]
    #[must_use]
    pub fn slope(self, [a, b]: [f64; 2], sense: f64) -> [f64; 2] {
        match self {
            Self::Length => {
                let size = (a * a + b * b).sqrt();
                if size > 0.0 {
                    [a / size, b / size]
                } else {
                    [0.0; 2]
                }
            }
            Self::Greater { edge } if edge * b.abs() > a.abs() => [0.0, edge * b.signum()],
            Self::Greater { .. } => [a.signum(), 0.0],
            Self::Pressed { sign } if sign * a > 0.0 => [sign, 0.0],
            Self::Pressed { .. } => [0.0; 2],
            Self::Driven { .. } => [self.weight(a, sense) * a.signum(), 0.0],
        }
    }
}

impl Rub {
    /// Power lost (N mm per unit of motion, ≤ 0) at a contact force of 1 N and this rubbing rate.
    #[inline]
    #[must_use]
    pub fn power(&self, rate: f64) -> f64 {
        -self.drag * rate.abs()
    }
}
