//! The place of a smooth open curve that a disc or a straight line touches.
//!
//! The curve is the border of something solid, which lies to the left of its direction. A disc that is kept
//! out of it touches it at the place nearest to the disc's centre, a line at the place farthest out. Both are
//! looked for among places along the whole curve, so that a disc in a hollow too narrow for it rests where it
//! does rest; the nearest of these is then improved by Newton's method inside a bracket.

use super::curve::Curve;

/// Places looked at on each piece between two points of the curve: close enough together that the nearest of
/// them lies beside the place that is looked for, where the curve turns by less than a right angle between two.
const PLACES: usize = 16;
/// Newton steps at most; halving alone needs some fifty.
const MOST_STEPS: usize = 80;

/// A smooth border.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    curve: Curve,
    /// Places along it: parameter and point.
    places: Vec<(f64, [f64; 2])>,
    length: f64,
    id: u64,
}

/// Where something touches a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Touch {
    /// The place on the face.
    pub at: [f64; 2],
    /// Unit vector out of the solid there.
    pub out: [f64; 2],
    /// Curvature, 1/mm; positive where the face is a hump, negative in a hollow.
    pub bend: f64,
    /// How much of the face is left to the nearer of its ends, by the chords of its points, mm; below zero
    /// beyond it, where the face is taken to go on straight (under a line: to end in a corner).
    pub left: f64,
}

impl Face {
    /// The natural spline through the points; `None` as of [`Curve::through`].
    #[must_use]
    pub fn through(points: &[[f64; 2]]) -> Option<Self> {
        let curve = Curve::through(points, true)?;
        let knots: Vec<f64> = curve.chords().collect();
        let mut places = Vec::with_capacity(PLACES * knots.len());
        for pair in knots.windows(2) {
            for k in 0..PLACES {
                let t = pair[0] + (pair[1] - pair[0]) * k as f64 / PLACES as f64;
                places.push((t, curve.at_chord(t)));
            }
        }
        let length = *knots.last()?;
        places.push((length, curve.at_chord(length)));
        Some(Self {
            curve,
            places,
            length,
            id: Self::id_of(points),
        })
    }

    /// A number that tells the face through these points from that through others.
    #[must_use]
    pub fn id_of(points: &[[f64; 2]]) -> u64 {
        // The constants of the hash FNV-1a, 64 bits.
        let bits = points.iter().flatten().map(|v| v.to_bits());
        bits.fold(0xcbf2_9ce4_8422_2325, |hash: u64, bits| {
            (hash ^ bits).wrapping_mul(0x0100_0000_01b3)
        })
    }

    /// [`Face::id_of`] its points.
    #[must_use]
    pub fn id(&self) -> u64 {
        self.id
    }

