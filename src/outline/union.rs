//! The union of convex borders that overlap in part, along shared arcs and lines too.
//!
//! Every piece is split where others meet it; what lies inside another border goes; of stretches that lie on
//! one another one stays; the rest is joined end to end.

use super::{Piece, Shape};
use crate::geometry::{Frame, Vec2};

/// Nearer than this, places are on a border, mm. Borders stand near the origin, where rounding is far below.
const ON: f64 = 1e-8;

/// Nearer than this, two places on one piece, or two ends, are one, mm.
const SAME: f64 = 1e-5;

/// Where a part is compared with other borders, as shares of its length.
const LOOKS: [f64; 3] = [0.5, 0.3127, 0.7193];

/// The borders of the union: material on the left of each. `None` where their ends do not join.
pub(super) fn union(shapes: &[Shape]) -> Option<Vec<Vec<Piece>>> {
    let mut kept = Vec::new();
    for (i, shape) in shapes.iter().enumerate() {
        for piece in shape.pieces() {
            let mut places = Vec::new();
            let bounds = piece.bounds();
            for (_, other) in shapes.iter().enumerate().filter(|(j, _)| *j != i) {
                if bounds.distance(&other.bounds()) <= ON {
                    for across in other.pieces() {
                        meetings(piece, across, &mut places);
                    }
                }
            }
            for part in split(piece, &places) {
                if stays(&part, i, shapes) {
                    kept.push(part);
                }
            }
        }
    }
    chained(kept)
}

/// Whether a part of the border `own` is border of the whole: outside of all others, or the first of those that
/// run along it.
fn stays(part: &Piece, own: usize, shapes: &[Shape]) -> bool {
    shapes.iter().enumerate().all(|(k, other)| {
        if k == own {
            return true;
        }
        // One place may just touch the other border; three places on it run along it.
        let places = LOOKS.map(|share| (share, other.nearest(part.point(share))));
        match places.iter().find(|(_, near)| near.distance > ON) {
            Some(&(share, _)) => !other.holds(part.point(share)),
            None => {
                let (share, near) = places[0];
                let there = other.pieces()[near.piece].tangent(near.share);
                part.tangent(share).dot(there) > 0.0 && own < k
            }
        }
    })
}

/// Adds the places in which `other` crosses a piece, and its ends that lie on it. Where both only touch, or run
/// along one another, the ends tell all there is.
pub(super) fn meetings(piece: &Piece, other: &Piece, places: &mut Vec<Vec2>) {
    let on = |p: &Piece, at: Vec2| (p.nearest(at) - at).length() <= ON;
    places.extend(
        [other.from, other.to]
            .into_iter()
            .filter(|&at| on(piece, at)),
    );
    let mut add = |at: Vec2| {
        if on(piece, at) && on(other, at) {
            places.push(at);
        }
    };
    match (piece.arc, other.arc) {
        (None, None) => {
            let (a, b) = (piece.to - piece.from, other.to - other.from);
            let turn = a.cross(b);
            if turn.abs() > 1e-12 * a.length() * b.length() {
                add(piece.from + a * ((other.from - piece.from).cross(b) / turn));
            }
        }
        (Some(arc), None) | (None, Some(arc)) => {
            let line = if piece.arc.is_none() { piece } else { other };
            let along = line.tangent(0.0);
            let foot = line.from + along * (arc.centre - line.from).dot(along);
            let height = (foot - arc.centre).length();
            if arc.radius - height > 4.0 * ON {
                let reach = ((arc.radius - height) * (arc.radius + height)).sqrt();
                add(foot + along * reach);
                add(foot - along * reach);
            }
        }
        (Some(c), Some(d)) => {
            let way = d.centre - c.centre;
            let apart = way.length();
            let (sum, difference) = (c.radius + d.radius, (c.radius - d.radius).abs());
            if sum - apart > 4.0 * ON && apart - difference > 4.0 * ON {
                let along = way / apart;
                let left = Vec2::new(-along.y(), along.x());
                let foot = 0.5 * (apart + (c.radius - d.radius) * sum / apart);
                let height = ((c.radius - foot) * (c.radius + foot)).max(0.0).sqrt();
                add(c.centre + along * foot + left * height);
                add(c.centre + along * foot - left * height);
            }
        }
    }
}

