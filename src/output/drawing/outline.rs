//! Outlines of parts: the convex shape round their points, with round corners.

use super::ink::{Step, V, across, dot, length, minus, plus, times, unit};
use std::f64::consts::TAU;

/// The corners of the smallest convex shape round the points, counter-clockwise where y is up.
/// Points nearer to each other than a micrometre count once.
///
/// Monotone chain: A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions",
/// Information Processing Letters 9 (1979).
pub(super) fn hull(points: &[V]) -> Vec<V> {
    let mut sorted: Vec<V> = points.to_vec();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    sorted.dedup_by(|a, b| length(minus(*a, *b)) < 1e-3);
    if sorted.len() < 3 {
        return sorted;
    }
    let half = |points: &mut dyn Iterator<Item = V>| {
        let mut chain: Vec<V> = Vec::new();
        for p in points {
            while let [.., a, b] = chain.as_slice() {
                let (u, v) = (minus(*b, *a), minus(p, *b));
                if u[0] * v[1] - u[1] * v[0] > 1e-9 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut corners = half(&mut sorted.iter().copied());
    corners.extend(half(&mut sorted.iter().rev().copied()));
    corners
}

/// The outline at distance `round` from the convex shape of these corners: where it starts, and
/// its steps. A single corner gives a circle, two give the shape of a link.
pub(super) fn outline(corners: &[V], round: f64) -> Option<(V, Vec<Step>)> {
    let arc = |to: V| Step::Round {
        radius: round,
        to,
        right: true,
    };
    let first = *corners.first()?;
    if corners.len() == 1 {
        let (left, right) = (plus(first, [-round, 0.0]), plus(first, [round, 0.0]));
        return Some((left, vec![arc(right), arc(left)]));
    }
    // Corners run clockwise as seen when y is down; the outside is then on the left of the way.
    let mut steps = Vec::new();
    let mut start = None;
    for (k, &a) in corners.iter().enumerate() {
        let b = corners.get(k + 1).copied().unwrap_or(first);
        let out = times(-round, across(unit(minus(b, a))));
        let (from, to) = (plus(a, out), plus(b, out));
        if start.is_none() {
            start = Some(from);
        } else {
            steps.push(arc(from));
        }
        steps.push(Step::To(to));
    }
    let start = start?;
    steps.push(arc(start));
    Some((start, steps))
}

/// Square of the distance from a straight piece `d` of a point that stands at `to` from its beginning.
fn away_squared(d: V, to: V) -> f64 {
    let share = if dot(d, d) > 0.0 {
        (dot(to, d) / dot(d, d)).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let away = minus(to, times(share, d));
    dot(away, away)
}

/// How far a point lies outside the convex shape of these corners (as [`hull`] gives them), or
/// inside it as a negative number, as far as its nearest side.
pub(super) fn outside(corners: &[V], p: V) -> f64 {
    let Some(&first) = corners.first() else {
        return f64::INFINITY;
    };
    let (mut inside, mut nearest) = (corners.len() > 2, f64::INFINITY);
    for (k, &a) in corners.iter().enumerate() {
        let d = minus(corners.get(k + 1).copied().unwrap_or(first), a);
        let to = minus(p, a);
        nearest = nearest.min(away_squared(d, to));
        inside &= d[0] * to[1] - d[1] * to[0] >= 0.0;
    }
    let nearest = nearest.sqrt();
    if inside { -nearest } else { nearest }
}

/// How far a point lies outside a region between closed chains of points, or inside it as a negative number.
pub(super) fn off_region(rings: &[Vec<V>], p: V) -> f64 {
    let (mut inside, mut nearest) = (false, f64::INFINITY);
    for ring in rings {
        for (k, &a) in ring.iter().enumerate() {
            let Some(&b) = ring.get((k + 1) % ring.len()) else {
                continue;
            };
            let d = minus(b, a);
            nearest = nearest.min(away_squared(d, minus(p, a)));
            // Crossings of a ray to the right: odd inside.
            let across = a[0] + (p[1] - a[1]) / d[1] * d[0];
            inside ^= (a[1] > p[1]) != (b[1] > p[1]) && across > p[0];
        }
    }
    let nearest = nearest.sqrt();
    if inside { -nearest } else { nearest }
}

/// An outline as straight pieces, for what only needs to know about where it runs.
pub(super) fn corners_of(from: V, steps: &[Step]) -> Vec<V> {
    let mut points = vec![from];
    for step in steps {
        match *step {
            Step::To(p) | Step::Round { to: p, .. } => points.push(p),
        }
    }
    points
}

/// An outline as straight pieces that follow its arcs, which are less than half a turn.
pub(super) fn walked(from: V, steps: &[Step]) -> Vec<V> {
    let mut points = vec![from];
    let mut last = from;
    for step in steps {
        match *step {
            Step::To(p) => points.push(p),
            Step::Round { radius, to, right } => {
                points.extend(arc_between(last, to, radius, right))
            }
        }
        let (Step::To(to) | Step::Round { to, .. }) = *step;
        last = to;
    }
    points
}

/// Points after the first of an arc from one point to another, no more than half a turn; `right`: with the angle
/// from x towards y growing.
fn arc_between(from: V, to: V, radius: f64, right: bool) -> Vec<V> {
    let d = minus(to, from);
    let half = 0.5 * length(d);
    let high = (radius * radius - half * half).max(0.0).sqrt();
    let side = if right { 1.0 } else { -1.0 };
    let middle = plus(
        times(0.5, plus(from, to)),
        times(side * high, across(unit(d))),
    );
    let angle = |p: V| (p[1] - middle[1]).atan2(p[0] - middle[0]);
    let (start, mut end) = (angle(from), angle(to));
    if right && end < start {
        end += TAU;
    }
    if !right && end > start {
        end -= TAU;
    }
    let points = arc_points(middle, radius.max(half), start, end);
    points.into_iter().skip(1).collect()
}

/// A helical spring seen from the side: a zigzag of `teeth` between two points, `half` to each side.
pub(super) fn zigzag(from: V, to: V, teeth: usize, half: f64) -> Vec<V> {
    let d = minus(to, from);
    let (along, side) = (unit(d), across(unit(d)));
    let whole = length(d);
    let lead = (0.12 * whole).min(4.0);
    let coil = whole - 2.0 * lead;
    let mut points = vec![from, plus(from, times(lead, along))];
    for k in 0..teeth {
        let s = lead + coil * (k as f64 + 0.5) / teeth as f64;
        let off = if k % 2 == 0 { half } else { -half };
        points.push(plus(from, plus(times(s, along), times(off, side))));
    }
    points.push(plus(from, times(lead + coil, along)));
    points.push(to);
    points
}

/// Points of an arc about `centre`, from one angle to the other (rad, from x towards y).
pub(super) fn arc_points(centre: V, radius: f64, from: f64, to: f64) -> Vec<V> {
    let pieces = ((to - from).abs() / 0.12).ceil().clamp(2.0, 200.0) as usize;
    (0..=pieces)
        .map(|k| {
            let a = from + (to - from) * k as f64 / pieces as f64;
            plus(centre, [radius * a.cos(), radius * a.sin()])
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hull_leaves_out_what_lies_inside() {
        let points = [
            [0.0, 0.0],
            [2.0, 0.0],
            [1.0, 0.5],
            [2.0, 2.0],
            [0.0, 2.0],
            [1.0, 0.0],
        ];
        let corners = hull(&points);
        assert_eq!(corners, [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]);
    }

    #[test]
    fn points_on_a_line_give_its_two_ends() {
        assert_eq!(
            hull(&[[1.0, 1.0], [0.0, 0.0], [2.0, 2.0], [1.0, 1.0]]),
            [[0.0, 0.0], [2.0, 2.0]]
        );
        assert!(hull(&[]).is_empty() && outline(&[], 1.0).is_none());
    }

    #[test]
    fn distances_from_the_hull_have_a_sign() {
        let corners = hull(&[[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [0.0, 3.0]]);
        assert_eq!(outside(&corners, [2.0, 1.0]), -1.0);
        assert_eq!(outside(&corners, [7.0, 7.0]), 5.0);
        assert_eq!(outside(&hull(&[[0.0, 0.0], [4.0, 0.0]]), [2.0, 1.0]), 1.0);
        assert_eq!(outside(&[[1.0, 1.0]], [1.0, 3.0]), 2.0);
    }

    #[test]
    fn a_region_has_an_inside_and_a_hole() {
        let square = |low: f64, high: f64| vec![[low, low], [high, low], [high, high], [low, high]];
        let rings = [square(0.0, 10.0), square(4.0, 6.0)];
        assert_eq!(off_region(&rings, [2.0, 5.0]), -2.0);
        assert_eq!(off_region(&rings, [5.0, 5.5]), 0.5);
        assert_eq!(off_region(&rings, [13.0, 14.0]), 5.0);
    }

    #[test]
    fn the_outline_stays_at_its_distance_outside() {
        let corners = hull(&[[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [0.0, 3.0]]);
        let (from, steps) = outline(&corners, 0.5).unwrap();
        for p in corners_of(from, &steps) {
            let d = [
                (-p[0]).max(p[0] - 4.0).max(0.0),
                (-p[1]).max(p[1] - 3.0).max(0.0),
            ];
            assert!((length(d) - 0.5).abs() < 1e-12, "{p:?}");
        }
    }
}
