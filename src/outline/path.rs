//! An outline from point to point: straight pieces, arcs, rounded corners and smooth runs.

use super::step::{Step, Way};
use super::{Arc, FARTHEST, Fault, LEAST, Piece, smooth};
use crate::geometry::Vec2;

/// Nearer to its start than this, a path ends there, mm.
const SAME: f64 = 1e-6;

/// The pieces of a closed path; a straight piece closes it where it does not end at its start. Smooth runs
/// become arcs, none of them off by more than [`SMOOTH`](super::SMOOTH).
///
/// # Errors
/// The first entry that is no piece, or a corner that cannot be rounded. Whether the path crosses itself
/// is for [`Shape::new`](super::Shape::new) to find out.
pub fn path(start: Vec2, steps: &[Step]) -> Result<Vec<Piece>, Fault> {
    let steps = closed(start, steps)?;
    if steps.len() < 2 {
        return Err(Fault::TooFew);
    }
    let from = |k: usize| if k == 0 { start } else { steps[k - 1].to };
    let mut pieces: Vec<Option<Piece>> = Vec::with_capacity(steps.len());
    for (k, step) in steps.iter().enumerate() {
        pieces.push(plain(k, from(k), step)?);
    }
    let trims = rounds(&steps, &pieces)?;
    let mut all = Vec::with_capacity(2 * steps.len());
    for (k, piece) in pieces.iter().enumerate() {
        match piece {
            Some(_) => trimmed(&mut all, &pieces, &trims, k),
            None => smooth::run(&mut all, k, from(k), &steps, &pieces),
        }
    }
    mend(&mut all);
    Ok(all)
}

/// Finite steps that end exactly where they start.
fn closed(start: Vec2, steps: &[Step]) -> Result<Vec<Step>, Fault> {
    let within = |p: &Vec2| p.xy().iter().all(|v| v.abs() <= FARTHEST);
    for (entry, step) in steps.iter().enumerate() {
        let good = within(&step.to)
            && (entry > 0 || within(&start))
            && step.round.is_finite()
            && match &step.way {
                Way::Straight => true,
                Way::Arc(radius) => radius.abs() <= FARTHEST,
                Way::Smooth { through, .. } => through.iter().all(within),
            };
        if !good {
            return Err(Fault::OutOfRange { entry });
        }
    }
    let mut steps = steps.to_vec();
    let Some(last) = steps.last_mut() else {
        return Err(Fault::TooFew);
    };
    if (last.to - start).length() <= SAME {
        last.to = start;
    } else {
        steps.push(Step {
            to: start,
            way: Way::Straight,
            round: 0.0,
        });
    }
    Ok(steps)
}

/// The piece of a step; `None` for a smooth run.
fn plain(entry: usize, from: Vec2, step: &Step) -> Result<Option<Piece>, Fault> {
    let short = |a: Vec2, b: Vec2| {
        let length = (b - a).length();
        if length >= LEAST {
            Ok(())
        } else {
            Err(Fault::Short { entry, length })
        }
    };
    match &step.way {
        Way::Straight => {
            short(from, step.to)?;
            Ok(Some(Piece::line(from, step.to).of_entry(entry)))
        }
        Way::Arc(radius) => {
            short(from, step.to)?;
            let least = 0.5 * (step.to - from).length();
            let piece = Piece::turning(from, step.to, *radius).ok_or(Fault::ArcTooShort {
                entry,
                radius: *radius,
                least,
            })?;
            Ok(Some(piece.of_entry(entry)))
        }
        Way::Smooth { through, .. } => {
            let mut last = from;
            for &next in through.iter().chain([&step.to]) {
                short(last, next)?;
                last = next;
            }
            Ok(None)
        }
    }
}

/// What a rounded corner takes off both its sides: its radius and the length from the corner to the arc.
#[derive(Clone, Copy, Default)]
struct Trim {
    radius: f64,
    length: f64,
}

/// The trim at the end of each step.
fn rounds(steps: &[Step], pieces: &[Option<Piece>]) -> Result<Vec<Trim>, Fault> {
    let n = steps.len();
    let mut trims = vec![Trim::default(); n];
    // The tangent of half the turn at each corner: length of the trim by the radius.
    let mut slopes = vec![0.0; n];
    for (k, step) in steps.iter().enumerate() {
        if step.round == 0.0 {
            continue;
        }
        let sides = [pieces[k], pieces[(k + 1) % n]];
        let [Some(a), Some(b)] = sides else {
            return Err(Fault::RoundNotStraight { entry: k });
        };
        if a.arc.is_some() || b.arc.is_some() {
            return Err(Fault::RoundNotStraight { entry: k });
        }
        if step.round < 0.0 {
            return Err(Fault::RoundTooLarge {
                entry: k,
                radius: step.round,
                largest: 0.0,
            });
        }
        let (u, v) = (a.tangent(1.0), b.tangent(0.0));
        slopes[k] = (0.5 * u.cross(v).atan2(u.dot(v))).abs().tan();
        trims[k] = Trim {
            radius: step.round,
            length: step.round * slopes[k],
        };
    }
    for k in 0..n {
        if trims[k].length <= SAME {
            trims[k].length = 0.0; // straight on: no corner
            continue;
        }
        let room = |side: usize, other: f64| {
            let length = pieces[side].map_or(0.0, |p| p.length());
            length - other
        };
        let next = (k + 1) % n;
        let before = room(k, trims[(k + n - 1) % n].length);
        let after = room(next, trims[next].length);
        let room = before.min(after);
        if !(trims[k].length <= room * (1.0 + 1e-9) + 1e-9) {
            return Err(Fault::RoundTooLarge {
                entry: k,
                radius: trims[k].radius,
                largest: (room / slopes[k]).max(0.0),
            });
        }
    }
    Ok(trims)
}

