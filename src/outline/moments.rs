//! Area, centroid and second moments of area, by Green's theorem along the border.
//!
//! With w = x dy − y dx along a closed border, material on its left: A = ½∮w, ∫x dA = ⅓∮x w,
//! ∫x² dA = ¼∮x² w, and so for y and x y (the divergence of (x, y) f is (n + 2) f where f is of degree n).
//! Lines are integrated exactly; arcs by six-point Gauss over at most an eighth of a right angle each, whose
//! rest is below rounding. The centroid comes first, then the moments about it: far from the origin
//! A c² would swallow them.

use super::Piece;
use crate::geometry::Vec2;
use crate::numeric::gauss::{SIX, THREE, nodes};
use std::f64::consts::PI;

/// The moments of an area. All second moments are about its centroid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moments {
    /// Area, mm².
    pub area: f64,
    /// Centroid, mm.
    pub centroid: Vec2,
    /// ∫y² dA, about the axis along x, mm⁴.
    pub ix: f64,
    /// ∫x² dA, about the axis along y, mm⁴.
    pub iy: f64,
    /// ∫x y dA, mm⁴.
    pub ixy: f64,
}

impl Moments {
    /// Of the area on the left of closed borders; holes run clockwise.
    #[must_use]
    pub fn of(pieces: &[Piece]) -> Self {
        let Some(first) = pieces.first() else {
            return Self {
                area: 0.0,
                centroid: Vec2::ZERO,
                ix: 0.0,
                iy: 0.0,
                ixy: 0.0,
            };
        };
        let steps = steps(pieces, first.from);
        let sums = integrate(&steps, Vec2::ZERO);
        let area = sums[0];
        let centroid = Vec2::new(sums[1], sums[2]) / area;
        let about = integrate(&steps, centroid);
        Self {
            area,
            centroid: first.from + centroid,
            ix: about[4],
            iy: about[3],
            ixy: about[5],
        }
    }

    /// The largest and the smallest second moment about axes through the centroid, mm⁴, and the angle of
    /// the axis about which it is largest, rad from x, above −π/2 and up to π/2.
    #[must_use]
    pub fn principal(&self) -> ([f64; 2], f64) {
        let mean = 0.5 * (self.ix + self.iy);
        let half = 0.5 * (self.ix - self.iy);
        let radius = half.hypot(self.ixy);
        let angle = 0.5 * (-self.ixy).atan2(half);
        ([mean + radius, mean - radius], angle)
    }

    /// Second moment about the axis through a point along a unit vector, mm⁴ (parallel axes).
    #[must_use]
    pub fn about(&self, point: Vec2, along: Vec2) -> f64 {
        let (c, s) = (along.x(), along.y());
        let own = self.ix * c * c - 2.0 * self.ixy * c * s + self.iy * s * s;
        let arm = along.cross(self.centroid - point);
        own + self.area * arm * arm
    }
}

/// The area on the left of one closed border: that of the polygon through its corners, and the segment between each arc
/// and its chord, ½ r² (θ − sin θ), which is below 0 where the arc turns clockwise.
pub(super) fn area(pieces: &[Piece]) -> f64 {
    let Some(first) = pieces.first() else {
        return 0.0;
    };
    let one = |piece: &Piece| {
        let bulge = piece.arc.map_or(0.0, |arc| {
            arc.radius * arc.radius * (arc.sweep - arc.sweep.sin())
        });
        (piece.from - first.from).cross(piece.to - first.from) + bulge
    };
    0.5 * pieces.iter().map(one).sum::<f64>()
}

/// Places along borders, from a point, and what is walked there.
fn steps(pieces: &[Piece], from: Vec2) -> Vec<(Vec2, Vec2)> {
    let mut steps = Vec::with_capacity(3 * pieces.len());
    for piece in pieces {
        match piece.arc {
            None => {
                let way = piece.to - piece.from;
                for (share, weight) in nodes(&THREE, 0.0, 1.0) {
                    steps.push((piece.from - from + way * share, way * weight));
                }
            }
            Some(arc) => {
                let parts = (arc.sweep.abs() / (PI / 16.0)).ceil().max(1.0);
                let share = |k: usize| k as f64 / parts;
                for k in 0..parts as usize {
                    for (at, weight) in nodes(&SIX, share(k), share(k + 1)) {
                        let (place, along) = piece.course(at);
                        steps.push((place - from, along * (piece.length() * weight)));
                    }
                }
            }
        }
    }
    steps
}

