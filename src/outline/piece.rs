//! One piece of a border: a straight line or an arc.

use super::Bounds;
use crate::geometry::{Frame, Vec2};
use std::f64::consts::{PI, TAU};

/// A straight line or an arc, walked from `from` to `to`. Neighbours in a border share their ends to
/// the last bit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Where it starts, mm.
    pub from: Vec2,
    /// Where it ends, mm.
    pub to: Vec2,
    /// The circle that it runs on; `None`: it is straight.
    pub arc: Option<Arc>,
    /// Index of the step (of a path) or of the hole that it was made from; zero in belts.
    pub entry: usize,
}

/// The circle of an arc, and how far the arc goes round it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Its centre, mm.
    pub centre: Vec2,
    /// Its radius, mm, positive.
    pub radius: f64,
    /// Angle from start to end, rad; positive turns left. Never more than a full turn.
    pub sweep: f64,
}

impl Piece {
    /// A straight line.
    #[must_use]
    pub fn line(from: Vec2, to: Vec2) -> Self {
        Self {
            from,
            to,
            arc: None,
            entry: 0,
        }
    }

    /// An arc by its centre and radius (mm), the angle of its start and how far it turns (rad).
    #[must_use]
    pub fn arc(centre: Vec2, radius: f64, start: f64, sweep: f64) -> Self {
        Self {
            from: centre + Vec2::unit(start) * radius,
            to: centre + Vec2::unit(start + sweep) * radius,
            arc: Some(Arc {
                centre,
                radius,
                sweep,
            }),
            entry: 0,
        }
    }

    /// The shorter arc between two points; a positive radius (mm) turns left, a negative one right. `None`
    /// where the radius is less than half their distance, beyond rounding.
    #[must_use]
    pub fn turning(from: Vec2, to: Vec2, radius: f64) -> Option<Self> {
        let chord = to - from;
        let (half, size) = (0.5 * chord.length(), radius.abs());
        if !(half > 0.0 && half <= size * (1.0 + 1e-9)) {
            return None;
        }
        let size = size.max(half);
        let sweep = (2.0 * (half / size).min(1.0).asin()).copysign(radius);
        let height = ((size - half) * (size + half)).sqrt().copysign(radius);
        let left = Vec2::new(-chord.y(), chord.x()) / (2.0 * half);
        Some(Self {
            from,
            to,
            arc: Some(Arc {
                centre: (from + to) * 0.5 + left * height,
                radius: size,
                sweep,
            }),
            entry: 0,
        })
    }

    /// The piece that leaves `from` along a unit vector and ends at `to`: straight where that is
    /// straight on.
    #[must_use]
    pub fn leaving(from: Vec2, along: Vec2, to: Vec2) -> Self {
        let chord = to - from;
        // The chord halves the turn between both end tangents.
        let half = along.cross(chord).atan2(along.dot(chord));
        // A flatter arc would have its centre so far away that its own rounding shows; over 100 mm the line is
        // off by 0.00003 mm at most.
        if half.sin().abs() < 1e-6 {
            return Self::line(from, to);
        }
        let radius = 0.5 * chord.length() / half.sin(); // with the sign of the turn
        let centre = from + Vec2::new(-along.y(), along.x()) * radius;
        Self {
            from,
            to,
            arc: Some(Arc {
                centre,
                radius: radius.abs(),
                sweep: 2.0 * half,
            }),
            entry: 0,
        }
    }

    /// The same, made from another entry.
    #[must_use]
    pub fn of_entry(self, entry: usize) -> Self {
        Self { entry, ..self }
    }

