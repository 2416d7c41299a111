//! How often borders run round a point.
//!
//! The chords of all pieces cross a ray along x upwards or downwards; an arc goes once more, or once less,
//! round the points between it and its chord. Points on a chord count as lying a little to its right, those
//! on a level with its ends a little above: the same in both counts.

use super::Piece;
use super::tree::Tree;
use crate::geometry::Vec2;
use std::ops::Range;

/// Rectangles know their edges but for rounding, mm.
const ROUNDING: f64 = 1e-8;

/// How often the pieces, which make up closed borders, run round a point counter-clockwise; those of a range
/// are left out.
pub(super) fn about(pieces: &[Piece], tree: &Tree, point: Vec2, without: Range<usize>) -> i32 {
    let mut count = 0;
    tree.visit(
        &|bounds| {
            let [low, high] = bounds.corners();
            low.y() <= point.y() + ROUNDING
                && point.y() - ROUNDING <= high.y()
                && point.x() - ROUNDING <= high.x()
        },
        &mut |k| {
            if !without.contains(&k) {
                count += of(&pieces[k], point);
            }
        },
    );
    count
}

/// What one piece adds.
pub(super) fn of(piece: &Piece, point: Vec2) -> i32 {
    let (way, to) = (piece.to - piece.from, point - piece.from);
    let cross = way.cross(to);
    let up = way.y() > 0.0;
    let left = if cross != 0.0 {
        cross > 0.0
    } else if way.y() != 0.0 {
        !up
    } else {
        way.x() > 0.0
    };
    let mut count = 0;
    let (low, high) = if up {
        (piece.from.y(), piece.to.y())
    } else {
        (piece.to.y(), piece.from.y())
    };
    if low <= point.y() && point.y() < high && left == up {
        count += if up { 1 } else { -1 };
    }
    if let Some(arc) = piece.arc {
        let beside = left == (arc.sweep < 0.0);
        if beside && (point - arc.centre).length() < arc.radius {
            count += if arc.sweep > 0.0 { 1 } else { -1 };
        }
    }
    count
}

#[cfg(test)]
mod tests {
    use crate::geometry::Vec2;
    use crate::outline::tests::{frame, noise, random, samples, v};

    /// Against the angle that a fine polygon turns through, seen from the point.
    #[test]
    fn random_points_against_polygons() {
        let mut shapes = vec![frame()];
        shapes.extend((0..10).map(|seed| random(7, seed)));
        for shape in shapes {
            let mut next = noise(3);
            let [low, high] = shape.bounds().corners();
            let borders: Vec<Vec<Vec2>> = shape
                .borders()
                .map(|b| samples(&shape.pieces()[b], 500))
                .collect();
            for _ in 0..200 {
                let side = high - low;
                let point = v(low.x() + side.x() * next(), low.y() + side.y() * next());
                if shape.nearest(point).distance < 1e-2 {
                    continue;
                }
                let mut turned = 0.0;
                for border in &borders {
                    for k in 0..border.len() {
                        let (a, b) = (border[k] - point, border[(k + 1) % border.len()] - point);
                        turned += a.cross(b).atan2(a.dot(b));
                    }
                }
                let inside = turned > std::f64::consts::PI;
                assert_eq!(shape.holds(point), inside, "{point:?}");
            }
        }
    }

    /// On a level with corners, on chords of arcs, in holes.
    #[test]
    fn points_in_line_with_corners_by_hand() {
        let shape = frame();
        for (x, y, inside) in [
            (100.0, 2.0, true), // level with the end of an arc
            (123.0, 2.0, true),
            (127.9, 2.0, true),
            (130.0, 2.0, false),
            (-20.0, 8.0, false),
            (123.0, -3.0, true),  // on the chord of the arc
            (100.0, 20.0, false), // in the mouth
            (110.0, 8.0, true),
            (20.0, 0.0, false), // in a hole
            (50.0, 0.0, false), // in the slot
            (50.0, 4.5, true),
        ] {
            assert_eq!(shape.holds(v(x, y)), inside, "({x}, {y})");
        }
    }
}