/// A, ∫x, ∫y, ∫x², ∫y², ∫xy over the area, about a point.
fn integrate(steps: &[(Vec2, Vec2)], about: Vec2) -> [f64; 6] {
    let mut sums = [0.0; 6];
    for &(place, step) in steps {
        let p = place - about;
        let (x, y) = (p.x(), p.y());
        let w = p.cross(step);
        for (sum, f) in sums.iter_mut().zip([1.0, x, y, x * x, y * y, x * y]) {
            *sum += f * w;
        }
    }
    let by = [2.0, 3.0, 3.0, 4.0, 4.0, 4.0];
    for (sum, by) in sums.iter_mut().zip(by) {
        *sum /= by;
    }
    sums
}

#[cfg(test)]
mod tests {
    use crate::outline::tests::{
        arc, frame, hole, plate, polygon, random, round, samples, shape, to, v,
    };
    use crate::outline::{Arc, Piece, Shape};
    use approx::assert_relative_eq as near;
    use std::f64::consts::{PI, SQRT_2};

    /// R. C. Hibbeler and A. Gupta, *Engineering Mechanics*, example 10.5, p. 387: a rectangle of 100 by
    /// 150 mm less a hole of 50 mm in its middle, about the base: 101(10⁶) mm⁴. To more digits from the
    /// same inputs: 100 · 150³/3 − (π 25⁴/4 + π 25² · 75²).
    #[test]
    fn published_rectangle_with_a_hole() {
        let shape = plate(100.0, 150.0, &[hole(50.0, 75.0, 50.0)]).unwrap();
        let about = shape.moments().about(v(0.0, 0.0), v(1.0, 0.0));
        near!(about, 101e6, max_relative = 0.5e-2);
        let exact = 100.0 * 150_f64.powi(3) / 3.0
            - (PI * 25_f64.powi(4) / 4.0 + PI * 25_f64.powi(2) * 75_f64.powi(2));
        near!(about, exact, max_relative = 1e-14);
        near!(
            shape.moments().area,
            15000.0 - PI * 625.0,
            max_relative = 1e-14
        );
    }

    const Z: [[f64; 2]; 8] = [
        [-300.0, -50.0],
        [200.0, -50.0],
        [200.0, -350.0],
        [300.0, -350.0],
        [300.0, 50.0],
        [-200.0, 50.0],
        [-200.0, 350.0],
        [-300.0, 350.0],
    ];

    /// The same, examples 10.6 (p. 388) and 10.8 (p. 394): a Z of 100 × 300, 600 × 100 and 100 × 300 mm:
    /// 2.90(10⁹), 5.60(10⁹), −3.00(10⁹) mm⁴. Far from the origin the same digits come out.
    #[test]
    fn published_z_section_near_and_far() {
        let z = |x: f64, y: f64| {
            let points = Z.map(|p| [p[0] + x, p[1] + y]);
            shape(points[0], &polygon(&points), &[]).unwrap().moments()
        };
        let own = z(0.0, 0.0);
        near!(own.ix, 2.90e9, max_relative = 0.5e-3);
        near!(own.iy, 5.60e9, max_relative = 0.5e-3);
        near!(own.ixy, -3.00e9, max_relative = 0.5e-3);
        // By parts: 2 (100 · 300³/12 + 30 000 · 200²) + 600 · 100³/12, and so on.
        near!(own.ix, 2.9e9, max_relative = 1e-14);
        near!(own.iy, 5.6e9, max_relative = 1e-14);
        near!(own.ixy, -3.0e9, max_relative = 1e-14);
        let ([most, least], angle) = own.principal();
        let radius = 1.35e9_f64.hypot(3.0e9);
        near!(most, 4.25e9 + radius, max_relative = 1e-14);
        near!(least, 4.25e9 - radius, max_relative = 1e-13);
        near!(
            own.about(own.centroid, crate::geometry::Vec2::unit(angle)),
            most,
            max_relative = 1e-13
        );
        let far = z(1e6, -1e6);
        near!(far.ix, own.ix, max_relative = 1e-12);
        near!(far.iy, own.iy, max_relative = 1e-12);
        near!(far.ixy, own.ixy, max_relative = 1e-12);
        near!(far.centroid.x(), 1e6, max_relative = 1e-15);
    }

