//! The peak of a sample's curve by parabolas, between the places where the work turns.

use super::Worker;
use super::sweep::{Case, Wanted};
use crate::tolerance::fate::Fate;
use crate::tolerance::sweep::NODES;

/// How nearly a curve must have the parabola's value at its peak, relative.
const AS_EXPECTED: f64 = 1e-4;
/// Parabolas tried, each through the nearest points found so far.
const TRIES: usize = 5;
/// Points nearer than this, in intervals, do not bear a parabola: the play at a turn of the work is another
/// one than at a node.
const APART: f64 = 0.25;
/// Interval beside an end at which it is seen whether the curve rises from there.
const NUDGE: f64 = 0.05;
/// Most places where the work turns that are told apart.
const MOST: usize = 4;

/// A place along the sweep, and the value there times the sense.
type Point = (f64, f64);

impl Worker<'_> {
    /// The peak beside the greatest node, or where the work turns; `None` where no parabola tells.
    pub(super) fn smooth(
        &mut self,
        case: Case,
        wanted: Wanted,
        (best, middle): (usize, f64),
        curve: &[Result<f64, Fate>],
    ) -> Option<f64> {
        let Wanted { place, sense, .. } = wanted;
        let mut ends = [(f64::NEG_INFINITY, 0.0); MOST + 2];
        let mut count = 1;
        for &(target, station, value) in &self.turns {
            if target == wanted.target
                && let (Ok(value), Ok((pace, _))) = (value, self.stood(station))
            {
                let at = case.along.place(pace);
                if (0.0..=NODES as f64).contains(&at) && count <= MOST {
                    ends[count] = (at, sense * value);
                    count += 1;
                }
            }
        }
        ends[count] = (f64::INFINITY, 0.0);
        let ends = &mut ends[..=count];
        ends.sort_by(|a, b| a.0.total_cmp(&b.0));
        let known = |k: usize| {
            let value = curve.get(k * case.sweep.measures.len() + place)?.ok()?;
            value.is_finite().then_some((k as f64, sense * value))
        };
        let turns = &ends[1..count];
        let corner = (turns.iter().copied()).max_by(|a, b| a.1.total_cmp(&b.1));
        let node = (best as f64, sense * middle);
        let highest = corner.filter(|c| c.1 > node.1).unwrap_or(node);
        let mut greatest = highest.1;
        for piece in ends.windows(2) {
            let [from, to] = [piece[0], piece[1]];
            if !(from.0 <= highest.0 && highest.0 <= to.0) {
                continue;
            }
            let mut points = [(0.0, 0.0); 3];
            let mut found = 0;
            let mut take = |point: Point| {
                let apart = points[..found]
                    .iter()
                    .all(|p: &Point| (p.0 - point.0).abs() >= APART);
                if found < 3 && apart {
                    points[found] = point;
                    found += 1;
                }
            };
            for end in [from, to] {
                if end.0 == highest.0 {
                    take(end);
                }
            }
            let first = highest.0.round();
            for step in [0.0, 1.0, -1.0, 2.0, -2.0] {
                let at = first + step;
                if at >= 0.0 && at > from.0 && at < to.0 {
                    known(at as usize).into_iter().for_each(&mut take);
                }
            }
            for end in [from, to] {
                if end.0.is_finite() {
                    take(end);
                }
            }
            if found < 2 {
                return None;
            }
            if found == 2 {
                let at = 0.5 * (points[0].0 + points[1].0);
                points[2] = (at, self.value(case, wanted, at)?);
            }
            greatest = greatest.max(self.vertex(case, wanted, points, [from.0, to.0])?);
        }
        Some(sense * greatest)
    }

    /// The greatest value between two places, by the peaks of parabolas through three points and those that
    /// are found; `None` where they do not come to an end.
    fn vertex(
        &mut self,
        case: Case,
        wanted: Wanted,
        mut points: [Point; 3],
        [from, to]: [f64; 2],
    ) -> Option<f64> {
        for _ in 0..TRIES {
            points.sort_by(|a, b| a.0.total_cmp(&b.0));
            let [a, b, c] = points;
            let (rise, fall) = ((b.1 - a.1) / (b.0 - a.0), (c.1 - b.1) / (c.0 - b.0));
            let bend = (fall - rise) / (c.0 - a.0);
            let most = points.iter().fold(f64::NEG_INFINITY, |m, p| m.max(p.1));
            let at = 0.5 * (a.0 + b.0 - rise / bend);
            if !(bend < 0.0 && a.0 < at && at < c.0) {
                // Greatest at an end of the piece, unless the curve rises from there.
                let (own, near, end) = if a.1 > c.1 {
                    (a, a.0 + NUDGE, from.max(0.0))
                } else {
                    (c, c.0 - NUDGE, to.min(NODES as f64))
                };
                if own.0 != end || own.1 < most || (near - b.0).abs() < NUDGE {
                    return None;
                }
                let found = self.value(case, wanted, near)?;
                if found <= most {
                    return Some(most);
                }
                points = [own, (near, found), b];
                continue;
            }
            let expected = a.1 + (at - a.0) * (rise + bend * (at - b.0));
            let found = self.value(case, wanted, at)?;
            if (found - expected).abs() <= AS_EXPECTED * expected.abs() {
                return Some(found.max(most));
            }
            // The found one takes the place of that beyond its further neighbour.
            points = if at < b.0 {
                if found > b.1 {
                    [a, (at, found), b]
                } else {
                    [(at, found), b, c]
                }
            } else if found > b.1 {
                [b, (at, found), c]
            } else {
                [a, b, (at, found)]
            };
        }
        None
    }

    /// What is wanted at a place, times its sense.
    fn value(&mut self, case: Case, wanted: Wanted, at: f64) -> Option<f64> {
        let measure = case.sweep.measures.get(wanted.place)?;
        let node = (at.round().max(0.0) as usize).min(NODES);
        let value = self.beside(case, node, at, measure).ok()?;
        value.is_finite().then_some(wanted.sense * value)
    }
}
