//! What two shapes have in common: its area, where it is, its border.
//!
//! Every border is split where others meet it; what lies inside all the other regions is border of what they
//! have in common. Stretches along which two borders run the same way count once, opposite ones not at all.

use super::tree::Tree;
use super::union::{chained, meetings, split};
use super::{Moments, Piece, Shape, winding};
use crate::geometry::{Frame, Vec2};
use std::f64::consts::PI;

/// What two shapes have in common.
#[derive(Debug, Clone, PartialEq)]
pub struct Overlap {
    /// Its area, mm².
    pub area: f64,
    /// Its middle.
    pub middle: Vec2,
    /// Its borders, material on the left; empty where their ends do not join to the last bit.
    pub borders: Vec<Vec<Piece>>,
}

/// Nearer than this to a border, a place is on it, mm.
const ON: f64 = 1e-8;
/// Less area than this is none, mm²: two plates that lie against each other have that much by rounding.
const NONE: f64 = 1e-6;
/// Where a stretch is held against other borders, as shares of its length.
const LOOKS: [f64; 3] = [0.5, 0.3127, 0.7193];

/// A region that others are held against.
struct Region {
    pieces: Vec<Piece>,
    tree: Tree,
    /// How often its far outside is gone round: 1 for what lies outside a disc.
    outside: i32,
}

impl Region {
    fn new(pieces: Vec<Piece>, outside: i32) -> Self {
        let tree = Tree::of(&pieces);
        Self {
            pieces,
            tree,
            outside,
        }
    }

    fn holds(&self, point: Vec2) -> bool {
        self.outside + winding::about(&self.pieces, &self.tree, point, 0..0) > 0
    }
}

/// What two shapes that stand at these places have in common, without what lies in these discs (middle and
/// radius, mm); all in the axes that the places are seen from. `None` where they have nothing in common.
#[must_use]
pub fn overlap(
    first: (&Shape, &Frame),
    second: (&Shape, &Frame),
    discs: &[(Vec2, f64)],
) -> Option<Overlap> {
    let placed = |(shape, frame): (&Shape, &Frame)| {
        let pieces = shape.pieces().iter().map(|piece| piece.placed(frame));
        Region::new(pieces.collect(), 0)
    };
    let mut regions = vec![placed(first), placed(second)];
    if regions[0].tree.bounds().distance(&regions[1].tree.bounds()) > 0.0 {
        return None;
    }
    let halves = |&(middle, radius): &(Vec2, f64)| {
        Region::new(
            vec![
                Piece::arc(middle, radius, 0.0, -PI),
                Piece::arc(middle, radius, PI, -PI),
            ],
            1,
        )
    };
    regions.extend(discs.iter().filter(|disc| disc.1 > 0.0).map(halves));
    let mut kept = Vec::new();
    for (k, region) in regions.iter().enumerate() {
        for piece in &region.pieces {
            let (bounds, mut places) = (piece.bounds(), Vec::new());
            for (_, other) in regions.iter().enumerate().filter(|(j, _)| *j != k) {
                let near = |b: &super::Bounds| b.distance(&bounds) <= ON;
                other.tree.visit(&near, &mut |j| {
                    meetings(piece, &other.pieces[j], &mut places)
                });
            }
            kept.extend(
                split(piece, &places)
                    .into_iter()
                    .filter(|part| stays(part, k, &regions)),
            );
        }
    }
    let moments = Moments::of(&kept);
    // A sum of borders that is not finite, or none, is no area.
    if !(moments.area > NONE && moments.centroid.is_finite()) {
        return None;
    }
    Some(Overlap {
        area: moments.area,
        middle: moments.centroid,
        borders: chained(kept).unwrap_or_default(),
    })
}

/// Whether a stretch of the border of a region is border of what all have in common.
fn stays(part: &Piece, own: usize, regions: &[Region]) -> bool {
    regions.iter().enumerate().all(|(k, other)| {
        if k == own {
            return true;
        }
        let looks = LOOKS.map(|share| {
            let at = part.point(share);
            (share, at, other.tree.nearest(&other.pieces, at))
        });
        match looks
            .iter()
            .find(|(_, at, near)| (near.1 - *at).length() > ON)
        {
            Some((_, at, _)) => other.holds(*at),
            None => {
                let (share, _, (piece, on)) = looks[0];
                let there = &other.pieces[piece];
                own < k && part.tangent(share).dot(there.tangent(there.share(on))) > 0.0
            }
        }
    })
}

