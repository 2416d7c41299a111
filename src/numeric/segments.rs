//! How near two straight pieces come to each other in the plane.

use crate::geometry::Vec2;

/// Where two pieces are nearest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearest {
    /// Their distance; zero where they cross.
    pub distance: f64,
    /// Share of the way along the first.
    pub share: f64,
}

/// The nearest places of two pieces, each from its first point to its second.
#[must_use]
pub fn nearest(first: [Vec2; 2], second: [Vec2; 2]) -> Nearest {
    if let Some(share) = crossing(first, second) {
        return Nearest {
            distance: 0.0,
            share,
        };
    }
    // Pieces that do not cross are nearest at an end of one of them.
    let [a, b] = first;
    let [c, d] = second;
    let own = |point, share| {
        let foot = foot(point, second);
        ((point - foot.0).length(), share)
    };
    let other = |point| {
        let foot = foot(point, first);
        ((point - foot.0).length(), foot.1)
    };
    let [mut best, rest @ ..] = [own(a, 0.0), own(b, 1.0), other(c), other(d)];
    for one in rest {
        if one.0 < best.0 {
            best = one;
        }
    }
    Nearest {
        distance: best.0,
        share: best.1,
    }
}

/// Share of the way along the first piece at which it crosses the second.
fn crossing([a, b]: [Vec2; 2], [c, d]: [Vec2; 2]) -> Option<f64> {
    let (along, other, from) = (b - a, d - c, c - a);
    let turn = along.cross(other);
    if turn == 0.0 {
        return None; // parallel: the ends tell
    }
    let (share, there) = (from.cross(other) / turn, from.cross(along) / turn);
    let within = |v: f64| (0.0..=1.0).contains(&v);
    (within(share) && within(there)).then_some(share)
}

/// The point of a piece that is nearest to a point, and its share of the way along.
fn foot(point: Vec2, [a, b]: [Vec2; 2]) -> (Vec2, f64) {
    let (way, to) = (b - a, point - a);
    let square = way.dot(way);
    let share = if square > 0.0 {
        (to.dot(way) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (
        Vec2::new(a[0] + share * way[0], a[1] + share * way[1]),
        share,
    )
}

#[cfg(test)]
mod tests {
    use super::nearest;
    use crate::geometry::Vec2;

    /// By hand: a piece along x from 0 to 10.
    #[test]
    fn distances_and_places_by_hand() {
        let own = [[0.0, 0.0], [10.0, 0.0]];
        for (other, distance, share) in [
            ([[4.0, -1.0], [4.0, 3.0]], 0.0, 0.4),
            ([[4.0, 2.0], [4.0, 3.0]], 2.0, 0.4),
            ([[13.0, 4.0], [13.0, 9.0]], 5.0, 1.0),
            ([[-3.0, -4.0], [-9.0, -4.0]], 5.0, 0.0),
            ([[2.0, 7.0], [9.0, 7.0]], 7.0, 0.2),
            ([[6.0, 1.0], [6.0, 1.0]], 1.0, 0.6),
        ] {
            let found = nearest(own.map(Vec2::from), other.map(Vec2::from));
            assert!(
                (found.distance - distance).abs() < 1e-12,
                "{other:?}: {found:?}"
            );
            assert!((found.share - share).abs() < 1e-12, "{other:?}: {found:?}");
        }
    }
}
