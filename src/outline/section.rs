//! The section that carries the load at a place of the border.

use super::cut::{GRAZE, Span};
use super::{Border, Shape};
use crate::geometry::Vec2;

/// Points across of which one is in sight, as a rule one of the first; behind so many that are hidden nothing is
/// near.
const TRIED: usize = 24;

/// The widest angle from the normal: 60 degrees, rad.
const WIDEST: f64 = std::f64::consts::FRAC_PI_3;

impl Shape {
    /// The section at a place of the border: at a hollow arc the cut through its centre; elsewhere the
    /// shortest cut near the inward normal (up to 60 degrees off) that is no longer than its neighbours, or
    /// the cut along the normal where that is shorter. It starts at the place; at an opening it is the whole
    /// cut along the normal.
    #[must_use]
    pub fn section(&self, piece: usize, share: f64) -> Option<Span> {
        let own = self.pieces().get(piece)?;
        let at = own.point(share);
        let along = own.tangent(share);
        let normal = Vec2::new(-along.y(), along.x());
        let straight = self.cut_from(piece, share, normal);
        if own.is_hollow() || self.owner(piece) != Border::Outer {
            return straight;
        }
        // The nearest points of the pieces across, nearest first, until one is in sight.
        let outer = &self.pieces()[self.border(0)];
        let nearest: Vec<Vec2> = outer.iter().map(|piece| piece.nearest(at)).collect();
        let feet = (0..nearest.len()).filter_map(|across| {
            let way = foot(&nearest, across, at)? - at;
            let length = way.length();
            let near = length > GRAZE && way.dot(normal) >= length * WIDEST.cos();
            near.then_some((length, way))
        });
        let mut feet: Vec<(f64, Vec2)> = feet.collect();
        feet.sort_by(|a, b| a.0.total_cmp(&b.0));
        let in_sight = |&(length, way): &(f64, Vec2)| {
            let span = self.cut_from(piece, share, way / length)?;
            ((span.gross() - length).abs() <= 1e-6).then_some(span)
        };
        let slanting = feet.iter().take(TRIED).find_map(in_sight);
        let longer = |span: &Span| straight.as_ref().is_some_and(|s| s.gross() < span.gross());
        slanting.filter(|span| !longer(span)).or(straight)
    }
}

/// The point of a piece of the outline that is nearest to a place, where that is nearer than its
/// neighbours.
fn foot(nearest: &[Vec2], piece: usize, at: Vec2) -> Option<Vec2> {
    let n = nearest.len();
    let square = |p: Vec2| (p - at).dot(p - at);
    let foot = nearest[piece];
    let least = square(foot);
    let beside = [(piece + n - 1) % n, (piece + 1) % n];
    // What is as near but for rounding counts.
    let beyond = least - 2.0 * GRAZE * least.sqrt();
    let own = beside.iter().all(|&k| square(nearest[k]) >= beyond);
    own.then_some(foot)
}

#[cfg(test)]
mod tests {
    use crate::outline::tests::{c, frame, grid, hole, plate, polygon, random, shape, v};
    use approx::assert_relative_eq as near;

    #[test]
    fn sections_by_hand() {
        let c = c();
        // Across the back, square to it.
        let span = c.section(0, 0.1).unwrap();
        near!(span.gross(), 10.0, max_relative = 1e-12);
        near!(span.direction().x(), 1.0, max_relative = 1e-12);
        // At the throat, through the centre of its arc, at half of its turn: towards the outer corner.
        let (k, arc) = c
            .pieces()
            .iter()
            .enumerate()
            .find(|(_, p)| p.is_hollow())
            .unwrap();
        near!(arc.arc.unwrap().radius, 3.0);
        let span = c.section(k, 0.5).unwrap();
        near!(
            span.gross(),
            (13.0 * 2.0_f64.sqrt()) - 3.0,
            max_relative = 1e-12
        );
        near!(span.ends[1].at.length(), 0.0, epsilon = 1e-9);
        let span = c.section(k, 0.0).unwrap();
        near!(span.gross(), 10.0, max_relative = 1e-9);
        // From near the outer corner the shortest way that is not round it goes to the throat's arc.
        let span = c.section(1, 0.02).unwrap();
        assert!(c.pieces()[span.ends[1].piece].is_hollow(), "{span:?}");
        near!(
            span.gross(),
            (v(1.0, 0.0) - v(13.0, 13.0)).length() - 3.0,
            max_relative = 1e-9
        );
        // Through a hole.
        let plate = plate(40.0, 20.0, &[hole(20.0, 10.0, 6.0)]).unwrap();
        near!(
            plate.section(0, 0.5).unwrap().net(),
            14.0,
            max_relative = 1e-12
        );
        // From the wall of a hole: the whole cut.
        let span = plate.section(4, 0.5).unwrap();
        near!(span.net(), 14.0, max_relative = 1e-12);
        assert!(plate.section(99, 0.5).is_none());
    }

    /// A wedge, from its lower side at x: square to its upper side, which is shorter than straight up.
    #[test]
    fn the_shortest_cut_slants() {
        let wedge = polygon(&[[0.0, 0.0], [40.0, 0.0], [40.0, 30.0], [0.0, 10.0]]);
        let wedge = shape([0.0, 0.0], &wedge, &[]).unwrap();
        let span = wedge.section(0, 0.5).unwrap();
        // The distance of (20, 0) from the line y = 10 + x / 2.
        near!(span.gross(), 20.0 / 1.25_f64.sqrt(), max_relative = 1e-12);
    }

    /// Every section of a frame starts at its place and is no longer than the cut along the normal.
    #[test]
    fn sections_all_round() {
        let mut shapes = vec![frame(), c()];
        shapes.extend((0..10).map(|seed| random(7, seed)));
        for shape in shapes {
            for k in shape.border(0) {
                for share in [0.01, 0.3, 0.5, 0.77, 0.99] {
                    let piece = shape.pieces()[k];
                    let span = shape.section(k, share).unwrap();
                    assert!((span.ends[0].at - piece.point(share)).length() < 1e-6);
                    let along = piece.tangent(share);
                    let normal = v(-along.y(), along.x());
                    let straight = shape.cut_from(k, share, normal).unwrap();
                    assert!(span.gross() <= straight.gross());
                    let chord = span.chords().next().unwrap();
                    assert!(shape.holds((chord[0].at + chord[1].at) * 0.5));
                }
            }
        }
    }

    /// On a small grid no section is longer than the cut along the normal, and it stays in the material.
    #[test]
    fn sections_on_a_grid() {
        let mut looked = 0;
        for seed in 0..3000 {
            let (start, steps) = grid(seed);
            let Ok(shape) = shape(start.xy(), &steps, &[]) else {
                continue;
            };
            for k in shape.border(0) {
                for share in [0.0, 0.25, 0.5, 0.9, 1.0] {
                    let Some(span) = shape.section(k, share) else {
                        assert!(share == 0.0 || share == 1.0, "{seed} {k} {share}");
                        continue;
                    };
                    looked += 1;
                    let at = shape.pieces()[k].point(share);
                    assert!((span.ends[0].at - at).length() < 1e-6);
                    for part in [0.1, 0.5, 0.83] {
                        let at = span.ends[0].at + span.direction() * (part * span.gross());
                        let clear = shape.nearest(at).distance > 1e-6;
                        assert!(!clear || shape.holds(at), "{seed} {k} {share}");
                    }
                }
            }
        }
        assert!(looked > 2000, "{looked}");
    }
}
