//! Forces: how hard.
//!
//! Two routes to the same jaw force, checked against each other at every position:
//!
//! - **virtual work**: hand power over jaw closing rate, from real velocities of the bodies
//!   (J. L. Meriam and L. G. Kraige, *Engineering Mechanics: Statics*, ch. 7);
//! - **free bodies**: every moving part in equilibrium under hand, jaw, springs and joint forces.
//!   The cut forces and the jaw force come from the transposed closure gradients, the tree pins
//!   by adding up from the leaves; what is left over on any part is the residual.
//!
//! Signs: the pin force listed is the one on the later part by the carrier; the jaw force pushes
//! the `on` point along +axis; tension is positive.

mod answer;
mod ask;
mod at_stop;
mod balance;
mod forces;
mod friction;
mod handles;
mod indeterminate;
mod links;
mod loaded;
mod locate;
mod passes;
mod pawl;
mod rates;
mod reach;
mod rig;
mod rubbing;
mod set_up;
mod sheet;
mod sheeted;
mod springs;
mod squeeze;
mod stand;
mod takers;
mod unit;

pub use answer::Answer;
pub use ask::{Answers, Ask, Holding};
pub use at_stop::OnStop;
pub use balance::Balance;
pub use forces::Forces;
pub use friction::{Contact, Effect, contacts};
pub use handles::{Touch, handles_touch};
pub use indeterminate::indeterminate_joints;
pub use links::Links;
pub use loaded::{Burden, Hold, Loaded};
pub use locate::{LocateError, locate, locate_fixed};
pub use passes::{passes, passes_between, span_passes, work_turns};
pub use pawl::PawlDrag;
pub use rates::closing_senses;
pub use reach::reaching;
pub use rig::{MountError, Mounted, Rig};
pub use set_up::ratchet_ends;
pub use sheet::{ForceKind, PointForce, Sheet};
pub use springs::{SpringState, Springs};
pub use stand::{Absent, Stand};
pub use unit::unit_sheet;