#[cfg(test)]
mod tests {
    use super::super::tests::{hole, plate, random};
    use super::*;
    use std::f64::consts::TAU;

    fn at(x: f64, y: f64, turn: f64) -> Frame {
        Frame::at([x, y, turn])
    }

    fn area(a: &Shape, b: &Shape, there: &Frame, discs: &[(Vec2, f64)]) -> f64 {
        overlap((a, &Frame::UNMOVED), (b, there), discs).map_or(0.0, |o| o.area)
    }

    /// By hand: two rectangles 20 by 10, the second 12 to the right and 4 up, have 8 by 6 in common; a hole of
    /// 2 in the middle of that takes its circle, a disc of radius 3 about a corner of it a quarter of its own.
    #[test]
    fn rectangles_by_hand() {
        let plain = plate(20.0, 10.0, &[]).unwrap();
        let there = at(12.0, 4.0, 0.0);
        assert!((area(&plain, &plain, &there, &[]) - 48.0).abs() < 1e-12);
        let bored = plate(20.0, 10.0, &[hole(16.0, 7.0, 2.0)]).unwrap();
        assert!((area(&bored, &plain, &there, &[]) - 48.0 + PI).abs() < 1e-12);
        let disc = [(Vec2::new(20.0, 10.0), 3.0)];
        assert!((area(&plain, &plain, &there, &disc) - 48.0 + 2.25 * PI).abs() < 1e-12);
        let seen = overlap((&plain, &Frame::UNMOVED), (&plain, &there), &disc).unwrap();
        assert_eq!(seen.borders.len(), 1);
        // The same plate twice is itself; end to end, or apart, they have nothing.
        assert!((area(&plain, &plain, &Frame::UNMOVED, &[]) - 200.0).abs() < 1e-12);
        for (x, y) in [(20.0, 0.0), (0.0, -10.0), (20.0, 10.0), (40.0, 0.0)] {
            assert_eq!(
                overlap((&plain, &Frame::UNMOVED), (&plain, &at(x, y, 0.0)), &[]),
                None
            );
        }
        // One wholly inside the other.
        let small = plate(3.0, 2.0, &[]).unwrap();
        assert!((area(&plain, &small, &at(5.0, 5.0, 0.3), &[]) - 6.0).abs() < 1e-12);
    }

    /// Against counting: random outlines, turned, on a grid of 300 by 300 places.
    #[test]
    fn random_outlines_against_counting() {
        let mut most: f64 = 0.0;
        for seed in 1..7 {
            let (a, b) = (random(9, seed), random(12, seed + 50));
            let there = at(4.0 + seed as f64, -3.0, 0.4 * seed as f64);
            let disc = (a.bounds().corners()[1] * 0.3, 4.0);
            let found = area(&a, &b, &there, &[disc]);
            let [low, high] = a.bounds().corners();
            let (step, mut count) = ((high - low) / 300.0, 0);
            for i in 0..300 {
                for j in 0..300 {
                    let p = low
                        + Vec2::new(
                            step.x() * (f64::from(i) + 0.5),
                            step.y() * (f64::from(j) + 0.5),
                        );
                    let inside = a.holds(p) && b.holds(there.own_place(p));
                    count += usize::from(inside && (p - disc.0).length() > disc.1);
                }
            }
            let counted = count as f64 * step.x() * step.y();
            let whole = (high - low).x() * (high - low).y();
            most = most.max(found / whole);
            assert!(
                (found - counted).abs() < 2e-3 * whole,
                "{seed}: {found} {counted}"
            );
        }
        assert!(most > 0.05, "{most}");
    }

    #[test]
    fn a_turn_of_both_changes_nothing() {
        let (a, b) = (random(8, 3), random(8, 4));
        let one = area(&a, &b, &at(3.0, 2.0, 0.7), &[]);
        let (own, there) = (at(40.0, -20.0, TAU / 3.0), at(3.0, 2.0, 0.7));
        let moved = Frame {
            origin: own.place(there.origin),
            turn: own.direction(there.turn),
        };
        let other = overlap((&a, &own), (&b, &moved), &[]).map_or(0.0, |o| o.area);
        assert!(one > 1.0 && (one - other).abs() < 1e-8, "{one} {other}");
    }
}
