//! The convex hull of discs.

use super::{Arc, Piece};
use crate::geometry::Vec2;
use std::f64::consts::{PI, TAU};

/// A disc about a pin or a mark, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disc {
    /// Its centre.
    pub at: Vec2,
    /// Its radius.
    pub radius: f64,
}

/// Nearer than this, one disc lies in another, as a share of its radius.
const WITHIN: f64 = 1e-12;

/// The direction to start from, rad: any in which hardly two discs reach equally far.
const START: f64 = 0.739;

/// Once round.
const END: f64 = START + TAU;

/// The discs that lie in no other, each but once.
fn outermost(discs: &[Disc]) -> Vec<Disc> {
    let within = |a: &Disc, b: &Disc| {
        (a.at - b.at).length() <= b.radius - a.radius + WITHIN * (a.radius + b.radius)
    };
    let mut kept: Vec<Disc> = Vec::with_capacity(discs.len());
    for disc in discs {
        if !kept.iter().any(|other| within(disc, other)) {
            kept.retain(|other| !within(other, disc));
            kept.push(*disc);
        }
    }
    kept
}

/// The border of the hull of discs, counter-clockwise: in each direction stands the disc that reaches farthest.
pub(super) fn hull(discs: &[Disc]) -> Vec<Piece> {
    let discs = &outermost(discs)[..];
    let ahead = Vec2::unit(START);
    let first = (0..discs.len()).fold(0, |best, k| {
        let reach = |k: usize| discs[k].at.dot(ahead) + discs[k].radius;
        if reach(k) > reach(best) { k } else { best }
    });
    // Discs with the directions over which they stand, from that one on.
    let mut turns: Vec<(usize, f64, f64)> = Vec::new();
    let (mut own, mut from) = (first, START);
    for _ in 0..2 * discs.len() + 2 {
        let (next, to) = follower(discs, own, from);
        turns.push((own, from, to.min(END)));
        if to >= END {
            break;
        }
        (own, from) = (next, to);
    }
    // The last one is the first one again, up to that direction.
    if turns.len() > 1
        && let Some((disc, from, to)) = turns.pop()
    {
        if disc == turns[0].0 {
            turns[0].1 = from - TAU;
        } else {
            turns.push((disc, from, to));
        }
    }
    let mut pieces = Vec::with_capacity(3 * turns.len());
    for (k, &(own, from, to)) in turns.iter().enumerate() {
        let disc = discs[own];
        let at = |angle: f64| disc.at + Vec2::unit(angle) * disc.radius;
        // In halves where it is half a circle or more.
        let parts = if to - from > 0.9 * PI { 2 } else { 1 };
        let angle = |part: usize| from + (to - from) * part as f64 / f64::from(parts);
        for part in 0..parts as usize {
            let (a, b) = (angle(part), angle(part + 1));
            if b - a > 1e-9 {
                pieces.push(Piece {
                    from: at(a),
                    to: at(b),
                    arc: Some(Arc {
                        centre: disc.at,
                        radius: disc.radius,
                        sweep: b - a,
                    }),
                    entry: 0,
                });
            }
        }
        let (next, start, _) = turns[(k + 1) % turns.len()];
        if turns.len() > 1 {
            let next = discs[next];
            let end = next.at + Vec2::unit(start) * next.radius;
            pieces.push(Piece::line(at(to), end));
        }
    }
    // Neighbours share their ends to the last bit.
    for k in 0..pieces.len() {
        let to = pieces[k].to;
        let next = (k + 1) % pieces.len();
        pieces[next].from = to;
    }
    pieces
}

/// The disc that stands farthest out after one, going counter-clockwise from a direction, and the direction in
/// which it takes over; a full turn where there is none.
///
/// Disc b reaches farther than a where (b − a) · u > ra − rb: within acos((ra − rb)/|b − a|) of their line.
fn follower(discs: &[Disc], own: usize, from: f64) -> (usize, f64) {
    let a = discs[own];
    let mut best = (own, END, 0.0);
    for (k, b) in discs.iter().enumerate() {
        let way = b.at - a.at;
        let (apart, less) = (way.length(), a.radius - b.radius);
        if k == own {
            continue;
        }
        let start = way.angle() - (less / apart).acos();
        let to = from + (start - from).rem_euclid(TAU);
        // Of several on one tangent the farthest along it.
        let apart = ((apart - less) * (apart + less)).sqrt();
        if to < best.1 - 1e-9 || (to < best.1 + 1e-9 && to < END && apart > best.2) {
            best = (k, to, apart);
        }
    }
    (best.0, best.1)
}

#[cfg(test)]
mod tests {
    use super::{Disc, hull};
    use crate::outline::Shape;
    use crate::outline::tests::{noise, v};
    use std::f64::consts::TAU;

    /// Every disc of a random set lies in the hull, which touches as many as it has arcs, and is convex.
    #[test]
    fn random_hulls() {
        for seed in 0..200 {
            let mut next = noise(seed);
            let discs: Vec<Disc> = (0..12)
                .map(|_| Disc {
                    at: v(50.0 * next(), 50.0 * next()),
                    radius: 0.5 + 8.0 * next(),
                })
                .collect();
            let hull = Shape::new(hull(&discs), Vec::new(), &[]).unwrap();
            for disc in &discs {
                let gap = hull.nearest(disc.at).distance - disc.radius;
                assert!(hull.holds(disc.at) && gap > -1e-9, "{disc:?} {gap}");
            }
            let pieces = hull.pieces();
            for (k, piece) in pieces.iter().enumerate() {
                let next = pieces[(k + 1) % pieces.len()];
                let turn = piece.tangent(1.0).cross(next.tangent(0.0));
                assert!(!piece.is_hollow() && turn.abs() < 1e-9, "{turn}");
            }
        }
    }

    /// On a small grid, where discs lie in line, in and against one another.
    #[test]
    fn hulls_on_a_grid() {
        for seed in 0..3000 {
            let mut next = noise(seed);
            let mut whole = |n: f64| (next() * n).floor();
            let discs: Vec<Disc> = (0..2 + whole(6.0) as usize)
                .map(|_| Disc {
                    at: v(whole(6.0), whole(6.0)),
                    radius: 1.0 + whole(3.0),
                })
                .collect();
            let shape = Shape::new(hull(&discs), Vec::new(), &[]).unwrap();
            for disc in &discs {
                let gap = shape.nearest(disc.at).distance - disc.radius;
                assert!(shape.holds(disc.at) && gap > -1e-9, "{seed} {disc:?} {gap}");
            }
            let turned: f64 = shape
                .pieces()
                .iter()
                .filter_map(|p| p.arc)
                .map(|a| a.sweep)
                .sum();
            assert!((turned - TAU).abs() < 1e-7, "{seed} {turned}");
        }
    }
}
