//! A spring as it is bought: wire, coils, ends.

use crate::coils::{CoilEnds, Helical, Seats, Torsion, Wire};

/// A spring of round wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wound {
    /// Diameter of the wire, mm.
    pub wire: f64,
    /// How wide its coils are.
    pub across: Across,
    /// Active coils; of a spring about a pin those of its body.
    pub turns: f64,
    /// What is particular to its kind, which is that of [`super::SpringEnds`].
    pub form: Form,
    /// What it is made of.
    pub of: Wire,
    /// Shear modulus, MPa, of a spring about a pin the modulus of elasticity, where it is not that of the wire.
    pub modulus: Option<f64>,
    /// Tensile strength, MPa, where it is not that of the wire's standard.
    pub ultimate: Option<f64>,
    /// How often it has to be loaded and let go.
    pub cycles: Option<f64>,
}

/// What the width of the coils is given by, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Across {
    /// Mean diameter.
    Mean(f64),
    /// Outside diameter.
    Outside(f64),
}

/// What is particular to a kind of spring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Form {
    /// Between two points.
    Helical {
        /// Its ends, which say whether it pushes or pulls.
        ends: CoilEnds,
        /// How its ends are held.
        seats: Seats,
        /// What it runs in or on.
        guide: Option<Guide>,
    },
    /// About a pin.
    Torsion {
        /// Lengths of its legs, mm.
        legs: [f64; 2],
        /// What it sits on, diameter, mm.
        mandrel: Option<f64>,
    },
}

/// What keeps a spring straight, diameter, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Guide {
    /// It runs in a bore.
    Bore(f64),
    /// It runs on a pin.
    Pin(f64),
}

/// Mean diameter over that of the wire below which nothing is wound: what is asked of thinner coils is answered for
/// this, so that every number stays finite. The reader of the tool file asks for [`Wound::LEAST_INDEX`].
const FLOOR: f64 = 1.2;

impl Wound {
    /// Mean diameter over that of the wire below which no maker winds (common practice: 4 to 12, less with care).
    pub const LEAST_INDEX: f64 = 2.0;

    /// Mean diameter of the coils, mm.
    #[must_use]
    pub fn coil(&self) -> f64 {
        let mean = match self.across {
            Across::Mean(mean) => mean,
            Across::Outside(outside) => outside - self.wire,
        };
        mean.max(FLOOR * self.wire)
    }

    /// Modulus of elasticity and shear modulus of its wire, MPa.
    #[must_use]
    pub fn moduli(&self) -> [f64; 2] {
        let [e, g] = self.of.moduli();
        match self.form {
            Form::Helical { .. } => [e, self.modulus.unwrap_or(g)],
            Form::Torsion { .. } => [self.modulus.unwrap_or(e), g],
        }
    }

    /// Tensile strength of its wire, MPa; `None` where none is known for that diameter.
    #[must_use]
    pub fn strength(&self) -> Option<f64> {
        self.ultimate.or_else(|| self.of.strength(self.wire))
    }

    /// As a helical spring.
    #[must_use]
    pub fn helical(&self) -> Option<Helical> {
        let Form::Helical { ends, .. } = self.form else {
            return None;
        };
        Some(Helical {
            wire: self.wire,
            coil: self.coil(),
            turns: self.turns,
            ends,
        })
    }

    /// As a torsion spring.
    #[must_use]
    pub fn torsion(&self) -> Option<Torsion> {
        let Form::Torsion { legs, .. } = self.form else {
            return None;
        };
        Some(Torsion {
            wire: self.wire,
            coil: self.coil(),
            turns: self.turns,
            legs,
        })
    }

    /// N/mm, or N mm/rad about a pin.
    #[must_use]
    pub fn rate(&self) -> f64 {
        let [e, g] = self.moduli();
        let helical = self.helical().map(|spring| spring.rate(g));
        let torsion = self.torsion().map(|spring| spring.rate(e));
        helical.or(torsion).unwrap_or(0.0)
    }
}
