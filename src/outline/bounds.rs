//! Upright rectangles.

use crate::geometry::{Frame, Vec2};

/// An upright rectangle by its middle and half its sides, mm; without points the sides are negative.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Its middle, mm.
    pub middle: Vec2,
    /// Half its width and height, mm.
    pub half: Vec2,
}

impl Bounds {
    /// Of no point at all.
    pub const EMPTY: Self = Self {
        middle: Vec2::ZERO,
        half: Vec2::new(-1.0, -1.0),
    };

    /// Round all points of a list.
    #[must_use]
    pub fn of(points: &[Vec2]) -> Self {
        let Some(&first) = points.first() else {
            return Self::EMPTY;
        };
        let (mut low, mut high) = (first, first);
        for p in points {
            low = Vec2::new(low.x().min(p.x()), low.y().min(p.y()));
            high = Vec2::new(high.x().max(p.x()), high.y().max(p.y()));
        }
        Self {
            middle: (low + high) * 0.5,
            half: (high - low) * 0.5,
        }
    }

    /// Whether it holds no point.
    #[inline]
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.half.x() < 0.0
    }

    /// The lower left and the upper right corner.
    #[must_use]
    pub fn corners(&self) -> [Vec2; 2] {
        [self.middle - self.half, self.middle + self.half]
    }

    /// Round both.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        match (self.is_empty(), other.is_empty()) {
            (true, _) => other,
            (_, true) => self,
            _ => {
                let ([a, b], [c, d]) = (self.corners(), other.corners());
                Self::of(&[a, b, c, d])
            }
        }
    }

    /// The upright rectangle round this one, seen from outside where its own axes stand at `frame`.
    #[inline]
    #[must_use]
    pub fn placed(&self, frame: &Frame) -> Self {
        let (cos, sin) = (frame.turn.x().abs(), frame.turn.y().abs());
        Self {
            middle: frame.place(self.middle),
            half: Vec2::new(
                cos * self.half.x() + sin * self.half.y(),
                sin * self.half.x() + cos * self.half.y(),
            ),
        }
    }

    /// How far apart two rectangles are, mm; zero where they overlap, infinite where one holds no point.
    #[inline]
    #[must_use]
    pub fn distance(&self, other: &Self) -> f64 {
        if self.is_empty() || other.is_empty() {
            return f64::INFINITY;
        }
        let (to, half) = (other.middle - self.middle, other.half + self.half);
        let x = (to.x().abs() - half.x()).max(0.0);
        let y = (to.y().abs() - half.y()).max(0.0);
        (x * x + y * y).sqrt()
    }
}
