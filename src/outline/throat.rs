//! Fillets in hollow corners: a border that was grown by their radius, shrunk again.
//!
//! A piece of the grown border shrinks onto the belt that it was grown from, and stays whole; each hollow
//! corner becomes an arc about itself. Such arcs may run into each other where a gap is narrower than twice
//! the radius: what lies nearer to the grown border than the radius goes.

use super::tree::Tree;
use super::union::{chained, meetings, split};
use super::{Arc, Piece};
use crate::geometry::Vec2;

/// Turns smaller than this are no corner, rad.
const CORNER: f64 = 1e-6;

/// Nearer than the radius by more than this is too near, mm.
const NEARER: f64 = 1e-7;

/// The borders that lie inside the given ones by `radius`. `None` where they do not join.
pub(super) fn shrunk(borders: &[Vec<Piece>], radius: f64) -> Option<Vec<Vec<Piece>>> {
    let grown: Vec<Piece> = borders.iter().flatten().copied().collect();
    if grown.is_empty() {
        return None;
    }
    let tree = Tree::of(&grown);
    let mut kept = Vec::new();
    let mut fillets = Vec::new();
    for border in borders {
        let n = border.len();
        for k in 0..n {
            let own = inside(&border[k], radius);
            let (u, v) = (border[k].tangent(1.0), border[(k + 1) % n].tangent(0.0));
            let turn = u.cross(v).atan2(u.dot(v));
            if turn < -CORNER {
                fillets.push(Piece {
                    from: own.to,
                    to: inside(&border[(k + 1) % n], radius).from,
                    arc: Some(Arc {
                        centre: border[k].to,
                        radius,
                        sweep: turn,
                    }),
                    entry: 0,
                });
            }
            kept.push(own);
        }
    }
    for (i, fillet) in fillets.iter().enumerate() {
        let mut places = Vec::new();
        for (_, other) in fillets.iter().enumerate().filter(|(j, _)| *j != i) {
            meetings(fillet, other, &mut places);
        }
        kept.extend(split(fillet, &places).into_iter().filter(|part| {
            let middle = part.point(0.5);
            let (_, near) = tree.nearest(&grown, middle);
            (near - middle).length() >= radius - NEARER
        }));
    }
    chained(kept)
}

/// A line or an arc that turns left, moved to its left.
fn inside(piece: &Piece, by: f64) -> Piece {
    let moved = |at: Vec2, along: Vec2| at + Vec2::new(-along.y(), along.x()) * by;
    Piece {
        from: moved(piece.from, piece.tangent(0.0)),
        to: moved(piece.to, piece.tangent(1.0)),
        arc: piece.arc.map(|arc| Arc {
            radius: arc.radius - by,
            ..arc
        }),
        entry: piece.entry,
    }
}
