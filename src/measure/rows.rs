//! Which rows of a long work curve can matter to a search over the stroke.
//!
//! A measured curve has a hundred thousand rows, and each may be where the hand needs most. The stroke is
//! cut into stretches; what the measure comes to at both ends of one, with the most and with the least
//! that the work needs anywhere in it, bounds it there. A stretch whose bound is below what is known from
//! another holds nothing; the others are cut in two, down to a few rows, which then count one by one.

use crate::model::Work;
use crate::motion::MotionError;
use crate::statics::{Rig, passes_between};
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// Up to so many rows each one counts, wherever it is.
pub(super) const FEW: usize = 1000;
/// A stretch with so many rows is not cut further.
const LEAST: usize = 12;

/// What is looked for.
#[derive(Debug, Clone, Copy)]
pub(super) enum Seek {
    /// The greatest value.
    Greatest,
    /// The first value above this, from open.
    Above(f64),
}

/// A curve over the stroke, where what it has is signed so that more is looked for: +∞ without bound, −∞
/// without value.
pub(super) trait Curve {
    /// Its value where the rig stands.
    fn value(&mut self, rig: &mut Rig) -> f64;
    /// The same if the work needed this much there, N.
    fn with_need(&mut self, rig: &mut Rig, need: f64) -> f64;
    /// Whether between two needs it is never above what it is at both.
    fn is_bounded(&self) -> bool;
}

/// A place on the stroke, and the gap of the first jaw there.
#[derive(Debug, Clone, Copy)]
struct Stop {
    pace: f64,
    gap: f64,
}

struct Stretch {
    from: Stop,
    to: Stop,
    bound: f64,
}

impl PartialEq for Stretch {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Stretch {}

impl PartialOrd for Stretch {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Stretch {
    fn cmp(&self, other: &Self) -> Ordering {
        self.bound.total_cmp(&other.bound)
    }
}

/// The paces of the rows that matter, and of the ends of their stretches; `coarse`: paces from open to
/// where the stroke ends, rising. `near`: places nearer to each other than this are one.
pub(super) fn that_matter(
    rig: &mut Rig,
    work: &Work,
    curve: &mut impl Curve,
    coarse: &[f64],
    seek: Seek,
    near: f64,
) -> Result<Vec<f64>, MotionError> {
    let size = rig.solver().linkage.size;
    let mut search = Search {
        rows: Rows::of(work, size),
        rig,
        curve,
        near,
        found: Vec::new(),
    };
    match seek {
        Seek::Greatest => search.greatest(coarse)?,
        Seek::Above(level) => search.above(coarse, level)?,
    }
    Ok(search.found)
}

/// Gaps (mm, falling) at which the work's curve may bend or jump, and what it needs there, N.
struct Rows<'w> {
    work: &'w Work,
    size: f64,
    all: Vec<[f64; 2]>,
}

impl<'w> Rows<'w> {
    fn of(work: &'w Work, size: f64) -> Self {
        let mut all = work.need.clone();
        for sense in [1.0, -1.0] {
            // At a jump, on the side that counts.
            let turns = work.turns(sense, size).into_iter();
            all.extend(turns.map(|gap| [gap, work.at(gap, size)]));
        }
        all.sort_by(|a, b| b[0].total_cmp(&a[0]));
        all.dedup();
        Self { work, size, all }
    }

    fn between(&self, from: Stop, to: Stop) -> &[[f64; 2]] {
        let (low, high) = (from.gap.min(to.gap), from.gap.max(to.gap));
        let start = self.all.partition_point(|row| row[0] > high);
        let end = self.all.partition_point(|row| row[0] > low);
        self.all.get(start..end).unwrap_or(&[])
    }

    /// The rows with the least and with the most need between two places.
    fn extremes(&self, from: Stop, to: Stop) -> [[f64; 2]; 2] {
        let ends = [from, to].map(|stop| [stop.gap, self.work.at(stop.gap, self.size)]);
        let rows = || self.between(from, to).iter().copied().chain(ends);
        let by_need = |a: &[f64; 2], b: &[f64; 2]| a[1].total_cmp(&b[1]);
        [rows().min_by(by_need), rows().max_by(by_need)].map(|row| row.unwrap_or(ends[0]))
    }
}

struct Search<'w, 's, 'r, C> {
    rows: Rows<'w>,
    rig: &'s mut Rig<'r>,
    curve: &'s mut C,
    near: f64,
    found: Vec<f64>,
}

