//! Whether borders meet: themselves, or one another.

use super::borders::{Border, Borders};
use super::moments::area;
use super::pair::near;
use super::tree::pairs;
use super::{Fault, Piece, winding};
use crate::geometry::Vec2;
use std::ops::ControlFlow;

/// Pieces that come nearer than this touch, mm. Far below what can be made, far above rounding.
const TOUCH: f64 = 1e-7;

/// Most pairs of pieces looked at, so that thousands of long pieces side by side end in about a second. A
/// usual outline needs a few for each piece; one of 8000 may have all of them side by side.
const MOST_PAIRS: usize = 32_000_000;

/// Looks for borders that cross or touch, then for their sense and place.
pub(super) fn check(borders: &Borders) -> Result<(), Fault> {
    let pieces = &borders.pieces;
    let mut left = MOST_PAIRS;
    let mut fault = None;
    let _ = pairs(&borders.tree, TOUCH, &mut |i, j| {
        left -= 1;
        if left == 0 {
            fault = Some(Fault::TooIntricate);
        } else if let Some(at) = meet(borders, i, j) {
            fault = Some(named(borders, [i, j], at));
        }
        match fault {
            Some(_) => ControlFlow::Break(()),
            None => ControlFlow::Continue(()),
        }
    });
    if let Some(fault) = fault {
        return Err(fault);
    }
    // A border that does not cross itself runs clockwise where the area on its left comes out negative.
    if !(area(&pieces[borders.border(0)]) > 0.0) {
        return Err(Fault::Clockwise);
    }
    for range in borders.borders().skip(1) {
        let point = pieces[range.start].from;
        let Border::Hole(hole) = borders.owner(range.start) else {
            continue;
        };
        if winding::about(pieces, &borders.tree, point, range) != 1 {
            return Err(Fault::HoleOutside { hole });
        }
    }
    Ok(())
}

/// Where two pieces meet that should not.
fn meet(borders: &Borders, i: usize, j: usize) -> Option<Vec2> {
    let pieces = &borders.pieces;
    let (a, b) = (&pieces[i], &pieces[j]);
    let range = borders.border(borders.border_of(i));
    if range.contains(&j) {
        let next = |k: usize| {
            if k + 1 == range.end {
                range.start
            } else {
                k + 1
            }
        };
        let joined = [(next(i) == j, a, b), (next(j) == i, b, a)];
        if joined.iter().any(|(yes, ..)| *yes) {
            // A border of two pieces has two joints between the same two.
            return joined
                .iter()
                .filter(|(yes, ..)| *yes)
                .find_map(|(_, a, b)| again(a, b));
        }
    }
    let found = near(a, b);
    (found.square <= TOUCH * TOUCH).then_some(found.first)
}

/// Where two pieces that follow on one another meet once more, or the second runs back along the first.
fn again(a: &Piece, b: &Piece) -> Option<Vec2> {
    let joint = a.to;
    let (u, v) = (a.tangent(1.0), b.tangent(0.0));
    let back = u.dot(v) < 0.0 && u.cross(v).abs() < 1e-9;
    let other = match (a.arc, b.arc) {
        (None, None) => return back.then_some(joint),
        (Some(arc), None) => foot(joint, v, arc.centre),
        (None, Some(arc)) => foot(joint, u, arc.centre),
        (Some(c), Some(d)) => {
            let way = d.centre - c.centre;
            let apart = way.length();
            if apart <= 1e-9 * (c.radius + d.radius) {
                // One circle: back along it, or on past its own start.
                let on = c.sweep.abs() + d.sweep.abs() > std::f64::consts::TAU * (1.0 + 1e-9);
                return (back || on).then_some(joint);
            }
            foot(c.centre, way / apart, joint)
        }
    };
    // Carriers meet at the joint and at its image.
    let image = other * 2.0 - joint;
    let far = |end: Vec2| (image - end).length() > TOUCH;
    let on = |piece: &Piece| (piece.nearest(image) - image).length() <= TOUCH;
    (far(joint) && (far(a.from) || far(b.to)) && on(a) && on(b)).then_some(image)
}

/// The foot of `point` on the line from `from` along a unit vector.
fn foot(from: Vec2, along: Vec2, point: Vec2) -> Vec2 {
    from + along * (point - from).dot(along)
}

fn named(borders: &Borders, [i, j]: [usize; 2], at: Vec2) -> Fault {
    let entry = |k: usize| borders.pieces[k].entry;
    let (i, j) = (i.min(j), i.max(j));
    match (borders.owner(i), borders.owner(j)) {
        (Border::Hole(a), Border::Hole(b)) if a != b => Fault::HolesOverlap { holes: [a, b], at },
        (Border::Outer | Border::Window(_), Border::Hole(hole)) => Fault::HoleOverEdge {
            hole,
            entry: entry(i),
            at,
        },
        _ => Fault::Crosses {
            entries: [entry(i), entry(j)],
            at,
        },
    }
}

