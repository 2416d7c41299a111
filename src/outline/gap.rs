//! How near two lists of pieces come to each other.

use super::tree::{Search, Tree};
use super::{Piece, pair};
use crate::geometry::{Frame, Vec2};

/// How far the borders of two shapes are apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// Distance, mm; zero where they cross.
    pub distance: f64,
    /// The nearest point of each, as seen from outside.
    pub points: [Vec2; 2],
    /// The piece of each that the point lies on.
    pub pieces: [usize; 2],
}

/// The nearest points of two lists of pieces that stand at these places, `None` where they are not nearer
/// than `within`, mm.
pub(super) fn gap(
    first: (&Tree, &[Piece]),
    own: &Frame,
    second: (&Tree, &[Piece]),
    there: &Frame,
    within: f64,
) -> Option<Gap> {
    let frame = Frame {
        origin: own.own_place(there.origin),
        turn: own.own_direction(there.turn),
    };
    let mut search = Search {
        first,
        second,
        frame,
        best: pair::Near::NONE,
        pieces: None,
    };
    search.best.square = within * within;
    search.run();
    let pieces = search.pieces?;
    Some(Gap {
        distance: search.best.square.sqrt(),
        points: [search.best.first, search.best.second].map(|p| own.place(p)),
        pieces,
    })
}
