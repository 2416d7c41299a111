//! Outlines that several tests measure.

use super::{Fault, Hole, Piece, Shape, Step, Way, path};
use crate::geometry::Vec2;

pub(super) fn v(x: f64, y: f64) -> Vec2 {
    Vec2::new(x, y)
}

pub(super) fn to(x: f64, y: f64) -> Step {
    Step {
        to: v(x, y),
        way: Way::Straight,
        round: 0.0,
    }
}

pub(super) fn arc(radius: f64, x: f64, y: f64) -> Step {
    Step {
        way: Way::Arc(radius),
        ..to(x, y)
    }
}

pub(super) fn round(radius: f64, x: f64, y: f64) -> Step {
    Step {
        round: radius,
        ..to(x, y)
    }
}

pub(super) fn smooth(through: &[[f64; 2]], x: f64, y: f64, tangent: bool) -> Step {
    Step {
        way: Way::Smooth {
            through: through.iter().map(|&p| p.into()).collect(),
            tangent,
        },
        ..to(x, y)
    }
}

pub(super) fn polygon(points: &[[f64; 2]]) -> Vec<Step> {
    points[1..].iter().map(|p| to(p[0], p[1])).collect()
}

pub(super) fn shape(start: [f64; 2], steps: &[Step], holes: &[Hole]) -> Result<Shape, Fault> {
    Shape::new(path(start.into(), steps)?, Vec::new(), holes)
}

/// A rectangle from the origin.
pub(super) fn plate(width: f64, height: f64, holes: &[Hole]) -> Result<Shape, Fault> {
    let corners = [[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]];
    shape([0.0, 0.0], &polygon(&corners), holes)
}

pub(super) fn hole(x: f64, y: f64, diameter: f64) -> Hole {
    Hole::Round {
        at: v(x, y),
        diameter,
    }
}

/// A C-shaped frame with rounded corners, one arc, a smooth run, holes and a slot.
pub(super) fn frame() -> Shape {
    let steps = [
        to(118.0, -8.0),
        arc(10.0, 128.0, 2.0),
        to(128.0, 26.0),
        round(4.0, 104.0, 26.0),
        round(6.0, 104.0, 8.0),
        to(96.0, 8.0),
        smooth(&[[86.0, 10.0], [72.0, 14.0], [50.0, 12.0]], 34.0, 8.0, true),
        to(-14.0, 8.0),
    ];
    let holes = [
        hole(20.0, 0.0, 4.0),
        Hole::Slot {
            ends: [v(40.0, 0.0), v(55.0, 0.0)],
            width: 8.0,
        },
    ];
    shape([-14.0, -8.0], &steps, &holes).unwrap()
}

/// A C of 50 by 40 that opens to the right, 10 thick, corners of its throat rounded by 3. It starts on the
/// middle of its back, on the left, which runs down.
pub(super) fn c() -> Shape {
    let steps = [
        to(0.0, 0.0),
        to(50.0, 0.0),
        to(50.0, 10.0),
        round(3.0, 10.0, 10.0),
        round(3.0, 10.0, 30.0),
        to(50.0, 30.0),
        to(50.0, 40.0),
        to(0.0, 40.0),
    ];
    shape([0.0, 20.1], &steps, &[]).unwrap()
}

/// Numbers from 0 to 1, always the same for a seed (multiplier and increment of D. E. Knuth's MMIX, from
/// memory).
pub(super) fn noise(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed;
    move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as f64 / f64::from(1_u32 << 31)
    }
}

/// A random outline about the origin, of `n` lines and arcs; arcs bulge out or in.
pub(super) fn random(n: usize, seed: u64) -> Shape {
    for more in 0..1000 {
        let mut next = noise(seed * 1000 + more);
        let corner = |k: usize, r: f64| {
            Vec2::unit(std::f64::consts::TAU * k as f64 / n as f64) * (10.0 + 10.0 * r)
        };
        let start = corner(0, next());
        let mut steps = Vec::new();
        let mut last = start;
        for k in 1..=n {
            let to = if k == n { start } else { corner(k, next()) };
            let chord = (to - last).length();
            let kind = next();
            let radius = chord * (0.55 + 2.0 * next());
            let way = match kind {
                k if k < 0.3 => Way::Straight,
                k if k < 0.65 => Way::Arc(radius),
                _ => Way::Arc(-radius),
            };
            steps.push(Step {
                to,
                way,
                round: 0.0,
            });
            last = to;
        }
        if let Ok(shape) = shape(start.xy(), &steps, &[]) {
            return shape;
        }
    }
    panic!("no outline of {n} pieces");
}

/// Random steps between the points of a small grid, where touching, folding back and running along one another
/// are frequent.
pub(super) fn grid(seed: u64) -> (Vec2, Vec<Step>) {
    let mut next = noise(seed);
    let mut whole = |n: f64| (next() * n).floor();
    let count = 2 + whole(7.0) as usize;
    let start = v(whole(7.0), whole(7.0));
    let steps: Vec<Step> = (0..count)
        .map(|_| {
            let (x, y) = (whole(7.0), whole(7.0));
            match whole(6.0) as i32 {
                0 => arc(1.0 + whole(4.0), x, y),
                1 => arc(-1.0 - whole(4.0), x, y),
                2 => round(0.5 + whole(2.0), x, y),
                3 => smooth(&[[whole(7.0), whole(7.0)]], x, y, whole(2.0) > 0.0),
                _ => to(x, y),
            }
        })
        .collect();
    (start, steps)
}

/// Points along pieces, `each` on every one.
pub(super) fn samples(pieces: &[Piece], each: usize) -> Vec<Vec2> {
    pieces
        .iter()
        .flat_map(|piece| (0..each).map(|k| piece.point(k as f64 / each as f64)))
        .collect()
}