#[cfg(test)]
mod tests {
    use crate::geometry::Vec2;
    use crate::outline::tests::{
        arc, frame, grid, hole, noise, plate, polygon, shape, smooth, to, v,
    };
    use crate::outline::{Fault, Hole, Piece, Shape, Step, path, winding};
    use std::time::Instant;

    fn crosses(start: [f64; 2], steps: &[Step]) -> ([usize; 2], Vec2) {
        match shape(start, steps, &[]) {
            Err(Fault::Crosses { entries, at }) => (entries, at),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn outlines_that_cross_themselves() {
        // A bow tie.
        let bow = polygon(&[[0.0, 0.0], [10.0, 0.0], [0.0, 10.0], [10.0, 10.0]]);
        let (entries, at) = crosses([0.0, 0.0], &bow);
        assert_eq!(entries, [1, 3]);
        assert!((at - v(5.0, 5.0)).length() < 1e-12);
        // A corner that touches a side.
        let touching = [
            [0.0, 0.0],
            [10.0, 0.0],
            [10.0, 10.0],
            [5.0, 0.0],
            [0.0, 10.0],
        ];
        let (entries, at) = crosses([0.0, 0.0], &polygon(&touching));
        assert_eq!(entries[0], 0);
        assert!((at - v(5.0, 0.0)).length() < 1e-12);
        // Back along itself.
        let back = [
            [0.0, 0.0],
            [10.0, 0.0],
            [10.0, 20.0],
            [10.0, 10.0],
            [0.0, 10.0],
        ];
        assert_eq!(crosses([0.0, 0.0], &polygon(&back)).0, [1, 2]);
        // An arc that bulges over its neighbour: radius 5 about (5, 0), and a line through it from its end.
        let over = [arc(5.0, 10.0, 0.0), to(-3.0, -2.0), to(-3.0, 9.0)];
        let (entries, at) = crosses([0.0, 0.0], &over);
        assert_eq!(entries, [0, 1]);
        assert!(((at - v(5.0, 0.0)).length() - 5.0).abs() < 1e-9, "{at:?}");
        // Two arcs that share an end and meet once more.
        let arcs = [arc(5.0, 10.0, 0.0), arc(4.0, 4.0, -2.0), to(-20.0, 10.0)];
        assert!(shape([0.0, 0.0], &arcs, &[]).is_err());
        // A smooth run with a loop in itself.
        let run = [[20.0, 10.0], [10.0, 20.0], [0.0, 10.0], [20.0, 8.0]];
        let steps = [to(30.0, 0.0), smooth(&run, 0.0, 30.0, false)];
        assert_eq!(crosses([0.0, 0.0], &steps).0, [1, 1]);
    }

    #[test]
    fn clockwise_is_said() {
        let square = polygon(&[[0.0, 0.0], [0.0, 10.0], [10.0, 10.0], [10.0, 0.0]]);
        assert_eq!(shape([0.0, 0.0], &square, &[]), Err(Fault::Clockwise));
        let round = [arc(-5.0, 10.0, 0.0), arc(-5.0, 0.0, 0.0)];
        assert_eq!(shape([0.0, 0.0], &round, &[]), Err(Fault::Clockwise));
        let round = [arc(5.0, 10.0, 0.0), arc(5.0, 0.0, 0.0)];
        assert!(shape([0.0, 0.0], &round, &[]).is_ok());
    }

    #[test]
    fn holes_lie_wholly_inside() {
        let with = |holes: &[Hole]| plate(40.0, 20.0, holes);
        let good = hole(10.0, 10.0, 5.0);
        let slot = |a: [f64; 2], b: [f64; 2], width| Hole::Slot {
            ends: [a.into(), b.into()],
            width,
        };
        assert!(with(&[good, slot([20.0, 5.0], [30.0, 15.0], 4.0)]).is_ok());
        assert_eq!(
            with(&[good, hole(50.0, 10.0, 5.0)]),
            Err(Fault::HoleOutside { hole: 1 })
        );
        let edge = with(&[good, hole(39.0, 10.0, 5.0)]);
        assert!(
            matches!(
                edge,
                Err(Fault::HoleOverEdge {
                    hole: 1,
                    entry: 1,
                    ..
                })
            ),
            "{edge:?}"
        );
        // Tangent to the edge from inside is no wall.
        let edge = with(&[hole(10.0, 2.5, 5.0)]);
        assert!(
            matches!(
                edge,
                Err(Fault::HoleOverEdge {
                    hole: 0,
                    entry: 0,
                    ..
                })
            ),
            "{edge:?}"
        );
        let two = with(&[good, slot([14.0, 10.0], [30.0, 10.0], 4.0)]);
        assert!(
            matches!(two, Err(Fault::HolesOverlap { holes: [0, 1], .. })),
            "{two:?}"
        );
        let same = with(&[good, good]);
        assert!(
            matches!(same, Err(Fault::HolesOverlap { holes: [0, 1], .. })),
            "{same:?}"
        );
        assert_eq!(
            with(&[hole(10.0, 10.0, 9.0), good]),
            Err(Fault::HoleOutside { hole: 1 })
        );
        for bad in [
            hole(f64::NAN, 1.0, 1.0),
            hole(10.0, 10.0, 0.0),
            hole(10.0, 10.0, -1.0),
            hole(10.0, 10.0, f64::INFINITY),
            slot([10.0, 10.0], [f64::NAN, 10.0], 1.0),
        ] {
            assert_eq!(
                with(&[good, bad]),
                Err(Fault::HoleSize { hole: 1 }),
                "{bad:?}"
            );
        }
        // Larger than the plate.
        assert_eq!(
            with(&[hole(20.0, 10.0, 500.0)]),
            Err(Fault::HoleOutside { hole: 0 })
        );
    }

    /// Random steps between the points of a small grid, where touching, folding back and running along one
    /// another are frequent: what passes runs once round every point inside and not round any other.
    #[test]
    fn paths_on_a_grid_are_sound_or_refused() {
        let (mut good, mut crossed) = (0, 0);
        for seed in 0..6000 {
            let (start, steps) = grid(seed);
            match shape(start.xy(), &steps, &[]) {
                Ok(shape) => {
                    good += 1;
                    let pieces = shape.pieces();
                    for (k, piece) in pieces.iter().enumerate() {
                        assert_eq!(piece.to, pieces[(k + 1) % pieces.len()].from, "{seed}");
                    }
                    let mut next = noise(seed + 1);
                    for _ in 0..100 {
                        let point = v(9.0 * next() - 1.0, 9.0 * next() - 1.0);
                        let turns: i32 = pieces.iter().map(|p| winding::of(p, point)).sum();
                        assert!((0..=1).contains(&turns), "{seed} {point:?}: {turns}");
                    }
                }
                Err(Fault::Crosses { at, .. }) => {
                    crossed += 1;
                    // Two pieces are there, or one comes back to its own start.
                    let pieces = path(start, &steps).unwrap();
                    let near = |p: &&Piece| (p.nearest(at) - at).length() <= 1e-6;
                    assert!(pieces.iter().filter(near).count() > 1, "{seed} {at:?}");
                }
                Err(_) => {}
            }
        }
        assert!(good > 100 && crossed > 1000, "{good} {crossed}");
    }

    #[test]
    fn pieces_that_are_no_numbers_are_refused() {
        let mut pieces = path(v(0.0, 0.0), &[to(10.0, 0.0), arc(8.0, 0.0, 10.0)]).unwrap();
        pieces[1].arc.as_mut().unwrap().centre = v(0.0, f64::NAN);
        let found = Shape::new(pieces, Vec::new(), &[]);
        assert_eq!(found, Err(Fault::OutOfRange { entry: 1 }));
    }

    #[test]
    fn a_mirror_needs_a_line() {
        let shape: Shape = frame();
        for about in [[v(1.0, 1.0); 2], [v(f64::NAN, 0.0), v(1.0, 0.0)]] {
            assert_eq!(shape.mirrored(about), Err(Fault::MirrorWithoutLine));
        }
    }

    /// A gear of `n` teeth-like arcs and lines: 40 000 pieces take no longer than their number asks for.
    #[test]
    fn many_pieces_take_bounded_time() {
        let ring = |n: usize| -> Vec<Step> {
            (1..=n)
                .map(|k| {
                    let turn = std::f64::consts::TAU * k as f64 / n as f64;
                    let p = Vec2::unit(turn) * (1e4 + 2.0 * (k % 2) as f64);
                    if k % 3 == 0 {
                        arc(1e3, p.x(), p.y())
                    } else {
                        to(p.x(), p.y())
                    }
                })
                .collect()
        };
        let time = |n: usize| {
            let begin = Instant::now();
            let start = v(1e4 + 2.0 * (n % 2) as f64, 0.0);
            let shape = Shape::new(path(start, &ring(n)).unwrap(), Vec::new(), &[]).unwrap();
            assert_eq!(shape.pieces().len(), n);
            begin.elapsed().as_secs_f64()
        };
        // The best of several: other work on the machine is not meant.
        let few = (0..5).map(|_| time(1000)).fold(f64::INFINITY, f64::min);
        let many = time(40_000);
        assert!(few < 0.1 && many < 20.0, "{few} s, {many} s");
        // Long teeth side by side, all their rectangles over one another: refused, not endless.
        let begin = Instant::now();
        let mut comb: Vec<Step> = (1..20_000)
            .rev()
            .map(|k| {
                let y = if k % 2 == 1 { 1e5 } else { 10.0 };
                to(f64::from(k) + y, y)
            })
            .collect();
        comb.insert(0, to(2e4 + 1e6, 0.0));
        comb.insert(0, to(0.0, -1e3));
        comb.push(to(0.0, 0.0));
        assert_eq!(shape([0.0, 0.0], &comb, &[]), Err(Fault::TooIntricate));
        assert!(
            begin.elapsed().as_secs_f64() < 60.0,
            "{:?}",
            begin.elapsed()
        );
    }
}
