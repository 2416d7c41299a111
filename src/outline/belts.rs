//! An outline from discs joined by belts: the quick way to draw a plate round its pins.

use super::hull::{Disc, hull};
use super::throat::shrunk;
use super::union::{moved, union};
use super::{FARTHEST, Fault, LEAST, Moments, Piece, Shape};
use crate::geometry::Frame;

/// Most discs, and most discs named by all belts; every belt is compared with every other.
pub const MOST_DISCS: usize = 500;

/// The outer border, counter-clockwise, and the windows, clockwise, of belts round discs. Each belt is the
/// hull of the discs that it names; without belts there is one round all. Where belts meet in a hollow corner
/// there is a fillet of the radius `throat`, mm; zero leaves the corner. (Where a gap is just as wide as two
/// throats they may be larger by a millionth.)
///
/// # Errors
/// A disc or a throat that is no size, a belt without discs or one that does not hang together with the first.
pub fn belts(
    discs: &[Disc],
    belts: &[Vec<usize>],
    throat: f64,
) -> Result<(Vec<Piece>, Vec<Vec<Piece>>), Fault> {
    let count = discs.len().max(belts.iter().map(Vec::len).sum());
    if count > MOST_DISCS {
        return Err(Fault::TooManyDiscs { count });
    }
    for (k, disc) in discs.iter().enumerate() {
        if !(disc.at.xy().iter().all(|v| v.abs() <= FARTHEST) && disc.radius <= FARTHEST) {
            return Err(Fault::OutOfRange { entry: k });
        }
        if !(disc.radius >= LEAST) {
            return Err(Fault::DiscSize { disc: k });
        }
    }
    if !(0.0..=FARTHEST).contains(&throat) {
        return Err(Fault::Throat { radius: throat });
    }
    if belts.is_empty() {
        if discs.is_empty() {
            return Err(Fault::BeltWithoutDisc { belt: 0 });
        }
        return Ok((hull(discs), Vec::new()));
    }
    let mut sets = Vec::with_capacity(belts.len());
    for (k, belt) in belts.iter().enumerate() {
        let own: Option<Vec<Disc>> = belt.iter().map(|&disc| discs.get(disc).copied()).collect();
        let own = own.filter(|own| !own.is_empty());
        sets.push(own.ok_or(Fault::BeltWithoutDisc { belt: k })?);
    }
    if let [only] = &sets[..] {
        return Ok((hull(only), Vec::new()));
    }
    // Near the origin rounding is least.
    let origin = sets[0][0].at;
    for disc in sets.iter_mut().flatten() {
        disc.at -= origin;
    }
    joined(&sets)?;
    let borders = if throat > 0.0 {
        // Where a gap is just as wide as two throats, borders may touch in a point: a little more closes it.
        [1.0, 1.0 + 1e-6]
            .into_iter()
            .map(|more| filled(&sets, throat * more))
            .find_map(Result::transpose)
            .transpose()?
    } else {
        union(&hulls(&sets)?)
    };
    // One outer border; specks are no windows.
    let mut outer = Vec::new();
    let mut windows = Vec::new();
    for border in borders.ok_or(Fault::Throat { radius: throat })? {
        let area = Moments::of(&border).area;
        if area > 0.0 {
            outer.push(moved(border, origin));
        } else if area < -LEAST * LEAST {
            windows.push(moved(border, origin));
        }
    }
    match (outer.pop(), outer.pop()) {
        (Some(outer), None) => Ok((outer, windows)),
        _ => Err(Fault::Throat { radius: throat }),
    }
}

/// The borders of the belts with hollow corners rounded by `throat`: grown by it, made one, shrunk again.
fn filled(sets: &[Vec<Disc>], throat: f64) -> Result<Option<Vec<Vec<Piece>>>, Fault> {
    let mut grown = sets.to_vec();
    for disc in grown.iter_mut().flatten() {
        disc.radius += throat;
    }
    Ok(union(&hulls(&grown)?).and_then(|all| shrunk(&all, throat)))
}

fn hulls(sets: &[Vec<Disc>]) -> Result<Vec<Shape>, Fault> {
    sets.iter()
        .map(|set| Shape::new(hull(set), Vec::new(), &[]))
        .collect()
}