/// A piece in parts that end at these places of it.
pub(super) fn split(piece: &Piece, places: &[Vec2]) -> Vec<Piece> {
    let length = piece.length();
    let mut shares: Vec<(f64, Vec2)> = places.iter().map(|&p| (piece.share(p), p)).collect();
    shares.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut parts = Vec::with_capacity(shares.len() + 1);
    let mut last = (0.0, piece.from);
    for next in shares.into_iter().chain([(1.0, piece.to)]) {
        let end = next.0 >= 1.0;
        let room = (next.0 - last.0) * length > SAME && (end || (1.0 - next.0) * length > SAME);
        if room {
            parts.push(Piece {
                from: last.1,
                to: next.1,
                ..piece.part(last.0, next.0)
            });
            last = next;
        }
    }
    parts
}

/// Closed borders from pieces that join end to end; pieces that go on along one line or circle are made one.
pub(super) fn chained(mut rest: Vec<Piece>) -> Option<Vec<Vec<Piece>>> {
    let mut borders = Vec::new();
    while let Some(first) = rest.pop() {
        let mut border = vec![first];
        let mut end = first.to;
        while (end - first.from).length() > SAME {
            let gap = |p: &Piece| (p.from - end).length();
            let (k, _) = rest
                .iter()
                .enumerate()
                .map(|(k, p)| (k, gap(p)))
                .min_by(|a, b| a.1.total_cmp(&b.1))
                .filter(|(_, gap)| *gap <= SAME)?;
            let next = rest.swap_remove(k);
            end = next.to;
            border.push(next);
        }
        borders.push(mended(border));
    }
    Some(borders)
}

/// One piece for those that go on along one line or circle, and ends that are shared to the last bit.
fn mended(border: Vec<Piece>) -> Vec<Piece> {
    let mut all: Vec<Piece> = Vec::with_capacity(border.len());
    for piece in border {
        match all.last_mut() {
            Some(last) if goes_on(last, &piece) => *last = one(last, &piece),
            _ => all.push(piece),
        }
    }
    if all.len() > 2
        && let (Some(&last), Some(&first)) = (all.last(), all.first())
        && goes_on(&last, &first)
    {
        all.pop();
        all[0] = one(&last, &first);
    }
    let n = all.len();
    for k in 0..n {
        let to = all[k].to;
        all[(k + 1) % n].from = to;
    }
    all
}

fn one(a: &Piece, b: &Piece) -> Piece {
    let arc = a.arc.zip(b.arc).map(|(c, d)| super::Arc {
        sweep: c.sweep + d.sweep,
        ..c
    });
    Piece {
        to: b.to,
        arc,
        ..*a
    }
}

fn goes_on(a: &Piece, b: &Piece) -> bool {
    let (u, v) = (a.tangent(1.0), b.tangent(0.0));
    let straight = u.dot(v) > 0.0 && u.cross(v).abs() < 1e-9;
    straight
        && match (a.arc, b.arc) {
            (None, None) => true,
            (Some(c), Some(d)) => {
                (c.centre - d.centre).length() <= ON
                    && (c.radius - d.radius).abs() <= ON
                    && (c.sweep + d.sweep).abs() < std::f64::consts::PI
            }
            _ => false,
        }
}

/// Moved by a vector.
pub(super) fn moved(pieces: Vec<Piece>, by: Vec2) -> Vec<Piece> {
    let frame = Frame {
        origin: by,
        ..Frame::UNMOVED
    };
    pieces.iter().map(|piece| piece.placed(&frame)).collect()
}