impl<C: Curve> Search<'_, '_, '_, C> {
    fn greatest(&mut self, coarse: &[f64]) -> Result<(), MotionError> {
        let (stops, mut best) = self.stops(coarse)?;
        let mut open = BinaryHeap::new();
        for ends in stops.windows(2) {
            open.push(self.stretch(ends[0], ends[1])?);
        }
        while let Some(stretch) = open.pop() {
            if stretch.bound <= best {
                return Ok(());
            }
            match self.halves(&stretch)? {
                Some(halves) => open.extend(halves),
                None => best = best.max(self.take(&stretch)?),
            }
        }
        Ok(())
    }

    fn above(&mut self, coarse: &[f64], level: f64) -> Result<(), MotionError> {
        let (stops, _) = self.stops(coarse)?;
        // From open on: the last of these comes first.
        let mut open = Vec::new();
        for ends in stops.windows(2).rev() {
            open.push(self.stretch(ends[0], ends[1])?);
        }
        while let Some(stretch) = open.pop() {
            if stretch.bound <= level {
                continue;
            }
            match self.halves(&stretch)? {
                Some([first, second]) => open.extend([second, first]),
                None if self.take(&stretch)? > level => return Ok(()),
                None => {}
            }
        }
        Ok(())
    }

    /// The coarse places, and the greatest value at them.
    fn stops(&mut self, coarse: &[f64]) -> Result<(Vec<Stop>, f64), MotionError> {
        let (mut stops, mut best) = (Vec::with_capacity(coarse.len()), f64::NEG_INFINITY);
        for &pace in coarse {
            stops.push(self.stop(pace)?);
            best = best.max(self.curve.value(self.rig));
        }
        Ok((stops, best))
    }

    fn stop(&mut self, pace: f64) -> Result<Stop, MotionError> {
        self.rig.go_to(pace)?;
        let gap = self.rig.forces().gap.first().copied();
        let gap = gap.unwrap_or(f64::NAN);
        Ok(Stop { pace, gap })
    }

    fn stretch(&mut self, from: Stop, to: Stop) -> Result<Stretch, MotionError> {
        let mut bound = f64::NEG_INFINITY;
        if !self.rows.between(from, to).is_empty() {
            for [_, need] in self.rows.extremes(from, to) {
                self.rig.go_to(from.pace)?;
                let first = self.curve.with_need(self.rig, need);
                self.rig.go_to(to.pace)?;
                let second = self.curve.with_need(self.rig, need);
                bound = bound.max(beyond(first, second));
            }
        }
        Ok(Stretch { from, to, bound })
    }

    /// The two halves of a stretch; none where it has few rows, or is too short to be told from a place.
    fn halves(&mut self, stretch: &Stretch) -> Result<Option<[Stretch; 2]>, MotionError> {
        let Stretch { from, to, .. } = *stretch;
        let rows = self.rows.between(from, to).len();
        if rows <= LEAST || to.pace - from.pace <= self.near {
            return Ok(None);
        }
        let middle = self.stop(0.5 * (from.pace + to.pace))?;
        Ok(Some([
            self.stretch(from, middle)?,
            self.stretch(middle, to)?,
        ]))
    }

    /// Takes the rows of a stretch among those that matter; the greatest value at them.
    fn take(&mut self, stretch: &Stretch) -> Result<f64, MotionError> {
        let Stretch { from, to, .. } = *stretch;
        let rows = self.rows.between(from, to);
        let gaps: Vec<f64> = if rows.len() <= LEAST {
            rows.iter().map(|row| row[0]).collect()
        } else {
            self.rows.extremes(from, to).map(|row| row[0]).to_vec()
        };
        let paces = passes_between(self.rig, &gaps, [from.pace, to.pace])?;
        let mut best = f64::NEG_INFINITY;
        for &pace in &paces {
            self.rig.go_to(pace)?;
            best = best.max(self.curve.value(self.rig));
        }
        self.found.extend([from.pace, to.pace]);
        self.found.extend(paces);
        Ok(best)
    }
}

/// How far a value may go between two places where it is this: beyond the greater by their difference.
fn beyond(first: f64, second: f64) -> f64 {
    let (low, high) = (first.min(second), first.max(second));
    match (low.is_finite(), high.is_finite()) {
        (true, true) => high + (high - low),
        // No value at either end.
        _ if high == f64::NEG_INFINITY => high,
        _ => f64::INFINITY,
    }
}
