//! How near two pieces come to each other, in closed form.
//!
//! Pieces that do not cross are nearest at an end of one of them, or where one straight line is square to
//! both: through the centre of each arc and square to each line.

use super::Piece;
use super::piece::Arc;
use crate::geometry::Vec2;

/// The nearest points of two pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Near {
    /// Squared distance, mm².
    pub(super) square: f64,
    pub(super) first: Vec2,
    pub(super) second: Vec2,
}

impl Near {
    pub(super) const NONE: Self = Self {
        square: f64::INFINITY,
        first: Vec2::ZERO,
        second: Vec2::ZERO,
    };

    #[inline]
    fn of(first: Vec2, second: Vec2) -> Self {
        let way = second - first;
        Self {
            square: way.dot(way),
            first,
            second,
        }
    }

    #[inline]
    fn or(&mut self, first: Vec2, second: Vec2) {
        let other = Self::of(first, second);
        if other.square < self.square {
            *self = other;
        }
    }

    fn swapped(self) -> Self {
        Self {
            first: self.second,
            second: self.first,
            ..self
        }
    }
}

/// The nearest points of two pieces; where they cross, one point twice.
pub(super) fn near(a: &Piece, b: &Piece) -> Near {
    match (a.arc, b.arc) {
        (None, None) => {
            if let Some(at) = lines_cross(a, b) {
                return Near::of(at, at);
            }
            ends(a, b)
        }
        (Some(arc), None) => line_and_arc(b, a, arc).swapped(),
        (None, Some(arc)) => line_and_arc(a, b, arc),
        (Some(c), Some(d)) => arcs(a, c, b, d),
    }
}

#[inline]
fn ends(a: &Piece, b: &Piece) -> Near {
    let mut best = Near::of(a.from, b.nearest(a.from));
    best.or(a.to, b.nearest(a.to));
    best.or(a.nearest(b.from), b.from);
    best.or(a.nearest(b.to), b.to);
    best
}

fn lines_cross(a: &Piece, b: &Piece) -> Option<Vec2> {
    let (along, other, from) = (a.to - a.from, b.to - b.from, b.from - a.from);
    let turn = along.cross(other);
    if turn == 0.0 {
        return None; // parallel: the ends tell
    }
    let (share, there) = (from.cross(other) / turn, from.cross(along) / turn);
    let within = |v: f64| (0.0..=1.0).contains(&v);
    (within(share) && within(there)).then(|| a.from + along * share)
}

fn line_and_arc(line: &Piece, piece: &Piece, arc: Arc) -> Near {
    let way = line.to - line.from;
    let length = way.length();
    let along = way / length;
    let left = Vec2::new(-along.y(), along.x());
    let to = line.from - arc.centre;
    // Foot of the centre: its place along the line, and the line's height over the centre.
    let (foot, height) = (-to.dot(along), to.dot(left));
    let within = |s: f64| (0.0..=length).contains(&s);
    if height.abs() <= arc.radius {
        let reach = ((arc.radius - height) * (arc.radius + height)).sqrt();
        for s in [foot - reach, foot + reach] {
            let out = left * height + along * (s - foot);
            if within(s) && piece.faces(out) {
                let at = line.from + along * s;
                return Near::of(at, at);
            }
        }
    }
    let mut best = ends(line, piece);
    if within(foot) {
        let at = line.from + along * foot;
        for out in [left, -left] {
            if piece.faces(out) {
                best.or(at, arc.centre + out * arc.radius);
            }
        }
    }
    best
}