#[cfg(test)]
mod tests {
    use crate::geometry::Vec2;
    use crate::outline::tests::{noise, v};
    use crate::outline::{Disc, Fault, Shape, belts};
    use approx::assert_relative_eq as near;

    fn shape(discs: &[Disc], list: &[Vec<usize>], throat: f64) -> Result<Shape, Fault> {
        let (outer, windows) = belts(discs, list, throat)?;
        Shape::new(outer, windows, &[])
    }

    fn disc(x: f64, y: f64, radius: f64) -> Disc {
        Disc {
            at: v(x, y),
            radius,
        }
    }

    /// More than half of the large disc is border, by one belt and by two that run along it.
    #[test]
    fn arcs_of_more_than_half_a_circle() {
        let discs = [
            disc(0.0, 0.0, 20.0),
            disc(30.0, 0.0, 3.0),
            disc(-2.0, 0.0, 5.0),
        ];
        let whole = shape(&discs, &[vec![0, 1]], 0.0).unwrap();
        for list in [vec![vec![0], vec![0, 1]], vec![vec![0, 1], vec![2]]] {
            let same = shape(&discs, &list, 0.0).unwrap();
            near!(
                same.moments().area,
                whole.moments().area,
                max_relative = 1e-9
            );
            let same = shape(&discs, &list, 4.0).unwrap();
            near!(
                same.moments().area,
                whole.moments().area,
                max_relative = 1e-9
            );
        }
    }

    /// A disc named twice, one inside another that it touches, one belt twice: pieces without length.
    #[test]
    fn no_piece_without_length() {
        let discs = [
            disc(0.0, 0.0, 10.0),
            disc(4.0, 0.0, 6.0),
            disc(30.0, 0.0, 10.0),
            disc(0.0, 40.0, 4.0),
        ];
        let list = [vec![0, 1, 2], vec![0, 0, 3], vec![0, 2], vec![2, 1, 0]];
        let own = shape(&discs, &list, 0.0).unwrap();
        let plain = shape(&discs, &[vec![0, 2], vec![0, 3]], 0.0).unwrap();
        near!(
            own.moments().area,
            plain.moments().area,
            max_relative = 1e-9
        );
        for shape in [&own, &plain] {
            assert!(shape.pieces().iter().all(|p| p.length() > 1e-6));
        }
    }

    /// An elbow a hundredth of the usual size.
    #[test]
    fn small_belts() {
        let discs = [
            disc(0.0, 0.0, 0.05),
            disc(0.4, 0.0, 0.05),
            disc(0.0, 0.4, 0.05),
        ];
        let list = [vec![0, 1], vec![0, 2]];
        let large = discs.map(|d| disc(100.0 * d.at.x(), 100.0 * d.at.y(), 100.0 * d.radius));
        let (small, large) = (shape(&discs, &list, 0.06), shape(&large, &list, 6.0));
        let (small, large) = (small.unwrap(), large.unwrap());
        near!(
            1e4 * small.moments().area,
            large.moments().area,
            max_relative = 1e-6
        );
    }

