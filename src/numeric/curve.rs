//! A plane curve through given points, measured by the distance along it.
//!
//! Straight pieces, or a natural cubic spline x(t), y(t) over the cumulative chord length t
//! (C. de Boor, *A Practical Guide to Splines*, ch. IV, 1978; the tridiagonal equations are those
//! of Press et al., *Numerical Recipes*, § 3.3). Distance is true arc length, by Gauss–Legendre
//! quadrature.

use super::gauss::{FIVE, nodes};

/// A curve through two points or more.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    knots: Vec<Knot>,
}

/// A point of the curve and what is known there.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Knot {
    at: [f64; 2],
    /// Cumulative chord length.
    t: f64,
    /// Cumulative arc length.
    s: f64,
    /// Second derivative by t; zero everywhere on straight pieces.
    bend: [f64; 2],
}

impl Curve {
    /// The curve through the points, in order: straight pieces, or smooth.
    ///
    /// `None` when there are fewer than two points, one is not finite, or two neighbours are the
    /// same (the direction there would be undefined).
    #[must_use]
    pub fn through(points: &[[f64; 2]], smooth: bool) -> Option<Self> {
        if points.len() < 2 || points.iter().flatten().any(|v| !v.is_finite()) {
            return None;
        }
        let mut knots: Vec<Knot> = Vec::with_capacity(points.len());
        for &at in points {
            let t = match knots.last() {
                Some(last) => {
                    let chord = (at[0] - last.at[0]).hypot(at[1] - last.at[1]);
                    if !(chord > 0.0 && chord.is_finite()) {
                        return None;
                    }
                    last.t + chord
                }
                None => 0.0,
            };
            knots.push(Knot {
                at,
                t,
                s: t,
                bend: [0.0; 2],
            });
        }
        let mut curve = Self { knots };
        if smooth {
            curve.bend([None; 2]);
            curve.measure();
        }
        Some(curve)
    }

    /// The smooth curve through the points that has these directions (unit vectors) at its first and its last
    /// point; at an end without one it is as that of [`Curve::through`].
    ///
    /// `None` as there, or when a direction is not finite.
    #[must_use]
    pub fn leaving(points: &[[f64; 2]], ends: [Option<[f64; 2]>; 2]) -> Option<Self> {
        if ends.iter().flatten().flatten().any(|v| !v.is_finite()) {
            return None;
        }
        let mut curve = Self::through(points, false)?;
        curve.bend(ends);
        curve.measure();
        Some(curve)
    }

