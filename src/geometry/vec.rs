//! Sums, products and turns of pairs `[x, y]`; angles are counter-clockwise, rad.

/// a + b.
#[inline]
#[must_use]
pub fn plus(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] + b[0], a[1] + b[1]]
}

/// a − b.
#[inline]
#[must_use]
pub fn minus(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

/// k a.
#[inline]
#[must_use]
pub fn times(k: f64, a: [f64; 2]) -> [f64; 2] {
    [k * a[0], k * a[1]]
}

/// a · b.
#[inline]
#[must_use]
pub fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// (a × b), the z component: the moment of a force b at the end of an arm a.
#[inline]
#[must_use]
pub fn cross(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

/// |a|.
#[inline]
#[must_use]
pub fn length(a: [f64; 2]) -> f64 {
    a[0].hypot(a[1])
}

/// |a − b|.
#[inline]
#[must_use]
pub fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    length(minus(a, b))
}

/// Cosine and sine of an angle: the unit vector that points that way.
#[inline]
#[must_use]
pub fn heading(angle: f64) -> [f64; 2] {
    let (sin, cos) = angle.sin_cos();
    [cos, sin]
}

/// `v` turned by the angle of cosine and sine `turn`.
#[inline]
#[must_use]
pub fn turned(turn: [f64; 2], v: [f64; 2]) -> [f64; 2] {
    [
        turn[0] * v[0] - turn[1] * v[1],
        turn[1] * v[0] + turn[0] * v[1],
    ]
}

/// `v` turned back by the angle of cosine and sine `turn`.
#[inline]
#[must_use]
pub fn turned_back(turn: [f64; 2], v: [f64; 2]) -> [f64; 2] {
    [
        turn[0] * v[0] + turn[1] * v[1],
        turn[0] * v[1] - turn[1] * v[0],
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand, on a 3-4-5 triangle: the turn has cosine 0.6 and sine 0.8.
    #[test]
    fn products_and_turns_by_hand() {
        let (a, b) = ([3.0, 4.0], [2.0, -1.0]);
        assert_eq!((plus(a, b), minus(a, b)), ([5.0, 3.0], [1.0, 5.0]));
        assert_eq!(times(-2.0, a), [-6.0, -8.0]);
        assert_eq!((dot(a, b), cross(a, b), cross(b, a)), (2.0, -11.0, 11.0));
        assert_eq!((length(a), distance([4.0, 6.0], [1.0, 2.0])), (5.0, 5.0));
        let near = |a: [f64; 2], b: [f64; 2]| distance(a, b) < 1e-14;
        let turn = [0.6, 0.8];
        assert!(near(turned(turn, [1.0, 0.0]), [0.6, 0.8]));
        assert!(near(turned(turn, [0.0, 1.0]), [-0.8, 0.6]));
        assert!(near(turned_back(turn, a), [5.0, 0.0]));
        assert!(near(heading(std::f64::consts::FRAC_PI_2), [0.0, 1.0]));
    }
}
