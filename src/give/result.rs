//! What the calculation of the give answers.

use crate::model::Tool;
use crate::strength::Subject;

/// What something gives per unit of jaw force, by its kind, mm/N.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Flexure {
    /// By stretching and shortening.
    pub axial: f64,
    /// By bending in the plane.
    pub bending: f64,
    /// By shear of a pin.
    pub shear: f64,
}

impl Flexure {
    /// All of it, mm/N.
    #[must_use]
    pub fn sum(&self) -> f64 {
        self.axial + self.bending + self.shear
    }

    /// Both together.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            axial: self.axial + other.axial,
            bending: self.bending + other.bending,
            shear: self.shear + other.shear,
        }
    }
}

/// What one part or pin gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Share {
    /// Pin or part.
    pub subject: Subject,
    /// Its name: the joint's label, or the part's name.
    pub name: String,
    /// All that it gives, mm/N.
    pub per_force: f64,
    /// The same by its kind.
    pub flexure: Flexure,
    /// How much of it is the length of a handle that carries nothing but the hand force, mm/N: it
    /// moves the hand but not the linkage.
    pub hand_side: f64,
}

/// Why something is taken as rigid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// A part without a section.
    NoSection,
    /// The material has no modulus.
    NoModulus,
    /// A pin without a diameter.
    NoDiameter,
    /// A pin without a material.
    NoMaterial,
    /// A pin between parts of which one has no section, so that its length is not known.
    NoPlates,
    /// The forces on the part do not add up: something outside the file holds it.
    Unbalanced,
}

/// A part or pin that is taken as rigid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rigid {
    /// Pin or part.
    pub subject: Subject,
    /// Its name: the joint's label, or the part's name.
    pub name: String,
    /// Why.
    pub why: Why,
}

/// How much the jaws spread, and what it comes from.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Give {
    /// Spread of the first jaw per unit of its force, the hand held, mm/N.
    pub per_force: f64,
    /// How much of it only moves the hand: see [`Share::hand_side`], mm/N.
    pub hand_side: f64,
    /// Every part and pin that gives, the greatest first.
    pub shares: Vec<Share>,
    /// What is taken as rigid, parts first.
    pub rigid: Vec<Rigid>,
}

impl Give {
    /// Spread under a jaw force (N), mm.
    #[must_use]
    pub fn spread(&self, force: f64) -> f64 {
        self.per_force * force
    }

    /// Gap under a jaw force (N) where the rigid tool's gap is `gap`, with the hand held, mm.
    #[must_use]
    pub fn gap_under(&self, gap: f64, force: f64) -> f64 {
        gap + self.spread(force)
    }

    /// Spread per unit of jaw force with the linkage held at the roots of the handles, mm/N:
    /// without what only moves the hand.
    #[must_use]
    pub fn linkage(&self) -> f64 {
        self.per_force - self.hand_side
    }

    /// What the part or pin of that name gives.
    #[must_use]
    pub fn share(&self, name: &str) -> Option<&Share> {
        self.shares.iter().find(|share| share.name == name)
    }
}

/// Why there is no give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoGive {
    /// The hand stands still in the motion here, so that it cannot hold the jaw; or the linkage has
    /// redundant bars, whose forces statics alone cannot tell.
    NoHold,
}

/// The name of a part or pin.
pub(super) fn name(tool: &Tool, subject: Subject) -> String {
    match subject {
        Subject::Pin(joint) => tool.joint_label(joint),
        Subject::Contact(joint) => tool.contact_label(joint),
        Subject::Part(part) => tool
            .parts
            .get(part.index())
            .map_or(String::new(), |p| p.name.clone()),
    }
}
