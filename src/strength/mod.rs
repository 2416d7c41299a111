//! Forces to factors: how near to yielding, tearing or buckling every pin and part comes.
//!
//! # What is checked
//! - **pins** with a diameter and a material: shear in one or two planes, bending across the
//!   plates;
//! - **every part with a section**: bearing in its holes, and
//!   - *two-pin links*: gross and net section, tear-out in tension, buckling in compression, in
//!     the plane and out of it (plates each on its own, K = 1 both ways);
//!   - *handles*: bending with axial force and transverse shear along the hand line, from the free
//!     end towards the pin, with the tapering depth;
//!   - *plates with an outline* and no width of their own: bending with axial force and shear at cuts all
//!     along the border, as a bent beam where a cut ends in a hollow arc;
//!   - *all others, and handles*: bending with axial force at every point that carries a force,
//!     the part taken as a beam through these points in the order along its longest axis.
//!
//! Both bending lines are for parts whose forces add up to nothing. Where they do not, something
//! holds the part that is not in the file, and nobody knows where: such a part has none, and is said
//! not to be judged.
//!
//! # Against what
//! Normal stress and bearing against yield, shear against 0.577 yield (distortion energy),
//! tear-out against 0.577 of the ultimate strength, buckling against the critical load.
//!
//! # Under what
//! Two load cases at each position and grip: the hand force that the work needs, and the hand
//! limit (or, without one, the hand force of the tool file). Each check keeps its worst.
//!
//! Signs: N tension positive, along the line outwards; moments counter-clockwise. Static, planar
//! and nominal: no stress concentration, fatigue, impact, or wear. What could not be checked, and
//! why, is in [`Strength::notes`].

mod beams;
mod cases;
mod checks;
mod contacts;
mod cuts;
mod edges;
mod flats;
pub mod formulas;
mod handles;
mod holes;
mod knots;
mod ledger;
mod life;
mod links;
mod made;
mod note;
mod pins;
mod result;
mod springs;
mod teeth;
mod throats;
mod wires;

pub(crate) use beams::{longest, seat};
pub use cases::{Case, LoadCase, hand_forces, heaviest};
pub use checks::{Checks, check};
pub use edges::{EdgeStress, edge_stresses};
pub use formulas::Formula;
pub(crate) use holes::throats;
pub(crate) use knots::{Knot, balanced, knots, moment};
pub use life::{Lasting, NotLasting, lasting, loading};
pub(crate) use made::{MadePlates, Redrawn};
pub use note::Note;
pub(crate) use result::Strained;
pub use result::{Factor, Input, Place, Position, Strength, Subject};
pub use springs::{
    SpringAt, SpringCheck, SpringCheckKind, SpringFault, SpringFound, SpringTravel, judge_spring,
};
pub(crate) use throats::Throats;
pub use wires::{WireChoice, WireChoices, WireWish, choose_wire};
