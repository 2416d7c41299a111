//! What is wrong with an outline, as data: which entry, where, by how much.

use crate::geometry::Vec2;

/// Why there is no outline. Entries are steps of a path, counted from zero; the straight piece that closes
/// a path by itself comes after the last. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fault {
    /// A number of this entry (the start of a path counts with the first) is not finite or beyond
    /// [`FARTHEST`](super::FARTHEST).
    OutOfRange {
        /// Step of the path, or disc.
        entry: usize,
    },
    /// A number of this hole is not finite, beyond [`FARTHEST`](super::FARTHEST), or its size is not positive.
    HoleSize {
        /// Which hole.
        hole: usize,
    },
    /// A path of fewer than two pieces.
    TooFew,
    /// A piece shorter than [`LEAST`](super::LEAST).
    Short {
        /// Step of the path.
        entry: usize,
        /// Its length.
        length: f64,
    },
    /// An arc whose circle does not reach from its start to its end.
    ArcTooShort {
        /// Step of the path.
        entry: usize,
        /// The radius asked for, as given.
        radius: f64,
        /// The smallest radius that reaches.
        least: f64,
    },
    /// A corner to be rounded whose two pieces are not both straight.
    RoundNotStraight {
        /// Step at whose end the corner is.
        entry: usize,
    },
    /// A corner to be rounded by a radius that is no length of its own, or for which its two sides are too
    /// short.
    RoundTooLarge {
        /// Step at whose end the corner is.
        entry: usize,
        /// The radius asked for.
        radius: f64,
        /// The largest that fits beside the other corners of both sides.
        largest: f64,
    },
    /// The outline crosses, touches or folds back on itself.
    Crosses {
        /// Two steps of the path (equal inside one smooth run).
        entries: [usize; 2],
        /// Where.
        at: Vec2,
    },
    /// The outline runs clockwise.
    Clockwise,
    /// So many pieces lie side by side that a check for crossings would take too long.
    TooIntricate,
    /// A hole wholly outside the outline, or wholly inside another opening.
    HoleOutside {
        /// Which hole.
        hole: usize,
    },
    /// A hole over the outline's edge, or over the edge of a window between belts.
    HoleOverEdge {
        /// Which hole.
        hole: usize,
        /// Step of the path that it runs over.
        entry: usize,
        /// Where.
        at: Vec2,
    },
    /// Two holes that meet.
    HolesOverlap {
        /// Which holes.
        holes: [usize; 2],
        /// Where.
        at: Vec2,
    },
    /// A disc whose radius is not positive.
    DiscSize {
        /// Which disc.
        disc: usize,
    },
    /// A belt that names no disc, or one that is not there.
    BeltWithoutDisc {
        /// Which belt.
        belt: usize,
    },
    /// A belt that touches none of the others.
    BeltsApart {
        /// Which belt.
        belt: usize,
    },
    /// A fillet radius that is not finite or negative, or for which no outline comes out.
    Throat {
        /// The radius asked for.
        radius: f64,
    },
    /// More discs or belts than can be joined.
    TooManyDiscs {
        /// How many there are.
        count: usize,
    },
    /// A line to mirror about that has no length.
    MirrorWithoutLine,
}

impl Fault {
    /// The same with other names for its entries.
    #[must_use]
    pub fn with_entries(self, name: impl Fn(usize) -> usize) -> Self {
        match self {
            Self::OutOfRange { entry } => Self::OutOfRange { entry: name(entry) },
            Self::Short { entry, length } => Self::Short {
                entry: name(entry),
                length,
            },
            Self::ArcTooShort {
                entry,
                radius,
                least,
            } => Self::ArcTooShort {
                entry: name(entry),
                radius,
                least,
            },
            Self::RoundNotStraight { entry } => Self::RoundNotStraight { entry: name(entry) },
            Self::RoundTooLarge {
                entry,
                radius,
                largest,
            } => Self::RoundTooLarge {
                entry: name(entry),
                radius,
                largest,
            },
            Self::Crosses { entries, at } => Self::Crosses {
                entries: entries.map(name),
                at,
            },
            Self::HoleOverEdge { hole, entry, at } => Self::HoleOverEdge {
                hole,
                entry: name(entry),
                at,
            },
            other => other,
        }
    }
}