/// A straight piece less what its corners take, and the arc at its end; any other piece as it is.
fn trimmed(all: &mut Vec<Piece>, pieces: &[Option<Piece>], trims: &[Trim], k: usize) {
    let n = trims.len();
    let (before, after) = (trims[(k + n - 1) % n], trims[k]);
    let Some(mut piece) = pieces[k] else { return };
    if before.length == 0.0 && after.length == 0.0 {
        all.push(piece);
        return;
    }
    let along = piece.tangent(0.0);
    piece.from += along * before.length;
    piece.to -= along * after.length;
    all.push(piece);
    if let Some(next) = pieces[(k + 1) % n].filter(|_| after.length > 0.0) {
        let to = next.from + next.tangent(0.0) * after.length;
        let made = Piece::leaving(piece.to, along, to).of_entry(k);
        // The radius asked for, not that which rounding gives back.
        let arc = made.arc.map(|arc| Arc {
            radius: after.radius,
            ..arc
        });
        all.push(Piece { arc, ..made });
    }
}

/// Leaves out what rounded corners ate up.
fn mend(all: &mut Vec<Piece>) {
    all.retain(|piece| piece.arc.is_some() || (piece.to - piece.from).length() > SAME);
    let n = all.len();
    for k in 0..n {
        let to = all[k].to;
        all[(k + 1) % n].from = to;
    }
}

#[cfg(test)]
mod tests {
    use super::path;
    use crate::geometry::Vec2;
    use crate::numeric::Curve;
    use crate::outline::tests::{arc, frame, polygon, round, shape, smooth, to, v};
    use crate::outline::{Fault, SMOOTH, Step};

    fn fault(start: [f64; 2], steps: &[Step]) -> Fault {
        shape(start, steps, &[]).unwrap_err()
    }

    #[test]
    fn a_path_is_closed_by_a_straight_piece() {
        let pieces = path(v(0.0, 0.0), &[to(10.0, 0.0), to(10.0, 5.0)]).unwrap();
        assert_eq!(pieces.len(), 3);
        assert_eq!((pieces[2].from, pieces[2].to), (v(10.0, 5.0), v(0.0, 0.0)));
        assert_eq!(pieces[2].entry, 2);
        // Nearly at its start is at its start.
        let steps = [to(10.0, 0.0), to(10.0, 5.0), to(1e-9, -1e-9)];
        assert_eq!(path(v(0.0, 0.0), &steps).unwrap(), pieces);
    }

    /// A right corner rounded by 4 loses 4 of both sides; on the last piece it is the start corner.
    #[test]
    fn corners_are_rounded() {
        let steps = [to(20.0, 0.0), round(4.0, 20.0, 20.0), round(3.0, 0.0, 0.0)];
        let pieces = path(v(0.0, 0.0), &steps).unwrap();
        assert_eq!(pieces.len(), 5);
        let last = pieces[4];
        assert_eq!(last.arc.unwrap().radius, 3.0);
        assert_eq!((last.to, last.entry), (pieces[0].from, 2));
        // 45 degrees inside: the tangent is 3 / tan(22.5°) long.
        let tangent = 3.0 / 22.5_f64.to_radians().tan();
        assert!((pieces[0].from.x() - tangent).abs() < 1e-12);
        for k in 0..5 {
            assert_eq!(pieces[k].to, pieces[(k + 1) % 5].from, "{k}");
        }
        // A hollow corner, and two that use up their side.
        let slot = [
            to(30.0, 0.0),
            to(30.0, 20.0),
            to(20.0, 20.0),
            round(5.0, 20.0, 10.0),
            round(5.0, 10.0, 10.0),
            to(10.0, 20.0),
            to(0.0, 20.0),
        ];
        let shape = shape([0.0, 0.0], &slot, &[]).unwrap();
        let hollow = shape.pieces().iter().filter(|p| p.is_hollow()).count();
        assert_eq!(
            (hollow, shape.pieces().len()),
            (2, 9),
            "no piece between both arcs"
        );
    }

