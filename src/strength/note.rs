//! What could not be checked, and why.

use crate::model::{JointId, PartId};

/// Something that was left out of the checks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Note {
    /// These pins have no diameter.
    NoDiameter(Vec<JointId>),
    /// These pins have no material.
    NoPinMaterial(Vec<JointId>),
    /// These rollers have no width, or no material with a modulus.
    NoRoller(Vec<JointId>),
    /// The pins that these rollers turn on: the file has a diameter, but no material and no plates beside them.
    RollerPins(Vec<JointId>),
    /// Pins that ride in these slots without a roller: the file has no size of theirs.
    SlotPins(Vec<JointId>),
    /// These cams slide on a flat without `width`, or without a material with a modulus.
    NoFlat(Vec<JointId>),
    /// The teeth of these gears (indices) have no face, or no material.
    NoTeeth(Vec<usize>),
    /// There is no form factor for the teeth of these parts: inside teeth, fewer than the table has, or another
    /// pressure angle.
    NoForm(Vec<PartId>),
    /// These parts have no section.
    NoSection(Vec<PartId>),
    /// The bending of these pins needs the thickness of both parts.
    NoPlates(Vec<JointId>),
    /// Two single plates cannot load these pins in double shear.
    SinglePlates(Vec<JointId>),
    /// These pins join three parts or more: each joint is checked by itself.
    Shared(Vec<JointId>),
    /// Materials (indices) without an ultimate strength.
    NoUltimate(Vec<usize>),
    /// Materials (indices) without Young's modulus.
    NoModulus(Vec<usize>),
    /// These parts have no edge distance.
    NoEdge(Vec<PartId>),
    /// These parts have a hole as large as the part is deep.
    NoMaterialLeft(Vec<PartId>),
    /// These parts have a hole that reaches the end.
    HoleAtEnd(Vec<PartId>),
    /// Buckling is for two-pin links, and these are none.
    NoBuckling(Vec<PartId>),
    /// These parts are taken as beams through the points that carry forces.
    Beams(Vec<PartId>),
    /// Cuts of these parts run through an opening: both sides of it share the load, and were left out.
    Windows(Vec<PartId>),
    /// Something acts on these parts beside their hand line, farther off than they are deep.
    Arms(Vec<PartId>),
    /// The forces on these parts do not add up: something outside the file holds them.
    Unbalanced(Vec<PartId>),
    /// These pins or parts had a force that is not a number.
    NotANumber(Vec<JointId>, Vec<PartId>),
    /// A redundant bar shares the load of these pins, so that nothing is known of them and of
    /// these parts.
    Indeterminate(Vec<JointId>, Vec<PartId>),
    /// Positions of the stroke at a toggle, and load cases elsewhere, that have no forces.
    NoForces {
        /// Positions at which the jaw that carries the load stands still.
        toggles: usize,
        /// Load cases (a position and a grip) in which friction locks the tool or the springs
        /// hold the hand.
        refused: usize,
    },
    /// There was no load case to check.
    NoCase,
}
