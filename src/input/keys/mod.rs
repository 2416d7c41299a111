//! Every key of the tool file, written down once: the readers take from here which keys a table has, the
//! schema for editors and `jawforce keys` are made from it.

mod gears;
mod grasp;
mod job;
mod kind;
mod life;
mod listing;
mod people;
mod plate;
mod ratchet;
mod root;
mod schema;
mod shop;
mod springs;
mod tool;
mod work;

pub use kind::Kind;
pub use listing::{Listed, ListedKey, listed};
pub use schema::schema;

pub(super) use gears::GEARS;
pub(super) use grasp::{AGAINST, HAND, JAW, STOP, STROKE, TARGET};
pub(super) use job::{ADJUSTER, AIM, AT, DEMAND, JOINTS, MATERIAL, ONE_JOINT, SECTION, TUNE};
pub(super) use life::{LIFE, TRIAL};
pub(super) use people::{HANDLE_SIZE, JOB, OPERATORS};
pub(super) use plate::{HOLE, LEG, MIRROR, OUTLINE};
pub(super) use ratchet::{PAWL, RATCHET};
pub(super) use root::ROOT;
pub(super) use shop::{BENCH, ROOM, STOCK};
pub(super) use springs::{GUIDE, SPRING};
pub(super) use tool::{CAM, FACE, PART, ROLLER, SCALE, SLOT, TOOL};
pub(super) use work::WORK;

/// A table of the tool file.
#[derive(Debug)]
pub struct Table {
    /// Its keys, in the order in which one writes them.
    pub keys: &'static [Key],
    /// The key that stands for any name, where the file's own names may be keys too.
    pub named: Option<&'static Key>,
    /// Keys of which there is exactly one.
    pub one_of: &'static [&'static str],
    /// Keys that go with another key only: the one, the other.
    pub only_with: &'static [(&'static str, &'static str)],
}

/// A key of a table.
#[derive(Debug)]
pub struct Key {
    /// As it is written.
    pub name: &'static str,
    /// What it takes.
    pub kind: Kind,
    /// What holds where it is left out.
    pub omitted: Omitted,
    /// A value that would be right, as it is written; nothing for a table with a header of its own.
    pub example: &'static str,
    /// What it means, in a sentence.
    pub meaning: &'static str,
}

/// What holds where a key is left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Omitted {
    /// The file cannot be used.
    Wrong,
    /// The same as with this value.
    Takes(&'static str),
    /// What these words say.
    Means(&'static str),
    /// It is needed in some cases, or one of several is; in words which.
    Sometimes(&'static str),
    /// There is none.
    Nothing,
}

/// What holds for all keys.
pub const RULES: &[&str] = &[
    "Bare numbers are in the units of [tool], angles in degrees; any quantity may instead be a text \
     with a unit of its own: \"2.4 in\", \"18.5 mm\", \"33 lbf\", \"4.5 kN\", \"12 N m\", \"0.5 rad\", \
     \"355 MPa\", \"29000 ksi\".",
    "Names are letters, digits, - and _.",
];

/// A table that has these keys and no others.
const fn table(keys: &'static [Key]) -> Table {
    Table {
        keys,
        named: None,
        one_of: &[],
        only_with: &[],
    }
}

/// A key, in the order in which `jawforce keys` shows it.
const fn key(
    name: &'static str,
    kind: Kind,
    omitted: Omitted,
    example: &'static str,
    meaning: &'static str,
) -> Key {
    Key {
        name,
        kind,
        omitted,
        example,
        meaning,
    }
}

impl Table {
    /// The names of its keys.
    pub(super) fn names(&self) -> Vec<&'static str> {
        self.keys.iter().map(|key| key.name).collect()
    }
}