    /// The same, example 9.10, p. 353, here with 1000 mm to the metre: a triangle and a square of 3 less a
    /// notch of 2 by 1: −0.348, 1.22 m.
    #[test]
    fn published_centroid_with_a_cut_out() {
        let points = [
            [-3e3, 0.0],
            [3e3, 0.0],
            [0.0, 3e3],
            [-2e3, 3e3],
            [-2e3, 1e3],
            [-3e3, 1e3],
        ];
        let shape = shape(points[0], &polygon(&points), &[]).unwrap();
        let moments = shape.moments();
        near!(moments.centroid.x(), -348.0, epsilon = 0.5);
        near!(moments.centroid.y(), 1220.0, epsilon = 5.0);
        near!(moments.area, 11.5e6, max_relative = 1e-14);
        near!(moments.centroid.x(), -4e3 / 11.5, max_relative = 1e-13);
        near!(moments.centroid.y(), 14e3 / 11.5, max_relative = 1e-13);
    }

    /// D. W. Baker and W. Haynes, *Engineering Statics*, sec. 10.3: a ring of radii 45 and 30 about a
    /// diameter: 2.58(10⁶); exactly π/4 (45⁴ − 30⁴). Far away too.
    #[test]
    fn published_ring() {
        for (x, y) in [(0.0, 0.0), (1e6, 2e5)] {
            let steps = [arc(45.0, x + 45.0, y), arc(45.0, x - 45.0, y)];
            let ring = shape([x - 45.0, y], &steps, &[hole(x, y, 60.0)]).unwrap();
            let moments = ring.moments();
            let exact = PI / 4.0 * (45_f64.powi(4) - 30_f64.powi(4));
            near!(moments.ix, 2.58e6, max_relative = 0.5e-2);
            let digits = if x == 0.0 { 1e-14 } else { 1e-10 };
            near!(moments.ix, exact, max_relative = digits);
            near!(moments.iy, exact, max_relative = digits);
            near!(moments.ixy / exact, 0.0, epsilon = digits);
            near!(moments.area, PI * 1125.0, max_relative = digits);
        }
    }

    /// A plate of 20 with its corners rounded by 4: 400 − (4 − π) 16; a quarter disc by its closed forms
    /// (r⁴ (π/16 − 4/(9 π)) about the centroid, Ixy = r⁴ (1/8 − 4/(9 π))).
    #[test]
    fn closed_forms_with_arcs() {
        let steps = [
            round(4.0, 20.0, 0.0),
            round(4.0, 20.0, 20.0),
            round(4.0, 0.0, 20.0),
            round(4.0, 0.0, 0.0),
        ];
        let rounded = shape([0.0, 0.0], &steps, &[]).unwrap();
        assert_eq!(rounded.pieces().len(), 8);
        near!(
            rounded.moments().area,
            400.0 - (4.0 - PI) * 16.0,
            max_relative = 1e-14
        );
        let quarter = shape([0.0, 0.0], &[to(8.0, 0.0), arc(8.0, 0.0, 8.0)], &[]).unwrap();
        let moments = quarter.moments();
        let r4 = 8_f64.powi(4);
        near!(
            moments.centroid.x(),
            32.0 / (3.0 * PI),
            max_relative = 1e-14
        );
        near!(
            moments.ix,
            r4 * (PI / 16.0 - 4.0 / (9.0 * PI)),
            max_relative = 1e-13
        );
        near!(
            moments.ixy,
            r4 * (0.125 - 4.0 / (9.0 * PI)),
            max_relative = 1e-13
        );
        let ([most, _], angle) = moments.principal();
        near!(angle.abs(), PI / 4.0, max_relative = 1e-12);
        near!(
            moments.about(moments.centroid, v(1.0, 1.0) / SQRT_2),
            moments.ix - moments.ixy,
            max_relative = 1e-13
        );
        near!(most, moments.ix + moments.ixy.abs(), max_relative = 1e-13);
    }