fn arcs(a: &Piece, c: Arc, b: &Piece, d: Arc) -> Near {
    let way = d.centre - c.centre;
    let apart = way.length();
    let mut best = ends(a, b);
    // About one centre the distance is the same all along: the ends tell.
    if !(apart > 0.0) {
        return best;
    }
    let along = way / apart;
    let left = Vec2::new(-along.y(), along.x());
    if apart <= c.radius + d.radius && apart >= (c.radius - d.radius).abs() {
        let foot = 0.5 * (apart + (c.radius - d.radius) * (c.radius + d.radius) / apart);
        let height = ((c.radius - foot) * (c.radius + foot)).max(0.0).sqrt();
        for height in [height, -height] {
            let out = along * foot + left * height;
            if a.faces(out) && b.faces(out - way) {
                let at = c.centre + out;
                return Near::of(at, at);
            }
        }
    }
    for out in [along, -along] {
        for other in [along, -along] {
            if a.faces(out) && b.faces(other) {
                best.or(c.centre + out * c.radius, d.centre + other * d.radius);
            }
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use crate::geometry::{Frame, Vec2};
    use crate::outline::Piece;
    use crate::outline::pair::near;
    use crate::outline::tests::{noise, random, samples};
    use std::f64::consts::PI;

    fn distance(a: &Piece, b: &Piece) -> f64 {
        near(a, b).square.sqrt()
    }

    /// By hand: circles of 5 about the origin and of 4 about (12, 3), whole or in part.
    #[test]
    fn arcs_by_hand() {
        let at = Vec2::new(12.0, 3.0);
        let first = Piece::arc(Vec2::ZERO, 5.0, -1.0, 2.0);
        let facing = Piece::arc(at, 4.0, PI - 1.0, 2.0);
        let apart = 153.0_f64.sqrt();
        assert!((distance(&first, &facing) - (apart - 9.0)).abs() < 1e-12);
        // The far side of the second only.
        let away = Piece::arc(at, 4.0, -0.5 * PI, PI);
        let end = (at + Vec2::Y * 4.0)
            .length()
            .min((at - Vec2::Y * 4.0).length());
        assert!((distance(&first, &away) - (end - 5.0)).abs() < 1e-12);
        // About one centre.
        let inner = Piece::arc(Vec2::ZERO, 3.0, 0.5, 3.0);
        assert!((distance(&first, &inner) - 2.0).abs() < 1e-12);
        // More than half a circle, and one that crosses.
        let long = Piece::arc(Vec2::new(6.0, 0.0), 4.0, 0.5, 2.0 * PI - 1.0);
        assert!(distance(&first, &long) < 1e-12);
        // Inside a larger one, 20 about (3, 0): on the left 20 − 3 − 5; on the right the ends are nearer.
        let at = Vec2::new(3.0, 0.0);
        let left = Piece::arc(at, 20.0, PI - 1.0, 2.0);
        let own = Piece::arc(Vec2::ZERO, 5.0, PI - 1.0, 2.0);
        assert!((distance(&own, &left) - 12.0).abs() < 1e-12);
        let right = Piece::arc(at, 20.0, -1.0, 2.0);
        let end = (at + Vec2::unit(1.0) * 20.0).length();
        assert!((distance(&first, &right) - (end - 5.0)).abs() < 1e-12);
    }

    /// By hand: a line past, through and beside an arc.
    #[test]
    fn a_line_and_an_arc_by_hand() {
        let arc = Piece::arc(Vec2::ZERO, 5.0, 0.0, PI);
        for (from, to, expected) in [
            ([-9.0, 7.0], [9.0, 7.0], 2.0),
            ([-9.0, 3.0], [9.0, 3.0], 0.0),
            ([-2.0, 1.0], [2.0, 1.0], 5.0 - 5.0_f64.sqrt()),
            ([6.0, -4.0], [6.0, 9.0], 1.0),
            ([-9.0, -3.0], [9.0, -3.0], 3.0),
        ] {
            let line = Piece::line(from.into(), to.into());
            let found = near(&line, &arc);
            assert!(
                (found.square.sqrt() - expected).abs() < 1e-12,
                "{from:?} {found:?}"
            );
            let back = near(&arc, &line);
            assert_eq!((found.square, found.first), (back.square, back.second));
        }
    }

    /// 100 random pairs of outlines against points on their borders, and against all pairs of pieces.
    #[test]
    fn random_outlines_against_samples() {
        const EACH: usize = 150;
        let mut next = noise(7);
        let mut touching = 0;
        for seed in 0..100 {
            let (a, b) = (random(5, seed), random(6, seed + 500));
            let own = Frame::at([next(), next(), 6.0 * next()]);
            let out = Vec2::unit(6.3 * next()) * (20.0 + 30.0 * next());
            let there = Frame::at([out.x(), out.y(), 6.0 * next()]);
            let gap = a.gap(&own, &b, &there, f64::INFINITY).unwrap();
            let mut least = f64::INFINITY;
            for p in a.pieces() {
                for q in b.pieces() {
                    least = least.min(distance(&p.placed(&own), &q.placed(&there)));
                }
            }
            assert!((gap.distance - least).abs() < 1e-10, "{gap:?} {least}");
            let [p, q] = gap.points;
            assert!(((p - q).length() - gap.distance).abs() < 1e-10);
            assert!(a.nearest(own.own_place(p)).distance < 1e-10);
            assert!(b.nearest(there.own_place(q)).distance < 1e-10);
            let points: Vec<Vec2> = samples(b.pieces(), EACH)
                .iter()
                .map(|&p| there.place(p))
                .collect();
            let sampled = samples(a.pieces(), EACH)
                .iter()
                .map(|&p| own.place(p))
                .flat_map(|p| points.iter().map(move |&q| (p - q).length()))
                .fold(f64::INFINITY, f64::min);
            let longest = a
                .pieces()
                .iter()
                .chain(b.pieces())
                .map(Piece::length)
                .fold(0.0, f64::max);
            assert!(gap.distance <= sampled + 1e-10, "{gap:?} {sampled}");
            assert!(
                sampled <= gap.distance + longest / EACH as f64,
                "{gap:?} {sampled}"
            );
            touching += usize::from(gap.distance == 0.0);
            assert!(a.gap(&own, &b, &there, 0.9 * gap.distance).is_none());
        }
        assert!((10..90).contains(&touching), "{touching} of 100 cross");
    }
}
