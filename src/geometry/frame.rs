//! One set of axes seen from another: a rigid placing in the plane.

use super::Vec2;

/// Where a body's own axes stand in the axes that it is seen from (the tool's, mostly).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Where the body's own origin stands, mm.
    pub origin: Vec2,
    /// Cosine and sine of the angle of its own x axis.
    pub turn: Vec2,
}

impl Frame {
    /// Axes that lie on those that they are seen from.
    pub const UNMOVED: Self = Self {
        origin: Vec2::ZERO,
        turn: Vec2::X,
    };

    /// Axes by the place of their origin (mm) and the angle of their x axis (rad).
    #[must_use]
    pub fn at([x, y, angle]: [f64; 3]) -> Self {
        Self {
            origin: Vec2::new(x, y),
            turn: Vec2::unit(angle),
        }
    }

    /// Where a point stands that is given in the body's own axes.
    #[inline]
    #[must_use]
    pub fn place(&self, own: Vec2) -> Vec2 {
        self.origin + self.direction(own)
    }

    /// A direction or a force given in the body's own axes, as seen from outside.
    #[inline]
    #[must_use]
    pub fn direction(&self, own: Vec2) -> Vec2 {
        own.turned(self.turn)
    }

    /// A place seen from outside, in the body's own axes: the inverse of [`Frame::place`].
    #[inline]
    #[must_use]
    pub fn own_place(&self, place: Vec2) -> Vec2 {
        self.own_direction(place - self.origin)
    }

    /// A direction or a force seen from outside, in the body's own axes.
    #[inline]
    #[must_use]
    pub fn own_direction(&self, direction: Vec2) -> Vec2 {
        direction.turned_back(self.turn)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_2;

    /// By hand: a quarter turn takes x to y and y to −x.
    #[test]
    fn a_quarter_turn_by_hand() {
        let frame = Frame::at([10.0, 20.0, FRAC_PI_2]);
        let (own, seen) = (Vec2::new(3.0, 1.0), Vec2::new(9.0, 23.0));
        let near = |a: Vec2, b: Vec2| (a - b).length() < 1e-14;
        assert!(near(frame.place(own), seen));
        assert!(near(frame.direction(own), Vec2::new(-1.0, 3.0)));
        assert!(near(frame.own_place(seen), own));
        assert!(near(frame.own_direction(Vec2::new(-1.0, 3.0)), own));
        assert_eq!(Frame::UNMOVED.place(own), own);
    }
}