    /// Against polygons with 4000 corners on each piece: off by the square of the step.
    #[test]
    fn fine_polygons_come_close() {
        let mut shapes = vec![frame()];
        shapes.extend((0..20).map(|seed| random(7, seed)));
        for shape in shapes {
            let lines: Vec<Piece> = shape
                .borders()
                .flat_map(|border| {
                    let points = samples(&shape.pieces()[border], 4000);
                    let n = points.len();
                    (0..n)
                        .map(move |k| Piece::line(points[k], points[(k + 1) % n]))
                        .collect::<Vec<_>>()
                })
                .collect();
            let (own, other) = (shape.moments(), super::Moments::of(&lines));
            near!(own.area, other.area, max_relative = 1e-6);
            near!(own.ix, other.ix, max_relative = 1e-6);
            near!(own.iy, other.iy, max_relative = 1e-6);
            near!(own.ixy, other.ixy, epsilon = 1e-6 * own.ix);
        }
    }

    /// The area alone, in closed form, is that of the moments, also where arcs turn by more than half a circle.
    #[test]
    fn the_area_alone_is_the_same() {
        for seed in 0..50 {
            let shape = random(7, seed);
            for border in shape.borders() {
                let pieces = &shape.pieces()[border];
                let whole = super::Moments::of(pieces).area;
                near!(super::area(pieces), whole, max_relative = 1e-12);
            }
        }
        // Three quarters of a disc, and the quarter that is left, run the other way.
        let arc = |sweep: f64| Piece {
            arc: Some(Arc {
                centre: v(0.0, 0.0),
                radius: 8.0,
                sweep,
            }),
            ..Piece::line(v(8.0, 0.0), v(0.0, -8.0))
        };
        let lines = [
            Piece::line(v(0.0, -8.0), v(0.0, 0.0)),
            Piece::line(v(0.0, 0.0), v(8.0, 0.0)),
        ];
        let area = |sweep: f64| super::area(&[arc(sweep), lines[0], lines[1]]);
        near!(area(1.5 * PI), 48.0 * PI, max_relative = 1e-14);
        near!(area(-0.5 * PI), -16.0 * PI, max_relative = 1e-14);
    }

    #[test]
    fn a_mirror_keeps_the_moments() {
        let shape: Shape = frame();
        let image = shape.mirrored([v(3.0, 5.0), v(3.0, 9.0)]).unwrap();
        let (a, b) = (shape.moments(), image.moments());
        near!(a.area, b.area, max_relative = 1e-13);
        near!(a.ix, b.ix, max_relative = 1e-12);
        near!(a.iy, b.iy, max_relative = 1e-12);
        near!(a.ixy, -b.ixy, max_relative = 1e-11);
        near!(a.centroid.x() + b.centroid.x(), 6.0, max_relative = 1e-12);
        let slant = shape.mirrored([v(1.0, 2.0), v(4.0, 6.0)]).unwrap();
        let back = slant.mirrored([v(1.0, 2.0), v(4.0, 6.0)]).unwrap();
        near!(
            slant.moments().principal().0[0],
            a.principal().0[0],
            max_relative = 1e-12
        );
        for (p, q) in shape.pieces().iter().zip(back.pieces()) {
            assert!(
                shape.nearest(q.from).distance < 1e-12 && p.arc.is_some() == q.arc.is_some()
                    || p.entry != q.entry
            );
        }
        assert!(image.owner(image.pieces().len() - 1) == shape.owner(shape.pieces().len() - 1));
    }
}
