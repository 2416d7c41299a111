//! How much a tool gives: what its parts and pins yield elastically under load.
//!
//! Everywhere else the parts are rigid. Here a jaw force of 1 N is put on, the hand holding the
//! tool still, and the forces that it causes in every part and pin are taken twice: by Castigliano's
//! theorem (the unit-load method: J. M. Gere, *Mechanics of Materials*, 6th ed., sec. 9.8–9.9; Beer,
//! Johnston and DeWolf, *Mechanics of Materials*, ch. 11) the jaws spread, per unit of jaw force, by
//!
//! ```text
//! sum over parts of  integral of n² / (E A) + m² / (E I)  +  sum over pins of the shear
//! ```
//!
//! with n and m the axial force and the moment per unit of jaw force. And by virtual work the same
//! forces are the derivatives of the gap by every dimension ([`gap_derivatives`]).
//!
//! # What is taken
//! - **parts with a section** whose material has a modulus: as straight beams, as for strength,
//!   through the points that carry forces; handles along the hand line, with their tapering depth; plates
//!   whose outline tells the depth by their cuts, as bent beams at hollow arcs;
//! - **pins** with a diameter and a material with a modulus, between parts with sections: shear.
//!
//! Everything else is rigid and listed so ([`Give::rigid`]): a give with rigid parts in it is too
//! small. Left out: shear of the parts, contact in the holes, bending of the pins, holes in the
//! sections, friction, clearance. Small deformations: forces are those of the undeformed shape.
//!
//! Signs: a spread opens the gap, and is positive for a jaw force that pushes it open.

mod beam;
mod elastic;
mod handle;
mod pin;
mod plate;
mod press;
mod rates;
mod result;
mod teeth;

pub use elastic::{Elastic, give};
pub use pin::{CIRCLE_SHEAR, pin_shear};
pub use press::{NoPress, Press, Stop, press};
pub use rates::{GapRates, gap_derivatives, gap_rates};
pub use result::{Flexure, Give, NoGive, Rigid, Share, Why};