    #[test]
    fn faults_of_single_entries() {
        let o = [0.0, 0.0];
        let square = polygon(&[[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]]);
        let with = |k: usize, step: Step| {
            let mut steps = square.clone();
            steps[k] = step;
            fault(o, &steps)
        };
        assert_eq!(with(1, to(f64::NAN, 1.0)), Fault::OutOfRange { entry: 1 });
        assert_eq!(with(1, to(1e8, 1.0)), Fault::OutOfRange { entry: 1 });
        assert_eq!(
            with(2, arc(f64::INFINITY, 0.0, 10.0)),
            Fault::OutOfRange { entry: 2 }
        );
        assert_eq!(
            with(2, round(f64::NAN, 0.0, 10.0)),
            Fault::OutOfRange { entry: 2 }
        );
        assert_eq!(
            with(0, smooth(&[[3.0, f64::NAN]], 10.0, 0.0, false)),
            Fault::OutOfRange { entry: 0 }
        );
        assert_eq!(
            fault([f64::NAN, 0.0], &square),
            Fault::OutOfRange { entry: 0 }
        );
        assert_eq!(fault(o, &[]), Fault::TooFew);
        assert_eq!(fault(o, &[to(0.0, 0.0)]), Fault::TooFew);
        let short = with(1, to(10.0, 1e-4));
        assert!(matches!(short, Fault::Short { entry: 1, .. }), "{short:?}");
        let short = with(2, smooth(&[[10.0, 10.0]], 0.0, 10.0, false));
        assert_eq!(
            short,
            Fault::Short {
                entry: 2,
                length: 0.0
            }
        );
        assert_eq!(
            with(1, arc(-4.0, 10.0, 10.0)),
            Fault::ArcTooShort {
                entry: 1,
                radius: -4.0,
                least: 5.0
            }
        );
        let steps = [to(10.0, 0.0), round(2.0, 10.0, 10.0), arc(20.0, 0.0, 10.0)];
        assert_eq!(fault(o, &steps), Fault::RoundNotStraight { entry: 1 });
        let negative = Fault::RoundTooLarge {
            entry: 1,
            radius: -1.0,
            largest: 0.0,
        };
        assert_eq!(with(1, round(-1.0, 10.0, 10.0)), negative);
        let mut steps = square.clone();
        steps[0].round = 6.0;
        steps[1].round = 4.5;
        let Fault::RoundTooLarge {
            entry: 0, largest, ..
        } = fault(o, &steps)
        else {
            panic!("both do not fit");
        };
        assert!((largest - 5.5).abs() < 1e-12);
        steps[0].round = 5.5;
        assert!(shape(o, &steps, &[]).is_ok(), "what it said fits");
    }

    /// The arcs of a smooth run are nowhere farther from its curve than promised, and meet without corners;
    /// tangent ones meet their neighbours so too.
    #[test]
    fn smooth_runs_become_arcs() {
        let shape = frame();
        let pieces = shape.pieces();
        let run: Vec<usize> = (0..pieces.len())
            .filter(|&k| pieces[k].entry == 6 && shape.border_of(k) == 0)
            .collect();
        let (first, last) = (run[0], run[run.len() - 1]);
        assert!(run.len() < 60, "{} arcs", run.len());
        for k in first - 1..=last {
            let corner = pieces[k].tangent(1.0).cross(pieces[k + 1].tangent(0.0));
            assert!(corner.abs() < 1e-5, "piece {k}: {corner}");
        }
        let points = [
            [96.0, 8.0],
            [86.0, 10.0],
            [72.0, 14.0],
            [50.0, 12.0],
            [34.0, 8.0],
        ];
        let ends = [Some([-1.0, 0.0]), Some([-1.0, 0.0])];
        let curve = Curve::leaving(&points, ends).unwrap();
        for k in 0..=5000 {
            let at: Vec2 = curve.point(curve.length() * f64::from(k) / 5000.0).into();
            assert!(shape.nearest(at).distance <= SMOOTH, "{at:?}");
        }
    }

    /// The mean of free ends is the hand line's curve; a run back onto itself is found.
    #[test]
    fn free_ends_are_natural() {
        let steps = [
            to(40.0, 0.0),
            smooth(&[[30.0, 12.0], [10.0, 6.0]], 0.0, 0.0, false),
        ];
        let shape = shape([0.0, 0.0], &steps, &[]).unwrap();
        let points = [[40.0, 0.0], [30.0, 12.0], [10.0, 6.0], [0.0, 0.0]];
        let curve = Curve::through(&points, true).unwrap();
        for k in 0..=1000 {
            let at: Vec2 = curve.point(curve.length() * f64::from(k) / 1000.0).into();
            assert!(shape.nearest(at).distance <= SMOOTH, "{at:?}");
        }
    }

    /// Two runs that follow on one another, both without corners, share a direction.
    #[test]
    fn smooth_runs_meet_without_a_corner() {
        let steps = [
            to(40.0, 0.0),
            smooth(&[[44.0, 10.0]], 40.0, 20.0, true),
            smooth(&[[20.0, 26.0]], 0.0, 20.0, true),
        ];
        let shape = shape([0.0, 0.0], &steps, &[]).unwrap();
        let pieces = shape.pieces();
        for k in 0..pieces.len() - 1 {
            let corner = pieces[k].tangent(1.0).cross(pieces[k + 1].tangent(0.0));
            assert!(corner.abs() < 1e-5, "{k}: {corner}");
        }
    }
}
