//! One set of axes seen from another: a rigid placing in the plane.

use super::{heading, minus, plus, turned, turned_back};

/// Where a body's own axes stand in the axes that it is seen from (the tool's, mostly).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Where the body's own origin stands, mm.
    pub origin: [f64; 2],
    /// Cosine and sine of the angle of its own x axis.
    pub turn: [f64; 2],
}

impl Frame {
    /// Axes that lie on those that they are seen from.
    pub const UNMOVED: Self = Self {
        origin: [0.0; 2],
        turn: [1.0, 0.0],
    };

    /// Axes by the place of their origin (mm) and the angle of their x axis (rad).
    #[must_use]
    pub fn at([x, y, angle]: [f64; 3]) -> Self {
        Self {
            origin: [x, y],
            turn: heading(angle),
        }
    }

    /// Where a point stands that is given in the body's own axes.
    #[inline]
    #[must_use]
    pub fn place(&self, own: [f64; 2]) -> [f64; 2] {
        plus(self.origin, self.direction(own))
    }

    /// A direction or a force given in the body's own axes, as seen from outside.
    #[inline]
    #[must_use]
    pub fn direction(&self, own: [f64; 2]) -> [f64; 2] {
        turned(self.turn, own)
    }

    /// A place seen from outside, in the body's own axes: the inverse of [`Frame::place`].
    #[inline]
    #[must_use]
    pub fn own_place(&self, place: [f64; 2]) -> [f64; 2] {
        self.own_direction(minus(place, self.origin))
    }

    /// A direction or a force seen from outside, in the body's own axes.
    #[inline]
    #[must_use]
    pub fn own_direction(&self, direction: [f64; 2]) -> [f64; 2] {
        turned_back(self.turn, direction)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::distance;
    use std::f64::consts::FRAC_PI_2;

    /// By hand: a quarter turn takes x to y and y to −x.
    #[test]
    fn a_quarter_turn_by_hand() {
        let frame = Frame::at([10.0, 20.0, FRAC_PI_2]);
        assert!(distance(frame.place([3.0, 1.0]), [9.0, 23.0]) < 1e-14);
        assert!(distance(frame.direction([3.0, 1.0]), [-1.0, 3.0]) < 1e-14);
        assert!(distance(frame.own_place([9.0, 23.0]), [3.0, 1.0]) < 1e-14);
        assert!(distance(frame.own_direction([-1.0, 3.0]), [3.0, 1.0]) < 1e-14);
        assert_eq!(Frame::UNMOVED.place([3.0, 1.0]), [3.0, 1.0]);
    }
}
