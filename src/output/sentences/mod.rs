//! What more than one format says: each sentence is made here once, for terminal, picture and page.

pub(super) mod cams;
pub(super) mod demands;
mod emphasis;
pub(super) mod gears;
mod heights;
pub(super) mod job;
pub(super) mod life;
pub(super) mod loads;
pub(super) mod people;
pub(super) mod phrase;
pub(super) mod ratchet;
pub(super) mod room;
pub(super) mod setup;
pub(super) mod springs;
pub(super) mod stops;
pub(super) mod stroke;
pub(super) mod tolerance;
pub(super) mod trial;
pub(super) mod verdict;
pub(super) mod way;

pub use emphasis::unstyled;
pub(super) use emphasis::{Sentence, Tone};