    /// Points along it, both ends among them.
    pub fn outline(&self) -> impl Iterator<Item = [f64; 2]> + '_ {
        self.places.iter().map(|(_, at)| *at)
    }

    /// Curvatures along it: least, greatest.
    #[must_use]
    pub fn bends(&self) -> [f64; 2] {
        let bends = self.places.iter().map(|(t, _)| self.touch(*t).bend);
        bends.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], bend| {
            [low.min(bend), high.max(bend)]
        })
    }

    /// Where a disc about this point touches it.
    #[must_use]
    pub fn nearest(&self, to: [f64; 2]) -> Touch {
        let far = |at: [f64; 2]| (at[0] - to[0]).powi(2) + (at[1] - to[1]).powi(2);
        let slope = |t: f64| {
            let [at, v, a] = self.curve.flow(t);
            let off = [at[0] - to[0], at[1] - to[1]];
            let along = off[0] * v[0] + off[1] * v[1];
            let steep = v[0] * v[0] + v[1] * v[1] + off[0] * a[0] + off[1] * a[1];
            [along, steep]
        };
        match self.least(far, slope) {
            Ok(t) => self.touch(t),
            Err(end) => {
                // It goes on straight.
                let mut touch = self.touch(end);
                let along = [-touch.out[1], touch.out[0]];
                let way = (to[0] - touch.at[0]) * along[0] + (to[1] - touch.at[1]) * along[1];
                touch.at = [touch.at[0] + way * along[0], touch.at[1] + way * along[1]];
                touch.left = -way.abs();
                touch.bend = 0.0;
                touch
            }
        }
    }

    /// Where a line touches it that has the whole face on its side towards `side`, a unit vector.
    #[must_use]
    pub fn foremost(&self, side: [f64; 2]) -> Touch {
        let far = |at: [f64; 2]| at[0] * side[0] + at[1] * side[1];
        let slope = |t: f64| {
            let [_, v, a] = self.curve.flow(t);
            [
                v[0] * side[0] + v[1] * side[1],
                a[0] * side[0] + a[1] * side[1],
            ]
        };
        match self.least(far, slope) {
            Ok(t) => Touch {
                out: [-side[0], -side[1]],
                ..self.touch(t)
            },
            Err(end) => {
                let mut touch = self.touch(end);
                touch.left = -slope(end)[0].abs() * self.length;
                touch.out = [-side[0], -side[1]];
                touch
            }
        }
    }

    /// The place at a parameter.
    fn touch(&self, t: f64) -> Touch {
        let [at, v, a] = self.curve.flow(t);
        let speed = v[0].hypot(v[1]);
        let along = self.curve.direction(t);
        Touch {
            at,
            out: [along[1], -along[0]],
            bend: if speed > 0.0 {
                (v[0] * a[1] - v[1] * a[0]) / speed.powi(3)
            } else {
                0.0
            },
            left: t.min(self.length - t),
        }
    }

    /// The parameter at which a function of the place is least, by its slope and the slope's own; the end beyond
    /// which it would go on falling.
    fn least(
        &self,
        value: impl Fn([f64; 2]) -> f64,
        slope: impl Fn(f64) -> [f64; 2],
    ) -> Result<f64, f64> {
        let values = self.places.iter().map(|(_, at)| value(*at)).enumerate();
        let best = values.min_by(|a, b| a.1.total_cmp(&b.1));
        let best = best.map_or(0, |(k, _)| k);
        let last = self.places.len() - 1;
        let here = self.places[best].0;
        let falls_on = slope(here)[0] < 0.0;
        match (best == 0, best == last, falls_on) {
            (true, _, false) if slope(here)[0] > 0.0 => return Err(0.0),
            (_, true, true) => return Err(self.length),
            _ => {}
        }
        let side = |k: usize| self.places[k.min(last)].0;
        let (mut low, mut high) = if falls_on {
            (here, side(best + 1))
        } else {
            (side(best.saturating_sub(1)), here)
        };
        let mut t = here;
        for _ in 0..MOST_STEPS {
            let [along, steep] = slope(t);
            if along > 0.0 {
                high = t;
            } else {
                low = t;
            }
            let newton = t - along / steep;
            let inside = newton > low && newton < high;
            let next = if inside { newton } else { 0.5 * (low + high) };
            let moved = (next - t).abs();
            t = next;
            if moved <= 1e-15 * self.length {
                break;
            }
        }
        Ok(t)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Points of a circle about the origin, counter-clockwise, so that its inside is to the left.
    fn arc(radius: f64, from: f64, to: f64, points: usize) -> Vec<[f64; 2]> {
        let step = (to - from) / (points - 1) as f64;
        let at = |k: usize| {
            let (sin, cos) = (from + step * k as f64).sin_cos();
            [radius * cos, radius * sin]
        };
        (0..points).map(at).collect()
    }

    #[test]
    fn a_disc_touches_a_round_face_on_the_line_of_centres() {
        let face = Face::through(&arc(20.0, 0.0, 2.0, 81)).expect("a face");
        for angle in [0.5_f64, 1.0, 1.37] {
            let (sin, cos) = angle.sin_cos();
            let touch = face.nearest([31.0 * cos, 31.0 * sin]);
            assert!((touch.at[0] - 20.0 * cos).hypot(touch.at[1] - 20.0 * sin) < 1e-6);
            assert!((touch.out[0] - cos).hypot(touch.out[1] - sin) < 1e-6);
            assert!((touch.bend - 0.05).abs() < 1e-5, "{}", touch.bend);
            // As parts of the circle the ways to the ends are 20 mm for each radian.
            let left = 20.0 * angle.min(2.0 - angle);
            assert!((touch.left - left).abs() < 1e-3, "{}", touch.left);
        }
    }

    #[test]
    fn it_is_the_nearest_of_many_places_and_square_to_the_face() {
        let face = Face::through(&[[0.0, 0.0], [-8.0, 3.0], [-15.0, 1.0], [-24.0, 4.0]]);
        let face = face.expect("a face");
        for k in 0..60 {
            let to = [2.0 - 0.5 * f64::from(k), 9.0 + f64::from(k % 7)];
            let touch = face.nearest(to);
            let far = |at: [f64; 2]| (at[0] - to[0]).hypot(at[1] - to[1]);
            let all =
                (0..=20_000).map(|k| far(face.curve.at_chord(face.length * f64::from(k) / 2e4)));
            let least = all.fold(f64::INFINITY, f64::min);
            if touch.left >= 0.0 {
                assert!((far(touch.at) - least).abs() < 1e-6, "{k}");
                let off = [to[0] - touch.at[0], to[1] - touch.at[1]];
                let square = off[0] * touch.out[1] - off[1] * touch.out[0];
                assert!(square.abs() < 1e-9, "{k}: {square}");
            } else {
                assert!(far(touch.at) <= least);
            }
        }
    }

    #[test]
    fn beyond_its_ends_nothing_of_it_is_left() {
        let face = Face::through(&arc(20.0, 0.0, 2.0, 41)).expect("a face");
        // A natural spline has no curvature at its ends, and so leaves a circle by some hundredths of a radian.
        let touch = face.nearest([25.0, -3.0]);
        assert!((touch.left + 3.0).abs() < 0.1, "{}", touch.left);
        assert!((touch.at[1] + 3.0).abs() < 0.1 && touch.bend == 0.0);
        assert!(face.foremost([-1.0, 0.1]).left < 0.0);
    }

    #[test]
    fn a_line_touches_a_round_face_square_to_its_side() {
        let face = Face::through(&arc(20.0, 0.0, 2.0, 81)).expect("a face");
        let (sin, cos) = 1.2_f64.sin_cos();
        let touch = face.foremost([-cos, -sin]);
        assert!((touch.at[0] - 20.0 * cos).hypot(touch.at[1] - 20.0 * sin) < 1e-5);
        assert!(touch.left > 0.0);
    }
}
