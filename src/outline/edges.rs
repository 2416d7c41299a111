//! Pieces of borders, closed or not: what of a plate may hit another.

use super::gap::{Gap, gap};
use super::tree::Tree;
use super::{Bounds, LEAST, Piece, Shape};
use crate::geometry::{Frame, Vec2};

/// Pieces of borders, to be held against others.
#[derive(Debug, Clone, PartialEq)]
pub struct Edges {
    pieces: Vec<Piece>,
    tree: Tree,
}

impl Edges {
    /// These pieces; `None` where there are none.
    #[must_use]
    pub fn of(pieces: Vec<Piece>) -> Option<Self> {
        let tree = Tree::of(&pieces);
        (!pieces.is_empty()).then_some(Self { pieces, tree })
    }

    /// The borders of a shape without what lies in these discs (middle and radius, mm): there the shape
    /// and what it is held against share a pin, and lie on each other.
    #[must_use]
    pub fn outside(shape: &Shape, discs: &[(Vec2, f64)]) -> Option<Self> {
        let mut pieces = shape.pieces().to_vec();
        for &disc in discs {
            pieces = pieces.iter().flat_map(|piece| clear(piece, disc)).collect();
        }
        Self::of(pieces)
    }

    /// The pieces.
    #[must_use]
    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// Their smallest upright rectangle.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        self.tree.bounds()
    }

    /// The largest distance of any of their points from a point, mm.
    #[must_use]
    pub fn farthest(&self, point: Vec2) -> f64 {
        let each = self.pieces.iter().map(|piece| piece.farthest(point));
        each.fold(0.0, f64::max)
    }

    /// The nearest points of these and others, that stand at these places; `None` where they are not nearer than
    /// `within`, mm.
    #[must_use]
    pub fn gap(&self, own: &Frame, other: &Self, there: &Frame, within: f64) -> Option<Gap> {
        gap(
            (&self.tree, &self.pieces),
            own,
            (&other.tree, &other.pieces),
            there,
            within,
        )
    }
}

/// What of a piece lies outside a disc.
fn clear(piece: &Piece, (middle, radius): (Vec2, f64)) -> Vec<Piece> {
    let mut shares = vec![0.0];
    shares.extend(crossings(piece, middle, radius));
    shares.push(1.0);
    shares.sort_by(f64::total_cmp);
    let least = LEAST / piece.length().max(LEAST);
    let outside = |pair: &[f64]| {
        let [a, b] = *pair else { return None };
        let there = piece.point(0.5 * (a + b));
        let out = b - a > least && (there - middle).length() > radius;
        out.then(|| piece.part(a, b))
    };
    shares.windows(2).filter_map(outside).collect()
}

/// Shares of a piece at which it meets a circle.
fn crossings(piece: &Piece, middle: Vec2, radius: f64) -> Vec<f64> {
    let Some(arc) = piece.arc else {
        let way = piece.to - piece.from;
        let from = piece.from - middle;
        let (a, b, c) = (
            way.dot(way),
            from.dot(way),
            from.dot(from) - radius * radius,
        );
        let root = (b * b - a * c).sqrt();
        let both = [(-b - root) / a, (-b + root) / a];
        return both.into_iter().filter(|s| *s > 0.0 && *s < 1.0).collect();
    };
    let way = middle - arc.centre;
    let apart = way.length();
    let along = 0.5 * (apart + (arc.radius * arc.radius - radius * radius) / apart);
    let off = (arc.radius * arc.radius - along * along).sqrt();
    if !off.is_finite() {
        return Vec::new();
    }
    let unit = way / apart;
    let on = |side: f64| unit * along + Vec2::new(-unit.y(), unit.x()) * (side * off);
    let meets = [1.0, -1.0].map(on).into_iter();
    let own = meets.filter(|out| piece.faces(*out));
    own.map(|out| piece.share(arc.centre + out)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// By hand: a line of 20 through a disc of 5 loses 10; a half circle of 10 about a place 10 off loses
    /// what lies within 60 degrees of it (chord = 2 r sin(30°) = r).
    #[test]
    fn what_is_left_outside_a_disc() {
        let line = Piece::line(Vec2::new(-10.0, 0.0), Vec2::new(10.0, 0.0));
        let left = clear(&line, (Vec2::ZERO, 5.0));
        let long: f64 = left.iter().map(Piece::length).sum();
        assert_eq!(left.len(), 2);
        assert!((long - 10.0).abs() < 1e-12);
        let half = Piece::arc(Vec2::ZERO, 10.0, 0.0, PI);
        let left = clear(&half, (Vec2::new(0.0, 10.0), 10.0));
        let long: f64 = left.iter().map(Piece::length).sum();
        assert!((long - 10.0 * PI / 3.0).abs() < 1e-9, "{long}");
        assert_eq!(clear(&half, (Vec2::ZERO, 11.0)), Vec::new());
        assert_eq!(clear(&half, (Vec2::new(40.0, 0.0), 5.0)), vec![half]);
    }
}
