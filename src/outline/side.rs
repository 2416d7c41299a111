//! The two sides of a cut.

use super::cut::{Hit, Span};
use super::{Piece, Shape, winding};
use crate::geometry::Vec2;

/// A side of a cut, as seen from its first end towards its last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The left one.
    Left,
    /// The right one.
    Right,
}

impl Shape {
    /// The border on one side of a cut, closed by the cut: counter-clockwise, openings left out. Left and
    /// right as seen from its first end towards its last.
    #[must_use]
    pub fn half(&self, span: &Span, side: Side) -> Vec<Piece> {
        let [a, b] = span.ends;
        let (from, to) = match side {
            Side::Left => (b, a),
            Side::Right => (a, b),
        };
        let mut half = self.between(from, to);
        half.push(Piece::line(to.at, from.at));
        half
    }

    /// The outer border from one place of it to another, counter-clockwise.
    fn between(&self, from: Hit, to: Hit) -> Vec<Piece> {
        let pieces = &self.pieces()[self.border(0)];
        let whole = |piece: Piece, from: Vec2, to: Vec2| Piece { from, to, ..piece };
        if from.piece == to.piece && from.share < to.share {
            let part = pieces[from.piece].part(from.share, to.share);
            return vec![whole(part, from.at, to.at)];
        }
        let n = pieces.len();
        let first = pieces[from.piece].part(from.share, 1.0);
        let mut all = vec![whole(first, from.at, first.to)];
        let mut k = (from.piece + 1) % n;
        while k != to.piece {
            all.push(pieces[k]);
            k = (k + 1) % n;
        }
        let last = pieces[k].part(0.0, to.share);
        all.push(whole(last, last.from, to.at));
        all.retain(|piece| (piece.to - piece.from).length() > 0.0);
        all
    }

    /// The side of a cut that a point is on: that which holds it, or, off the plate, whose border is nearer.
    #[must_use]
    pub fn side(&self, span: &Span, point: Vec2) -> Side {
        let halves = [Side::Left, Side::Right].map(|side| (side, self.half(span, side)));
        for (side, half) in &halves {
            let round: i32 = half.iter().map(|p| winding::of(p, point)).sum();
            if round > 0 {
                return *side;
            }
        }
        let [left, right] = halves.map(|(_, half)| {
            // Without the cut itself, which is the last.
            let border = half.split_last().map_or(&[][..], |(_, border)| border);
            border.iter().fold(f64::INFINITY, |least, piece| {
                (piece.nearest(point) - point).length().min(least)
            })
        });
        let over = span.direction().cross(point - span.ends[0].at);
        if left < right || (left == right && over > 0.0) {
            Side::Left
        } else {
            Side::Right
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Side;
    use crate::geometry::Vec2;
    use crate::outline::tests::{c, hole, plate, v};

    /// A plate of 40 by 20, cut across its length.
    #[test]
    fn sides_by_hand() {
        let plate = plate(40.0, 20.0, &[hole(20.0, 10.0, 6.0)]).unwrap();
        let span = &plate.cut(v(20.0, 0.0), Vec2::Y)[0];
        for (x, y, side) in [
            (5.0, 5.0, Side::Left),
            (35.0, 5.0, Side::Right),
            (19.0, 10.0, Side::Left), // in the hole
            (21.0, 10.0, Side::Right),
            (-30.0, 50.0, Side::Left), // off the plate
            (60.0, 10.0, Side::Right),
            (21.0, 30.0, Side::Right),
        ] {
            assert_eq!(plate.side(span, v(x, y)), side, "({x}, {y})");
        }
        // The mouth of a C: a point in it is nearer to one jaw, whatever the cut's own line says.
        let c = c();
        let span = c.section(0, 0.5).unwrap();
        assert_eq!(c.side(&span, v(25.0, 29.0)), c.side(&span, v(45.0, 35.0)));
        assert_ne!(c.side(&span, v(25.0, 11.0)), c.side(&span, v(25.0, 29.0)));
    }
}