/// Finds a belt from which there is no way over others to the first one.
fn joined(sets: &[Vec<Disc>]) -> Result<(), Fault> {
    let shapes = hulls(sets)?;
    let here = Frame::UNMOVED;
    let meet = |a: &Shape, b: &Shape| {
        let gap = a.gap(&here, b, &here, 1e-7);
        gap.is_some() || a.overlaps(&here, b, &here)
    };
    let mut reached = vec![0];
    let mut rest: Vec<usize> = (1..shapes.len()).collect();
    while let Some(own) = reached.pop() {
        let (found, other): (Vec<usize>, Vec<usize>) = rest
            .into_iter()
            .partition(|&k| meet(&shapes[own], &shapes[k]));
        reached.extend(found);
        rest = other;
    }
    match rest.first() {
        Some(&belt) => Err(Fault::BeltsApart { belt }),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::belts;
    use crate::outline::tests::v;
    use crate::outline::{Disc, Fault, Moments, Piece, Shape};
    use approx::assert_relative_eq as near;
    use std::f64::consts::PI;

    fn disc(x: f64, y: f64, radius: f64) -> Disc {
        Disc {
            at: v(x, y),
            radius,
        }
    }

    fn shape(discs: &[Disc], list: &[&[usize]], throat: f64) -> Result<Shape, Fault> {
        let list: Vec<Vec<usize>> = list.iter().map(|b| b.to_vec()).collect();
        let (outer, windows) = belts(discs, &list, throat)?;
        Shape::new(outer, windows, &[])
    }

    /// Two equal discs: a rectangle and two half circles.
    #[test]
    fn a_belt_round_two_equal_discs() {
        for (dx, dy) in [(40.0, 0.0), (0.0, 40.0), (-24.0, 32.0), (24.0, -32.0)] {
            let discs = [disc(1.0, 2.0, 5.0), disc(1.0 + dx, 2.0 + dy, 5.0)];
            let stadium = shape(&discs, &[], 3.0).unwrap();
            near!(
                stadium.moments().area,
                400.0 + 25.0 * PI,
                max_relative = 1e-14
            );
            near!(
                stadium.moments().centroid.x(),
                1.0 + 0.5 * dx,
                max_relative = 1e-12
            );
            let middle = [
                discs[0],
                disc(1.0 + 0.5 * dx, 2.0 + 0.5 * dy, 5.0),
                discs[1],
            ];
            let same = shape(&middle, &[&[0, 1, 2]], 0.0).unwrap();
            assert_eq!(same.moments().area, stadium.moments().area);
        }
    }

    /// Discs of 10 and 4, 30 apart: the tangents leave at acos(6/30) from their line. Area: both trapezoids
    /// between the centres and the tangents, and the two sectors.
    #[test]
    fn a_belt_round_two_different_discs() {
        let round = shape(&[disc(0.0, 0.0, 10.0), disc(30.0, 0.0, 4.0)], &[], 0.0).unwrap();
        let angle = 0.2_f64.acos();
        let tangent = (900.0_f64 - 36.0).sqrt();
        let area = tangent * 14.0 + (PI - angle) * 100.0 + angle * 16.0;
        near!(round.moments().area, area, max_relative = 1e-14);
        // A disc inside another changes nothing; alone it is a circle.
        let inner = [
            disc(0.0, 0.0, 10.0),
            disc(3.0, 1.0, 4.0),
            disc(30.0, 0.0, 4.0),
        ];
        near!(
            shape(&inner, &[], 0.0).unwrap().moments().area,
            area,
            max_relative = 1e-14
        );
        near!(
            shape(&inner[..2], &[], 0.0).unwrap().moments().area,
            100.0 * PI,
            max_relative = 1e-14
        );
        near!(
            shape(&inner, &[&[1]], 0.0).unwrap().moments().area,
            16.0 * PI,
            max_relative = 1e-14
        );
        let twice = [disc(0.0, 0.0, 10.0), disc(0.0, 0.0, 10.0)];
        near!(
            shape(&twice, &[], 0.0).unwrap().moments().area,
            100.0 * PI,
            max_relative = 1e-14
        );
    }

    fn elbow() -> [Disc; 3] {
        [
            disc(0.0, 0.0, 5.0),
            disc(40.0, 0.0, 5.0),
            disc(0.0, 40.0, 5.0),
        ]
    }

    /// An L of two belts 10 wide. Both overlap in a square of 5 and three quarters of a disc; the fillet adds
    /// r² (1 − π/4).
    #[test]
    fn the_throat_of_an_elbow() {
        let area = 800.0 + 50.0 * PI - 25.0 - 0.75 * PI * 25.0;
        let sharp = shape(&elbow(), &[&[0, 1], &[0, 2]], 0.0).unwrap();
        near!(sharp.moments().area, area, max_relative = 1e-13);
        for throat in [1.0, 6.0, 30.0] {
            let round = shape(&elbow(), &[&[0, 1], &[0, 2]], throat).unwrap();
            let fillet = throat * throat * (1.0 - PI / 4.0);
            near!(round.moments().area, area + fillet, max_relative = 1e-13);
            let hollow: Vec<&Piece> = round.pieces().iter().filter(|p| p.is_hollow()).collect();
            assert_eq!(hollow.len(), 1);
            let arc = hollow[0].arc.unwrap();
            assert_eq!(arc.radius, throat);
            near!(arc.centre.x(), 5.0 + throat, max_relative = 1e-12);
            near!(arc.sweep, -PI / 2.0, max_relative = 1e-12);
        }
        // Far from the origin too.
        let far = elbow().map(|d| disc(d.at.x() + 1e6, d.at.y() - 1e6, d.radius));
        let far = shape(&far, &[&[0, 1], &[0, 2]], 6.0).unwrap();
        near!(
            far.moments().area,
            area + 36.0 * (1.0 - PI / 4.0),
            max_relative = 1e-10
        );
    }

    /// Three belts in a ring leave a window: a right triangle by its inradius.
    #[test]
    fn a_ring_of_belts_has_a_window() {
        let discs = [
            disc(0.0, 0.0, 2.0),
            disc(40.0, 0.0, 2.0),
            disc(0.0, 30.0, 2.0),
        ];
        let ring = shape(&discs, &[&[0, 1], &[1, 2], &[2, 0]], 0.0).unwrap();
        assert_eq!(ring.borders().count(), 2);
        let window = Moments::of(&ring.pieces()[ring.border(1)]);
        // 30-40-50 has an inradius of 10; shrunk by 2 all sides are 0.8 of it.
        near!(-window.area, 600.0 * 0.64, max_relative = 1e-13);
        let round = shape(&discs, &[&[0, 1], &[1, 2], &[2, 0]], 2.0).unwrap();
        let window = Moments::of(&round.pieces()[round.border(1)]);
        // Rounded by 2: the triangle's perimeter less the circle's share, r² (s²/A − π) with s half the
        // perimeter.
        let lost = 4.0 * (48.0 * 48.0 / 384.0 - PI);
        near!(-window.area, 384.0 - lost, max_relative = 1e-13);
        // A throat that fills it.
        let full = shape(&discs, &[&[0, 1], &[1, 2], &[2, 0]], 9.0).unwrap();
        assert_eq!(full.borders().count(), 1);
    }

    #[test]
    fn bad_belts() {
        let fault =
            |discs: &[Disc], list: &[&[usize]], throat| shape(discs, list, throat).unwrap_err();
        let good = elbow();
        let l: &[&[usize]] = &[&[0, 1], &[0, 2]];
        let mut bad = good;
        bad[1].radius = 0.0;
        assert_eq!(fault(&bad, l, 0.0), Fault::DiscSize { disc: 1 });
        bad[1].radius = f64::NAN;
        assert_eq!(fault(&bad, l, 0.0), Fault::OutOfRange { entry: 1 });
        bad[1] = disc(f64::INFINITY, 0.0, 1.0);
        assert_eq!(fault(&bad, l, 0.0), Fault::OutOfRange { entry: 1 });
        assert_eq!(
            fault(&good, &[&[0, 1], &[]], 0.0),
            Fault::BeltWithoutDisc { belt: 1 }
        );
        assert_eq!(
            fault(&good, &[&[0, 3]], 0.0),
            Fault::BeltWithoutDisc { belt: 0 }
        );
        assert_eq!(fault(&[], &[], 0.0), Fault::BeltWithoutDisc { belt: 0 });
        assert_eq!(
            fault(&good, &[&[0, 1], &[2]], 3.0),
            Fault::BeltsApart { belt: 1 }
        );
        assert_eq!(fault(&good, l, -1.0), Fault::Throat { radius: -1.0 });
        assert!(matches!(fault(&good, l, f64::NAN), Fault::Throat { .. }));
        let many = vec![disc(0.0, 0.0, 1.0); 501];
        assert_eq!(fault(&many, &[], 0.0), Fault::TooManyDiscs { count: 501 });
        let often = vec![0; 501];
        let count = Fault::TooManyDiscs { count: 501 };
        assert_eq!(fault(&good, &[&often], 0.0), count);
    }

    /// As many as may be, all over one another.
    #[test]
    fn many_belts_take_bounded_time() {
        let mut next = crate::outline::tests::noise(4);
        let discs: Vec<Disc> = (0..500)
            .map(|_| disc(300.0 * next(), 200.0 * next(), 1.0 + 2.0 * next()))
            .collect();
        let list: Vec<Vec<usize>> = (0..250).map(|k| vec![2 * k, (2 * k + 7) % 500]).collect();
        let begin = std::time::Instant::now();
        let found = shape(
            &discs,
            &list.iter().map(Vec::as_slice).collect::<Vec<_>>(),
            1.0,
        );
        let took = begin.elapsed();
        assert!(found.is_ok() && took.as_secs_f64() < 60.0, "{took:?}");
    }
}
