//! What could not be checked, and why.

/// Something that was left out of the checks. Pins are indices of joints, parts of parts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Note {
    /// These pins have no diameter.
    NoDiameter(Vec<usize>),
    /// These pins have no material.
    NoPinMaterial(Vec<usize>),
    /// These parts have no section.
    NoSection(Vec<usize>),
    /// The bending of these pins needs the thickness of both parts.
    NoPlates(Vec<usize>),
    /// Two single plates cannot load these pins in double shear.
    SinglePlates(Vec<usize>),
    /// These pins join three parts or more: each joint is checked by itself.
    Shared(Vec<usize>),
    /// Materials (indices) without an ultimate strength.
    NoUltimate(Vec<usize>),
    /// Materials (indices) without Young's modulus.
    NoModulus(Vec<usize>),
    /// These parts have no edge distance.
    NoEdge(Vec<usize>),
    /// These parts have a hole as large as the part is deep.
    NoMaterialLeft(Vec<usize>),
    /// These parts have a hole that reaches the end.
    HoleAtEnd(Vec<usize>),
    /// Buckling is for two-pin links, and these are none.
    NoBuckling(Vec<usize>),
    /// These parts are taken as beams through the points that carry forces.
    Beams(Vec<usize>),
    /// Something acts on these parts beside their hand line, farther off than they are deep.
    Arms(Vec<usize>),
    /// The forces on these parts do not add up: something outside the file holds them.
    Unbalanced(Vec<usize>),
    /// These pins or parts had a force that is not a number.
    NotANumber(Vec<usize>, Vec<usize>),
    /// A redundant bar shares the load of these pins, so that nothing is known of them and of
    /// these parts.
    Indeterminate(Vec<usize>, Vec<usize>),
    /// Positions of the stroke at a toggle, and load cases elsewhere, that have no forces.
    NoForces {
        /// Positions at which the first jaw stands still.
        toggles: usize,
        /// Load cases (a position and a grip) in which friction locks the tool or the springs
        /// hold the hand.
        refused: usize,
    },
    /// There was no load case to check.
    NoCase,
}