    /// Points of random belts are inside exactly where they are inside one of them; with a throat, wherever
    /// they were before, no hollow corner is left, and hollow arcs have its radius.
    #[test]
    fn random_belts_against_points() {
        let (mut windows, mut filled) = (0, 0);
        for seed in 0..120 {
            let mut next = noise(seed);
            let count = 5 + (seed % 3) as usize;
            let discs: Vec<Disc> = (0..count)
                .map(|_| disc(100.0 * next(), 60.0 * next(), 2.0 + 5.0 * next()))
                .collect();
            let mut list: Vec<Vec<usize>> = (1..count).map(|k| vec![k - 1, k]).collect();
            list.push(vec![0, (next() * count as f64) as usize % count]);
            let sharp = shape(&discs, &list, 0.0).unwrap();
            windows += sharp.borders().count() - 1;
            let throat = 0.5 + 5.0 * next();
            let round = shape(&discs, &list, throat).unwrap();
            let hulls: Vec<Shape> = list
                .iter()
                .map(|belt| shape(&discs, std::slice::from_ref(belt), 0.0).unwrap())
                .collect();
            for _ in 0..400 {
                let point = v(120.0 * next() - 10.0, 80.0 * next() - 10.0);
                let inside = hulls.iter().any(|hull| hull.holds(point));
                if hulls.iter().all(|hull| hull.nearest(point).distance > 1e-7) {
                    assert_eq!(sharp.holds(point), inside, "{seed} {point:?}");
                    if inside {
                        assert!(round.holds(point), "{seed} {point:?}");
                    } else if round.holds(point) {
                        filled += 1;
                        // Only where no disc of the throat's radius comes in from outside.
                        let free = (0..200).any(|k| {
                            let q = point + Vec2::unit(f64::from(k) * 0.0314) * (0.99 * throat);
                            !sharp.holds(q) && sharp.nearest(q).distance >= throat + 1e-4
                        });
                        assert!(!free, "{seed} {point:?}");
                    } else {
                        // Else one comes in, give or take a tenth.
                        let free = (0..640).any(|k| {
                            let far = f64::from(k / 64) * 0.11 * throat;
                            let q = point + Vec2::unit(f64::from(k % 64) * 0.0982) * far;
                            !sharp.holds(q) && sharp.nearest(q).distance >= 0.9 * throat
                        });
                        assert!(free, "{seed} {point:?}");
                    }
                }
            }
            for border in round.borders() {
                let pieces = &round.pieces()[border];
                for (k, piece) in pieces.iter().enumerate() {
                    let turn = piece
                        .tangent(1.0)
                        .cross(pieces[(k + 1) % pieces.len()].tangent(0.0));
                    if piece.length() > 1e-3 && pieces[(k + 1) % pieces.len()].length() > 1e-3 {
                        assert!(turn > -1e-4, "{seed}: {turn} after {piece:?}");
                    }
                    if piece.is_hollow() && piece.length() > 1e-2 {
                        near!(piece.arc.unwrap().radius, throat, max_relative = 1e-12);
                    }
                }
            }
        }
        assert!(windows > 10 && filled > 100, "{windows} {filled}");
    }

    /// On a small grid, where belts share sides, touch and lie in one another: right, or refused.
    #[test]
    fn belts_on_a_grid() {
        let mut good = 0;
        for seed in 0..1500 {
            let mut next = noise(seed);
            let mut whole = |n: f64| (next() * n).floor();
            let count = 3 + whole(3.0) as usize;
            let discs: Vec<Disc> = (0..count)
                .map(|_| disc(4.0 * whole(5.0), 4.0 * whole(5.0), 1.0 + whole(2.0)))
                .collect();
            let list: Vec<Vec<usize>> = (1..count)
                .map(|k| vec![k, whole(k as f64) as usize])
                .collect();
            let throat = 0.5 * whole(3.0);
            let found = match shape(&discs, &list, throat) {
                Ok(found) => found,
                Err(fault) => {
                    // Without a throat, two belts may touch in a point.
                    let touch = throat == 0.0 && matches!(fault, Fault::Crosses { .. });
                    assert!(touch, "{seed} {fault:?}");
                    continue;
                }
            };
            good += 1;
            let hulls: Vec<Shape> = list
                .iter()
                .map(|belt| shape(&discs, std::slice::from_ref(belt), 0.0).unwrap())
                .collect();
            for _ in 0..60 {
                let point = v(24.0 * next() - 4.0, 24.0 * next() - 4.0);
                let inside = hulls.iter().any(|hull| hull.holds(point));
                if hulls.iter().all(|hull| hull.nearest(point).distance > 1e-7) {
                    let holds = found.holds(point);
                    let right = holds == inside || (throat > 0.0 && holds);
                    assert!(right, "{seed} {point:?}");
                }
            }
        }
        assert!(good > 1400, "{good}");
    }
}