    /// Its length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        match self.arc {
            Some(arc) => arc.radius * arc.sweep.abs(),
            None => (self.to - self.from).length(),
        }
    }

    /// Whether it is an arc that material lies outside of. Material is on the left of every border, so this is
    /// an arc that turns right.
    #[must_use]
    pub fn is_hollow(&self) -> bool {
        self.arc.is_some_and(|arc| arc.sweep < 0.0)
    }

    /// The point at a share (0..1) of its length.
    #[must_use]
    pub fn point(&self, share: f64) -> Vec2 {
        if share <= 0.0 {
            return self.from;
        }
        if share >= 1.0 {
            return self.to;
        }
        match self.arc {
            // From the nearer end, so that flat arcs of large radius keep their digits.
            Some(arc) if share <= 0.5 => {
                let half = 0.5 * share * arc.sweep;
                let chord = self.tangent(0.0).turned(Vec2::unit(half));
                self.from + chord * (2.0 * arc.radius * half.abs().sin())
            }
            Some(_) => self.reversed().point(1.0 - share),
            None => self.from + (self.to - self.from) * share,
        }
    }

    /// Unit vector along it at a share (0..1) of its length.
    #[must_use]
    pub fn tangent(&self, share: f64) -> Vec2 {
        match self.arc {
            Some(arc) => {
                let (end, turn) = if share <= 0.5 {
                    (self.from, share * arc.sweep)
                } else {
                    (self.to, (share - 1.0) * arc.sweep)
                };
                let out = (end - arc.centre) / arc.radius;
                let left = Vec2::new(-out.y(), out.x()) * arc.sweep.signum();
                let left = left / left.length();
                if turn == 0.0 {
                    left
                } else {
                    left.turned(Vec2::unit(turn))
                }
            }
            None => {
                let way = self.to - self.from;
                way / way.length()
            }
        }
    }

    /// [`Piece::point`] and [`Piece::tangent`] in one, by one sine and cosine.
    #[must_use]
    pub fn course(&self, share: f64) -> (Vec2, Vec2) {
        let Some(arc) = self.arc else {
            return (self.point(share), self.tangent(share));
        };
        // From the nearer end, as both of them.
        let (end, turn, sense) = if share <= 0.5 {
            (self.from, share * arc.sweep, 1.0)
        } else {
            (self.to, (share - 1.0) * arc.sweep, -1.0)
        };
        let out = end - arc.centre;
        let left = Vec2::new(-out.y(), out.x()) * arc.sweep.signum();
        let half = Vec2::unit(0.5 * turn);
        let chord = (left / left.length()).turned(half);
        let far = 2.0 * arc.radius * half.y().abs() * sense;
        (end + chord * far, chord.turned(half))
    }

    /// Its part between two shares (0..1), the first the smaller.
    #[must_use]
    pub fn part(&self, first: f64, last: f64) -> Self {
        Self {
            from: self.point(first),
            to: self.point(last),
            arc: self.arc.map(|arc| Arc {
                sweep: arc.sweep * (last - first),
                ..arc
            }),
            entry: self.entry,
        }
    }

    /// Walked the other way.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self {
            from: self.to,
            to: self.from,
            arc: self.arc.map(|arc| Arc {
                sweep: -arc.sweep,
                ..arc
            }),
            entry: self.entry,
        }
    }

    /// Seen from outside, where its own axes stand at `frame`.
    #[inline]
    #[must_use]
    pub fn placed(&self, frame: &Frame) -> Self {
        Self {
            from: frame.place(self.from),
            to: frame.place(self.to),
            arc: self.arc.map(|arc| Arc {
                centre: frame.place(arc.centre),
                ..arc
            }),
            entry: self.entry,
        }
    }

    /// Mirrored about the line through a point along a unit vector; walked from the image of its start.
    #[must_use]
    pub fn mirrored(&self, about: Vec2, along: Vec2) -> Self {
        let image = |p: Vec2| {
            let own = (p - about).turned_back(along);
            about + Vec2::new(own.x(), -own.y()).turned(along)
        };
        Self {
            from: image(self.from),
            to: image(self.to),
            arc: self.arc.map(|arc| Arc {
                centre: image(arc.centre),
                radius: arc.radius,
                sweep: -arc.sweep,
            }),
            entry: self.entry,
        }
    }

    /// Its upright rectangle.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        let mut bounds = Bounds::of(&[self.from, self.to]);
        if let Some(arc) = self.arc {
            for out in [Vec2::X, Vec2::Y, -Vec2::X, -Vec2::Y] {
                if self.faces(out) {
                    bounds = bounds.with(Bounds::of(&[arc.centre + out * arc.radius]));
                }
            }
        }
        bounds
    }

    /// The point of it that is nearest to a point.
    #[must_use]
    pub fn nearest(&self, point: Vec2) -> Vec2 {
        match self.arc {
            None => {
                let (way, to) = (self.to - self.from, point - self.from);
                let share = to.dot(way) / way.dot(way);
                if share >= 1.0 {
                    self.to
                } else if share > 0.0 {
                    self.from + way * share
                } else {
                    self.from
                }
            }
            Some(arc) => {
                let out = point - arc.centre;
                let length = out.length();
                if length > 0.0 && self.faces(out) {
                    arc.centre + out * (arc.radius / length)
                } else {
                    let nearer = (point - self.from).length() <= (point - self.to).length();
                    if nearer { self.from } else { self.to }
                }
            }
        }
    }

    /// The share (0..1) of its length at which a point of it lies.
    #[must_use]
    pub fn share(&self, point: Vec2) -> f64 {
        let share = match self.arc {
            None => {
                let way = self.to - self.from;
                (point - self.from).dot(way) / way.dot(way)
            }
            Some(arc) => {
                let (a, b) = (self.from - arc.centre, point - arc.centre);
                let turn = a.cross(b).atan2(a.dot(b)) * arc.sweep.signum();
                // Of the two ways round, that which ends nearer to the middle.
                let whole = arc.sweep.abs();
                let turn = if turn < 0.0 && -turn > 0.5 * (TAU - whole) {
                    turn + TAU
                } else {
                    turn
                };
                turn / whole
            }
        };
        share.clamp(0.0, 1.0)
    }

    /// The largest distance of any of its points from a point.
    #[must_use]
    pub fn farthest(&self, point: Vec2) -> f64 {
        let ends = (self.from - point).length().max((self.to - point).length());
        match self.arc {
            Some(arc) if self.faces(arc.centre - point) => {
                ends.max((arc.centre - point).length() + arc.radius)
            }
            _ => ends,
        }
    }

    /// Whether an arc has a point in a direction from its centre; a line has none.
    #[inline]
    pub(super) fn faces(&self, out: Vec2) -> bool {
        let Some(arc) = self.arc else { return false };
        let (a, b) = (self.from - arc.centre, self.to - arc.centre);
        let (a, b) = if arc.sweep > 0.0 { (a, b) } else { (b, a) };
        if arc.sweep.abs() <= PI {
            a.cross(out) >= 0.0 && out.cross(b) >= 0.0
        } else {
            !(b.cross(out) > 0.0 && out.cross(a) > 0.0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_2;

    fn near(a: Vec2, x: f64, y: f64) {
        assert!((a - Vec2::new(x, y)).length() < 1e-12, "{a:?} {x} {y}");
    }

    /// By hand: a quarter circle about (118, 2), radius 10, from its lowest point.
    #[test]
    fn an_arc_that_turns_left() {
        let (from, to) = (Vec2::new(118.0, -8.0), Vec2::new(128.0, 2.0));
        let piece = Piece::turning(from, to, 10.0).unwrap();
        let arc = piece.arc.unwrap();
        near(arc.centre, 118.0, 2.0);
        assert!((arc.sweep - FRAC_PI_2).abs() < 1e-12 && !piece.is_hollow());
        let h = 10.0 * 0.5_f64.sqrt();
        near(piece.point(0.5), 118.0 + h, 2.0 - h);
        near(piece.tangent(0.0), 1.0, 0.0);
        near(piece.tangent(1.0), 0.0, 1.0);
        near(piece.tangent(0.5), 0.5_f64.sqrt(), 0.5_f64.sqrt());
        assert!((piece.share(piece.point(0.3)) - 0.3).abs() < 1e-12);
        assert!((piece.share(piece.point(0.8)) - 0.8).abs() < 1e-12);
        let right = Piece::turning(from, to, -10.0).unwrap();
        near(right.arc.unwrap().centre, 128.0, -8.0);
        assert!(right.is_hollow());
        assert!(Piece::turning(from, to, 7.0).is_none(), "chord is 14.14");
    }

    #[test]
    fn a_half_circle_takes_its_side_from_the_sign() {
        let (from, to) = (Vec2::ZERO, Vec2::new(10.0, 0.0));
        let left = Piece::turning(from, to, 5.0).unwrap();
        near(left.point(0.5), 5.0, -5.0);
        let right = Piece::turning(from, to, -5.0).unwrap();
        near(right.point(0.5), 5.0, 5.0);
    }

    /// Three quarters of a circle about the origin, radius 2, from (2, 0) to (0, −2).
    #[test]
    fn nearest_farthest_and_bounds_of_a_long_arc() {
        let piece = Piece::arc(Vec2::ZERO, 2.0, 0.0, 1.5 * PI);
        near(piece.nearest(Vec2::new(-3.0, 0.0)), -2.0, 0.0);
        near(piece.nearest(Vec2::new(3.0, -0.5)), 2.0, 0.0);
        assert_eq!(piece.farthest(Vec2::new(0.0, -3.0)), 5.0);
        let far = piece.farthest(Vec2::new(-3.0, 3.0));
        assert!((far - 34.0_f64.sqrt()).abs() < 1e-12, "an end: {far}");
        let [low, high] = piece.bounds().corners();
        near(low, -2.0, -2.0);
        near(high, 2.0, 2.0);
        assert!((piece.share(piece.point(0.9)) - 0.9).abs() < 1e-12);
    }

    #[test]
    fn parts_mirrors_and_leaving_keep_the_circle() {
        let piece = Piece::arc(Vec2::new(1.0, 2.0), 5.0, 0.3, -1.2);
        let part = piece.part(0.25, 0.75);
        assert!((part.length() - 3.0).abs() < 1e-12);
        assert!(((part.from - Vec2::new(1.0, 2.0)).length() - 5.0).abs() < 1e-12);
        let again = Piece::leaving(piece.from, piece.tangent(0.0), piece.to);
        near(again.arc.unwrap().centre, 1.0, 2.0);
        assert!((again.arc.unwrap().sweep + 1.2).abs() < 1e-12);
        let image = piece.mirrored(Vec2::new(0.0, 1.0), Vec2::X);
        near(image.arc.unwrap().centre, 1.0, 0.0);
        near(
            image.point(0.4),
            piece.point(0.4).x(),
            2.0 - piece.point(0.4).y(),
        );
    }
}
