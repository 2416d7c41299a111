//! Smooth runs: the natural cubic by chord length that hand lines use too, turned once into arcs.
//!
//! Each stretch of the curve becomes two arcs that meet without a corner and keep its ends and its directions
//! there (a biarc), halved until nowhere farther than [`SMOOTH`](super::SMOOTH) from it. Choice of the joint:
//! both arcs' tangent lengths equal (K. M. Bolton, "Biarc curves", *Computer-Aided Design* 7 (1975) 89–92;
//! from memory).

use super::step::{Step, Way};
use super::{Piece, SMOOTH};
use crate::geometry::Vec2;
use crate::numeric::Curve;

/// Places on a stretch at which its arcs are compared with it.
const LOOKS: usize = 8;

/// Most halvings of the stretch between two points.
const HALVINGS: u32 = 12;

/// Adds the arcs of the smooth step `k`.
pub(super) fn run(
    all: &mut Vec<Piece>,
    k: usize,
    start: Vec2,
    steps: &[Step],
    pieces: &[Option<Piece>],
) {
    let points = points(k, start, steps);
    let tangent = matches!(steps[k].way, Way::Smooth { tangent: true, .. });
    let ends = if tangent {
        neighbours(k, start, steps, pieces)
    } else {
        [None; 2]
    };
    let Some(curve) = Curve::leaving(&points, ends) else {
        return; // no two points are the same: this cannot be
    };
    let knots: Vec<f64> = curve.chords().collect();
    for knots in knots.windows(2) {
        stretch(all, &curve, k, [knots[0], knots[1]], HALVINGS);
    }
    // The last bit belongs to the neighbours.
    if let Some(last) = all.last_mut() {
        last.to = steps[k].to;
    }
}

fn points(k: usize, start: Vec2, steps: &[Step]) -> Vec<[f64; 2]> {
    let mut points = vec![start.xy()];
    if let Way::Smooth { through, .. } = &steps[k].way {
        points.extend(through.iter().map(|p| p.xy()));
    }
    points.push(steps[k].to.xy());
    points
}

/// The directions in which the step before arrives and the step after leaves.
fn neighbours(
    k: usize,
    start: Vec2,
    steps: &[Step],
    pieces: &[Option<Piece>],
) -> [Option<[f64; 2]>; 2] {
    let n = steps.len();
    let from = |k: usize| steps[(k + n - 1) % n].to;
    let own = points(k, start, steps);
    let [before, after] = [(k + n - 1) % n, (k + 1) % n];
    let unit = |v: Vec2| (v.length() > 0.0).then(|| (v / v.length()).xy());
    // Of two smooth runs that meet without a corner, both take the direction from the point before to the
    // point after; one that is free at its end keeps its own direction.
    let arriving = match &pieces[before] {
        Some(piece) => Some(piece.tangent(1.0).xy()),
        None => {
            let other = points(before, from(before), steps);
            match steps[before].way {
                Way::Smooth { tangent: true, .. } => {
                    unit(Vec2::from(own[1]) - Vec2::from(other[other.len() - 2]))
                }
                _ => Curve::through(&other, true).map(|c| c.tangent(c.length())),
            }
        }
    };
    let leaving = match &pieces[after] {
        Some(piece) => Some(piece.tangent(0.0).xy()),
        None => {
            let other = points(after, from(after), steps);
            match steps[after].way {
                Way::Smooth { tangent: true, .. } => {
                    unit(Vec2::from(other[1]) - Vec2::from(own[own.len() - 2]))
                }
                _ => Curve::through(&other, true).map(|c| c.tangent(0.0)),
            }
        }
    };
    [arriving, leaving]
}

fn stretch(all: &mut Vec<Piece>, curve: &Curve, entry: usize, [a, b]: [f64; 2], left: u32) {
    let from = curve.at_chord(a).into();
    let to = curve.at_chord(b).into();
    let tangents = [curve.direction(a).into(), curve.direction(b).into()];
    let found = biarc(from, to, tangents);
    let good = found.is_some_and(|pair| {
        (1..LOOKS).all(|k| {
            let t = a + (b - a) * k as f64 / LOOKS as f64;
            let at = curve.at_chord(t).into();
            pair.iter()
                .any(|piece| (piece.nearest(at) - at).length() <= SMOOTH)
                && pair.iter().all(|piece| {
                    piece
                        .arc
                        .is_none_or(|arc| arc.sweep.abs() < std::f64::consts::FRAC_PI_2)
                })
        })
    });
    if good || left == 0 {
        match found {
            Some(pair) => all.extend(pair.map(|piece| piece.of_entry(entry))),
            None => all.push(Piece::line(from, to).of_entry(entry)),
        }
        return;
    }
    let middle = 0.5 * (a + b);
    stretch(all, curve, entry, [a, middle], left - 1);
    stretch(all, curve, entry, [middle, b], left - 1);
}

/// Two arcs from point to point that keep the directions at both ends.
fn biarc(from: Vec2, to: Vec2, [u, v]: [Vec2; 2]) -> Option<[Piece; 2]> {
    let chord = to - from;
    let sum = u + v;
    // The joint lies at the middle of both tangents' ends, of length d from their points:
    // |chord − d (u + v)| = 2 d.
    let (p, q, c) = (2.0 * (1.0 - u.dot(v)), chord.dot(sum), chord.dot(chord));
    let root = (q * q + p * c).sqrt();
    let d = if q + root > 0.0 {
        c / (q + root)
    } else {
        return None;
    };
    let joint = (from + to + (u - v) * d) * 0.5;
    let apart = (joint - from).length().min((to - joint).length());
    if !(apart > 0.0 && apart.is_finite()) {
        return None;
    }
    let first = Piece::leaving(from, u, joint);
    let second = Piece::leaving(to, -v, joint).reversed();
    Some([first, second])
}