    /// The parameters (see [`Curve::chord`]) of the points that it was drawn through.
    pub fn chords(&self) -> impl Iterator<Item = f64> + '_ {
        self.knots.iter().map(|knot| knot.t)
    }

    /// Length of the whole curve.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.knots.last().map_or(0.0, |knot| knot.s)
    }

    /// Distances along the curve of the points that it was drawn through.
    pub fn stations(&self) -> impl Iterator<Item = f64> + '_ {
        self.knots.iter().map(|knot| knot.s)
    }

    /// The point at a distance along the curve from its first point, clamped to the ends.
    #[must_use]
    pub fn point(&self, distance: f64) -> [f64; 2] {
        let (a, b, t) = self.find(distance);
        point(&a, &b, t)
    }

    /// The parameter at a distance along the curve, with which [`Curve::at_chord`] needs no arc length: the
    /// length of the chords between the points that it was drawn through.
    #[must_use]
    pub fn chord(&self, distance: f64) -> f64 {
        let (a, _, t) = self.find(distance);
        a.t + t
    }

    /// The point at a parameter (see [`Curve::chord`]), clamped to the ends.
    #[must_use]
    pub fn at_chord(&self, chord: f64) -> [f64; 2] {
        let (a, b, t) = self.piece(chord);
        point(&a, &b, t)
    }

    /// The place at a parameter (see [`Curve::chord`]), clamped to the ends, and its first and second derivatives
    /// by it.
    #[must_use]
    pub fn flow(&self, chord: f64) -> [[f64; 2]; 3] {
        let (a, b, t) = self.piece(chord);
        let h = b.t - a.t;
        let bend = [0, 1].map(|k: usize| a.bend[k] + (b.bend[k] - a.bend[k]) * t / h);
        [point(&a, &b, t), velocity(&a, &b, t), bend]
    }

    /// Unit vector along the curve at a parameter (see [`Curve::chord`]), clamped to the ends.
    #[must_use]
    pub fn direction(&self, chord: f64) -> [f64; 2] {
        let (a, b, t) = self.piece(chord);
        unit(&a, &b, t)
    }

    /// The place from which a point lies square to the curve, sought by Newton's method from a parameter near it (see
    /// [`Curve::chord`]); where that comes no nearer, the place of that parameter. Its distance along the curve, and
    /// how far the point is from it.
    #[must_use]
    pub fn square_to(&self, to: [f64; 2], from: f64) -> [f64; 2] {
        let end = self.knots.last().map_or(0.0, |knot| knot.t);
        let mut chord = from.clamp(0.0, end);
        for _ in 0..20 {
            let [at, speed, bend] = self.flow(chord);
            let arm = [at[0] - to[0], at[1] - to[1]];
            let slope = dot(speed, speed) + dot(arm, bend);
            let next = chord - dot(arm, speed) / slope;
            if !(slope > 0.0 && next.is_finite()) {
                break;
            }
            let step = next.clamp(0.0, end) - chord;
            chord += step;
            if step.abs() <= 1e-13 * end {
                break;
            }
        }
        let off = |chord| {
            let at = self.at_chord(chord);
            (at[0] - to[0]).hypot(at[1] - to[1])
        };
        let (off, chord) = match [off(chord), off(from)] {
            [found, given] if found <= given => (found, chord),
            [_, given] => (given, from),
        };
        let (a, b, t) = self.piece(chord);
        [a.s + arc(&a, &b, 0.0, t), off]
    }

    /// Unit vector along the curve, towards its end, at a distance from its first point. At a
    /// corner between straight pieces it is that of the piece that follows.
    #[must_use]
    pub fn tangent(&self, distance: f64) -> [f64; 2] {
        self.point_and_tangent(distance).1
    }

    /// [`Curve::point`] and [`Curve::tangent`] for one search.
    #[must_use]
    pub fn point_and_tangent(&self, distance: f64) -> ([f64; 2], [f64; 2]) {
        let (a, b, t) = self.find(distance);
        let at = point(&a, &b, t);
        (at, unit(&a, &b, t))
    }

    /// Second derivatives at the knots: Thomas' elimination. At an end they are zero ("natural"), or such that
    /// the first derivative there is the one given.
    fn bend(&mut self, ends: [Option<[f64; 2]>; 2]) {
        let n = self.knots.len();
        let mut ratio = vec![0.0; n];
        if let Some(first) = ends[0] {
            let [a, b] = [self.knots[0], self.knots[1]];
            let chord = b.t - a.t;
            ratio[0] = 0.5;
            for k in 0..2 {
                let turn = (b.at[k] - a.at[k]) / chord - first[k];
                self.knots[0].bend[k] = 3.0 * turn / chord;
            }
        }
        for i in 1..n.saturating_sub(1) {
            let [a, b, c] = [self.knots[i - 1], self.knots[i], self.knots[i + 1]];
            let (before, after) = (b.t - a.t, c.t - b.t);
            let pivot = 2.0 * (before + after) - before * ratio[i - 1];
            ratio[i] = after / pivot;
            for k in 0..2 {
                let turn = (c.at[k] - b.at[k]) / after - (b.at[k] - a.at[k]) / before;
                self.knots[i].bend[k] = (6.0 * turn - before * a.bend[k]) / pivot;
            }
        }
        if let Some(last) = ends[1] {
            let [a, b] = [self.knots[n - 2], self.knots[n - 1]];
            let chord = b.t - a.t;
            let pivot = chord * (2.0 - ratio[n - 2]);
            for k in 0..2 {
                let turn = last[k] - (b.at[k] - a.at[k]) / chord;
                self.knots[n - 1].bend[k] = (6.0 * turn - chord * a.bend[k]) / pivot;
            }
        }
        for i in (0..n.saturating_sub(1)).rev() {
            let next = self.knots[i + 1].bend;
            for (own, next) in self.knots[i].bend.iter_mut().zip(next) {
                *own -= ratio[i] * next;
            }
        }
    }

    fn measure(&mut self) {
        for i in 1..self.knots.len() {
            let [a, b] = [self.knots[i - 1], self.knots[i]];
            self.knots[i].s = a.s + arc(&a, &b, 0.0, b.t - a.t);
        }
    }

    /// The piece that holds a parameter (see [`Curve::chord`]), clamped to the ends, and the parameter from its start.
    fn piece(&self, chord: f64) -> (Knot, Knot, f64) {
        let last = self.knots.len() - 1;
        let t = chord.clamp(0.0, self.knots[last].t);
        let i = self.knots.partition_point(|knot| knot.t <= t);
        let i = i.clamp(1, last);
        let [a, b] = [self.knots[i - 1], self.knots[i]];
        (a, b, t - a.t)
    }

    /// The piece that holds a distance, and the parameter from the piece's start.
    fn find(&self, distance: f64) -> (Knot, Knot, f64) {
        let s = distance.clamp(0.0, self.length());
        let last = self.knots.len() - 1;
        let i = self
            .knots
            .partition_point(|knot| knot.s <= s)
            .clamp(1, last);
        let [a, b] = [self.knots[i - 1], self.knots[i]];
        let (chord, length) = (b.t - a.t, b.s - a.s);
        let goal = s - a.s;
        let (mut low, mut high) = (0.0, chord);
        let mut t = chord * (goal / length);
        if a.bend == [0.0; 2] && b.bend == [0.0; 2] {
            return (a, b, t);
        }
        // Newton on the arc length, whose derivative is the speed, kept inside a bracket.
        for _ in 0..60 {
            let miss = arc(&a, &b, 0.0, t) - goal;
            if miss.abs() <= 1e-14 * length {
                break;
            }
            if miss > 0.0 {
                high = t;
            } else {
                low = t;
            }
            let v = velocity(&a, &b, t);
            let next = t - miss / v[0].hypot(v[1]);
            let inside = next > low && next < high;
            t = if inside { next } else { 0.5 * (low + high) };
        }
        (a, b, t)
    }
}

fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// Place at parameter t from the start of the piece a–b.
fn point(a: &Knot, b: &Knot, t: f64) -> [f64; 2] {
    let h = b.t - a.t;
    let (u, w) = ((h - t) / h, t / h);
    [0, 1].map(|k| {
        let cubic = (u * u * u - u) * a.bend[k] + (w * w * w - w) * b.bend[k];
        u * a.at[k] + w * b.at[k] + cubic * h * h / 6.0
    })
}

/// Derivative of the place by t.
fn velocity(a: &Knot, b: &Knot, t: f64) -> [f64; 2] {
    let h = b.t - a.t;
    let (u, w) = ((h - t) / h, t / h);
    [0, 1].map(|k| {
        let cubic = (3.0 * w * w - 1.0) * b.bend[k] - (3.0 * u * u - 1.0) * a.bend[k];
        (b.at[k] - a.at[k]) / h + cubic * h / 6.0
    })
}

/// Unit vector along the piece a–b at parameter t from its start.
fn unit(a: &Knot, b: &Knot, t: f64) -> [f64; 2] {
    let v = velocity(a, b, t);
    let speed = v[0].hypot(v[1]);
    if speed > 0.0 {
        [v[0] / speed, v[1] / speed]
    } else {
        // A cusp: only the chord is left to say where the curve goes.
        let chord = b.t - a.t;
        [(b.at[0] - a.at[0]) / chord, (b.at[1] - a.at[1]) / chord]
    }
}

/// Arc length between two parameters of a piece, halved until halves and whole agree.
fn arc(a: &Knot, b: &Knot, from: f64, to: f64) -> f64 {
    fn halve(a: &Knot, b: &Knot, from: f64, to: f64, whole: f64, depth: u32) -> f64 {
        let middle = 0.5 * (from + to);
        let (left, right) = (gauss(a, b, from, middle), gauss(a, b, middle, to));
        if depth == 0 || (left + right - whole).abs() <= 1e-14 * (b.t - a.t) {
            left + right
        } else {
            halve(a, b, from, middle, left, depth - 1) + halve(a, b, middle, to, right, depth - 1)
        }
    }
    halve(a, b, from, to, gauss(a, b, from, to), 12)
}

