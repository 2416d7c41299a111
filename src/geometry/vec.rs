//! Points, directions and forces as pairs of x and y; angles are counter-clockwise, rad.

use std::ops::{Add, AddAssign, Div, Index, IndexMut, Mul, Neg, Sub, SubAssign};

/// A place, a direction or a force in the plane.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Vec2 {
    x: f64,
    y: f64,
}

impl Vec2 {
    /// No length.
    pub const ZERO: Self = Self::new(0.0, 0.0);
    /// Along x.
    pub const X: Self = Self::new(1.0, 0.0);
    /// Along y.
    pub const Y: Self = Self::new(0.0, 1.0);

    /// By its two components.
    #[inline]
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Cosine and sine of an angle: the unit vector that points that way.
    #[inline]
    #[must_use]
    pub fn unit(angle: f64) -> Self {
        let (sin, cos) = angle.sin_cos();
        Self::new(cos, sin)
    }

    /// Its x.
    #[inline]
    #[must_use]
    pub const fn x(self) -> f64 {
        self.x
    }

    /// Its y.
    #[inline]
    #[must_use]
    pub const fn y(self) -> f64 {
        self.y
    }

    /// Both.
    #[inline]
    #[must_use]
    pub const fn xy(self) -> [f64; 2] {
        [self.x, self.y]
    }

    /// Both, changed.
    #[inline]
    #[must_use]
    pub fn map(self, mut change: impl FnMut(f64) -> f64) -> Self {
        Self::new(change(self.x), change(self.y))
    }

    /// self · b.
    #[inline]
    #[must_use]
    pub fn dot(self, b: Self) -> f64 {
        self.x * b.x + self.y * b.y
    }

    /// (self × b), the z component: the moment of a force b at the end of this arm.
    #[inline]
    #[must_use]
    pub fn cross(self, b: Self) -> f64 {
        self.x * b.y - self.y * b.x
    }

    /// Its length.
    #[inline]
    #[must_use]
    pub fn length(self) -> f64 {
        let square = self.dot(self);
        // Where squares can be held, a root takes a fraction of the time.
        if square > 1e-280 && square < 1e280 {
            square.sqrt()
        } else {
            self.x.hypot(self.y)
        }
    }

    /// Whether it holds numbers.
    #[inline]
    #[must_use]
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }

    /// Its direction's angle, rad, from −π to π.
    #[inline]
    #[must_use]
    pub fn angle(self) -> f64 {
        self.y.atan2(self.x)
    }

    /// Turned by the angle of cosine and sine `turn`.
    #[inline]
    #[must_use]
    pub fn turned(self, turn: Self) -> Self {
        Self::new(
            turn.x * self.x - turn.y * self.y,
            turn.y * self.x + turn.x * self.y,
        )
    }

    /// Turned back by the angle of cosine and sine `turn`.
    #[inline]
    #[must_use]
    pub fn turned_back(self, turn: Self) -> Self {
        Self::new(
            turn.x * self.x + turn.y * self.y,
            turn.x * self.y - turn.y * self.x,
        )
    }
}

impl Add for Vec2 {
    type Output = Self;

    #[inline]
    fn add(self, b: Self) -> Self {
        Self::new(self.x + b.x, self.y + b.y)
    }
}

impl AddAssign for Vec2 {
    #[inline]
    fn add_assign(&mut self, b: Self) {
        *self = *self + b;
    }
}

impl Sub for Vec2 {
    type Output = Self;

    #[inline]
    fn sub(self, b: Self) -> Self {
        Self::new(self.x - b.x, self.y - b.y)
    }
}

impl SubAssign for Vec2 {
    #[inline]
    fn sub_assign(&mut self, b: Self) {
        *self = *self - b;
    }
}

impl Neg for Vec2 {
    type Output = Self;

    #[inline]
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y)
    }
}

impl Mul<f64> for Vec2 {
    type Output = Self;

    #[inline]
    fn mul(self, k: f64) -> Self {
        Self::new(self.x * k, self.y * k)
    }
}

impl Div<f64> for Vec2 {
    type Output = Self;

    #[inline]
    fn div(self, k: f64) -> Self {
        Self::new(self.x / k, self.y / k)
    }
}

/// By axis: 0 is x, any other y.
impl Index<usize> for Vec2 {
    type Output = f64;

    #[inline]
    fn index(&self, axis: usize) -> &f64 {
        match axis {
            0 => &self.x,
            _ => &self.y,
        }
    }
}

impl IndexMut<usize> for Vec2 {
    #[inline]
    fn index_mut(&mut self, axis: usize) -> &mut f64 {
        match axis {
            0 => &mut self.x,
            _ => &mut self.y,
        }
    }
}

impl From<[f64; 2]> for Vec2 {
    #[inline]
    fn from([x, y]: [f64; 2]) -> Self {
        Self { x, y }
    }
}

impl From<Vec2> for [f64; 2] {
    #[inline]
    fn from(v: Vec2) -> Self {
        v.xy()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand, on a 3-4-5 triangle: the turn has cosine 0.6 and sine 0.8.
    #[test]
    fn products_and_turns_by_hand() {
        let (a, b) = (Vec2::new(3.0, 4.0), Vec2::new(2.0, -1.0));
        assert_eq!((a + b, a - b), ([5.0, 3.0].into(), [1.0, 5.0].into()));
        assert_eq!((a * -2.0, -a), ([-6.0, -8.0].into(), [-3.0, -4.0].into()));
        assert_eq!((a.dot(b), a.cross(b), b.cross(a)), (2.0, -11.0, 11.0));
        assert!(a.is_finite() && !(a / 0.0 - a / 0.0).is_finite());
        assert_eq!(a / 2.0, Vec2::new(1.5, 2.0));
        assert_eq!((a.length(), b[0], b[1]), (5.0, b.x(), b.y()));
        let mut sum = a;
        sum += b;
        sum -= a;
        assert_eq!(sum.xy(), [2.0, -1.0]);
        let near = |a: Vec2, b: [f64; 2]| (a - b.into()).length() < 1e-14;
        let turn = Vec2::new(0.6, 0.8);
        assert!(near(Vec2::X.turned(turn), [0.6, 0.8]));
        assert!(near(Vec2::Y.turned(turn), [-0.8, 0.6]));
        assert!(near(a.turned_back(turn), [5.0, 0.0]));
        assert!(near(Vec2::unit(std::f64::consts::FRAC_PI_2), [0.0, 1.0]));
        assert!((Vec2::unit(2.5).angle() - 2.5).abs() < 1e-14);
    }
}