fn gauss(a: &Knot, b: &Knot, from: f64, to: f64) -> f64 {
    nodes(&FIVE, from, to)
        .map(|(t, weight)| {
            let v = velocity(a, b, t);
            weight * (v[0] * v[0] + v[1] * v[1]).sqrt()
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq as near;

    #[test]
    fn straight_pieces() {
        let curve = Curve::through(&[[0.0, 0.0], [3.0, 4.0], [3.0, 10.0]], false).expect("curve");
        near!(curve.length(), 11.0);
        assert_eq!(curve.point(2.5), [1.5, 2.0]);
        assert_eq!(curve.tangent(2.5), [0.6, 0.8]);
        assert_eq!(
            curve.tangent(5.0),
            [0.0, 1.0],
            "a corner belongs to what follows"
        );
        assert_eq!(curve.point(8.0), [3.0, 7.0]);
        assert_eq!(curve.point(-1.0), [0.0, 0.0]);
        assert_eq!(curve.point(99.0), [3.0, 10.0]);
    }

    /// Through (0,0) (1,1) (2,0) the chords are equal, x is linear in t, and the moment at the
    /// middle knot follows from one equation: y = 1.5 x − 0.5 x³ on the first piece.
    #[test]
    fn natural_spline_by_hand() {
        let curve = Curve::through(&[[0.0, 0.0], [1.0, 1.0], [2.0, 0.0]], true).expect("curve");
        let speed = |x: f64| (1.0 + (1.5 - 1.5 * x * x).powi(2)).sqrt();
        let simpson = |n: usize, to: f64| {
            let h = to / n as f64;
            let inner: f64 = (1..n)
                .map(|i| (2 + 2 * (i % 2)) as f64 * speed(i as f64 * h))
                .sum();
            (speed(0.0) + inner + speed(to)) * h / 3.0
        };
        near!(
            curve.length(),
            2.0 * simpson(2000, 1.0),
            max_relative = 1e-12
        );
        let [x, y] = curve.point(simpson(2000, 0.5));
        near!(x, 0.5, max_relative = 1e-11);
        near!(y, 0.6875, max_relative = 1e-11);
        let [tx, ty] = curve.tangent(0.0);
        near!(ty / tx, 1.5, max_relative = 1e-12);
        near!(curve.tangent(0.5 * curve.length())[1], 0.0, epsilon = 1e-12);
    }

    /// From a point beside it, the line to the place found is square to the curve there; beyond an end it is the end.
    #[test]
    fn square_to_a_point() {
        let points = [[0.0, 0.0], [40.0, -10.0], [90.0, 5.0]];
        let curve = Curve::through(&points, true).expect("curve");
        let chord = curve.chord(curve.length());
        for (to, share) in [
            ([20.0, 5.0], 0.2),
            ([45.0, -30.0], 0.5),
            ([70.0, 12.0], 0.9),
        ] {
            let [s, off] = curve.square_to(to, share * chord);
            let (at, along) = curve.point_and_tangent(s);
            let ahead = dot([to[0] - at[0], to[1] - at[1]], along);
            assert!(
                ahead.abs() < 1e-9 && s > 0.0 && s < curve.length(),
                "{ahead}"
            );
            near!(off, (to[0] - at[0]).hypot(to[1] - at[1]));
        }
        near!(
            curve.square_to([200.0, 5.0], 0.9 * chord)[0],
            curve.length()
        );
        let straight = Curve::through(&points, false).expect("curve");
        // A corner that is nearest stays so, though neither piece is square to the point there.
        let corner = 1700_f64.sqrt();
        near!(straight.square_to([40.0, -30.0], corner)[0], corner);
    }

    #[test]
    fn smooth_through_points_on_a_line_is_the_line() {
        let curve = Curve::through(&[[0.0, 0.0], [3.0, 4.0], [9.0, 12.0]], true).expect("curve");
        near!(curve.length(), 15.0, max_relative = 1e-14);
        near!(curve.point(7.0)[0], 4.2, max_relative = 1e-12);
    }

    /// A spline through many points of a circle has the circle's length: fourth-order accurate
    /// but for the ends, where the natural spline goes straight.
    #[test]
    fn nearly_a_circle() {
        let of = |i: i32| {
            let a = f64::from(i) * std::f64::consts::PI / 200.0;
            [50.0 * a.cos(), 50.0 * a.sin()]
        };
        let points: Vec<_> = (0..=200).map(of).collect();
        let curve = Curve::through(&points, true).expect("curve");
        near!(
            curve.length(),
            50.0 * std::f64::consts::PI,
            max_relative = 1e-6
        );
        let [x, y] = curve.point(0.5 * curve.length());
        near!(x, 0.0, epsilon = 1e-9);
        near!(y, 50.0, max_relative = 1e-8);
    }

    /// By hand: from (0, 0) to (2, 0), leaving at 45 degrees up and arriving at 45 degrees down with speed 1:
    /// by Hermite's cubic the middle is 2 (h₁₀(½) + h₁₀(½)) / √2 = 2 · 2/8 / √2 high and 1 + 0 along.
    #[test]
    fn directions_at_the_ends_by_hand() {
        let d = 0.5_f64.sqrt();
        let points = [[0.0, 0.0], [2.0, 0.0]];
        let curve = Curve::leaving(&points, [Some([d, d]), Some([d, -d])]).expect("curve");
        let [x, y] = curve.at_chord(1.0);
        near!(x, 1.0, max_relative = 1e-14);
        near!(y, 0.5 * d, max_relative = 1e-14);
        near!(curve.direction(0.0)[1], d, max_relative = 1e-14);
        near!(curve.direction(2.0)[1], -d, max_relative = 1e-14);
        // With points between, and one end free, where it is as without directions.
        let points = [[0.0, 0.0], [1.0, 2.0], [3.0, 1.0], [4.0, 4.0]];
        let free = Curve::through(&points, true).expect("curve");
        let same = Curve::leaving(&points, [None; 2]).expect("curve");
        assert_eq!(free, same);
        let own = [free.direction(0.0), free.direction(1e9)];
        let held = Curve::leaving(&points, [None, Some([0.0, 1.0])]).expect("curve");
        near!(held.direction(1e9)[1], 1.0, max_relative = 1e-12);
        assert!((held.direction(0.0)[0] - own[0][0]).abs() > 1e-6);
        // No bend jumps at a point between.
        let step = 1e-4;
        for at in held.chords().skip(1).take(2).collect::<Vec<_>>() {
            let second = |t: f64| {
                let [a, b, c] = [t - step, t, t + step].map(|t| held.at_chord(t));
                [0, 1].map(|k| (a[k] - 2.0 * b[k] + c[k]) / (step * step))
            };
            let (before, after) = (second(at - 2.0 * step), second(at + 2.0 * step));
            assert!((before[0] - after[0]).abs() < 1e-2 && (before[1] - after[1]).abs() < 1e-2);
        }
        assert!(Curve::leaving(&points, [Some([f64::NAN, 0.0]), None]).is_none());
    }

    #[test]
    fn no_curve() {
        assert!(Curve::through(&[[0.0, 0.0]], true).is_none());
        assert!(Curve::through(&[[1.0, 0.0], [1.0, 0.0]], true).is_none());
        assert!(Curve::through(&[[1.0, 0.0], [f64::NAN, 0.0]], false).is_none());
    }

    proptest::proptest! {
        #[test]
        fn distance_is_distance(
            points in proptest::collection::vec([-100.0..100.0f64, -100.0..100.0f64], 3..8),
            smooth: bool,
            at in 0.05..0.95f64,
        ) {
            if let Some(curve) = Curve::through(&points, smooth) {
                let (s, d) = (at * curve.length(), 1e-5 * curve.length());
                let ([ax, ay], [bx, by]) = (curve.point(s - d), curve.point(s + d));
                // A chord is never longer than the arc between its ends.
                proptest::prop_assert!((bx - ax).hypot(by - ay) <= 2.0 * d * (1.0 + 1e-6));
                let [tx, ty] = curve.tangent(s);
                proptest::prop_assert!((tx.hypot(ty) - 1.0).abs() < 1e-12);
            }
        }
    }
}
