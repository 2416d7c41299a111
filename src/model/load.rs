//! What loads the linkage besides the hand: the work, springs, friction at the pins.

use super::{Finish, PartId, PointRef, Wound};

/// What the job needs at a jaw.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// `[gap mm, force N]`, two rows or more, sorted by falling gap. A gap may stand twice: there the
    /// force jumps from the first of the two rows to the second.
    pub need: Vec<[f64; 2]>,
    /// Free text: how it was measured.
    pub note: Option<String>,
    /// Thickness of a rigid workpiece, mm, if the jaw presses one.
    pub rigid: Option<f64>,
    /// The factor that the forces of `need` are already multiplied by; 1: as they are given.
    pub scale: f64,
    /// Where `need` is estimated, and not measured: how.
    pub estimate: Option<Estimate>,
    /// How the piece comes out of it; none where nothing is said of that.
    pub finish: Option<Finish>,
}

/// How a work curve was estimated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The job, as the file names it.
    pub job: &'static str,
    /// With its sizes.
    pub of: crate::jobs::Job,
    /// Gap at which the work is touched, where it is stated, mm.
    pub starts: Option<f64>,
    /// Share of itself that every force may be off by, either way.
    pub spread: f64,
}

impl Estimate {
    /// The work curve, by a scale of 1.
    #[must_use]
    pub fn curve(&self) -> Vec<[f64; 2]> {
        // A job that does not tell where it is touched has it stated.
        let starts = self.starts.or_else(|| self.of.starts());
        self.of.curve(starts.unwrap_or(0.0))
    }
}

/// A gap nearer than this to a row, over the tool's size, is that of the row: a gap that is looked for
/// is met to rounding only, and rounding must not choose the side of a jump, or of where the work begins.
const AT_ROW: f64 = 1e-10;

impl Work {
    /// Changes how the curve is estimated, and with that the curve. `false` where it is not estimated, or not by that.
    pub(super) fn estimate_with(&mut self, change: impl FnOnce(&mut Estimate) -> bool) -> bool {
        let Some(mut estimate) = self.estimate else {
            return false;
        };
        if !change(&mut estimate) || !estimate.of.fits() {
            return false;
        }
        self.need = estimate.curve();
        (self.need.iter_mut()).for_each(|row| row[1] *= self.scale);
        self.estimate = Some(estimate);
        true
    }

    /// Multiplies the curve as it is given by another factor, which is greater than zero.
    pub fn set_scale(&mut self, scale: f64) {
        let factor = scale / self.scale;
        if factor != 1.0 {
            self.need.iter_mut().for_each(|row| row[1] *= factor);
        }
        self.scale = scale;
    }

    /// Jaw force needed at a gap (mm) of a tool of this size (mm), N: straight lines between the rows;
    /// nothing before the work is touched (a gap wider than the first row's), the last row's force
    /// beyond the last. Where the force jumps, the greater one.
    #[must_use]
    pub fn at(&self, gap: f64, size: f64) -> f64 {
        let near = AT_ROW * size;
        // A curve may have a hundred thousand rows, and is read at every position.
        let above = self.need.partition_point(|row| row[0] - gap > near);
        let at_gap = self.need.iter().skip(above);
        let at_gap = at_gap.take_while(|row| row[0] - gap >= -near);
        if let Some(greatest) = at_gap.map(|row| row[1]).reduce(f64::max) {
            return greatest;
        }
        let before = above.checked_sub(1).and_then(|k| self.need.get(k));
        match (before, self.need.get(above)) {
            (Some(a), Some(b)) => a[1] + (b[1] - a[1]) * (gap - a[0]) / (b[0] - a[0]),
            (Some(last), None) => last[1],
            (None, _) => 0.0,
        }
    }

    /// Gap and force (mm, N) where the gap and so much for each newton that the work takes there (mm/N) come to
    /// `sum`; the widest such gap. `None` where there is none.
    ///
    /// With less the give of the tool it is where the jaws stand under load that would stand at `sum` without.
    #[must_use]
    pub fn settles(&self, per_force: f64, sum: f64) -> Option<[f64; 2]> {
        let first = self.need.first()?;
        let last = self.need.last()?;
        if sum >= first[0] {
            return Some([sum, 0.0]);
        }
        // From where nothing is touched yet.
        let touched = [first[0], 0.0];
        let mut pieces = std::iter::once(&touched).chain(&self.need).zip(&self.need);
        let found = pieces.find_map(|(from, to)| crossing(from, to, per_force, sum));
        found.or_else(|| beyond(last, per_force, sum))
    }

    /// The widest gap at which the work is touched and holds by itself, not in the middle of a jump, and at which gap and
    /// so much for each newton come to `sum`; with the force there. `None` where there is none.
    ///
    /// With what the piece springs back it is where the jaws have to stand under load for a height that is wanted.
    #[must_use]
    pub fn comes_to(&self, per_force: f64, sum: f64) -> Option<[f64; 2]> {
        let pieces = self.need.iter().zip(self.need.iter().skip(1));
        let mut held = pieces.filter(|(from, to)| from[0] > to[0]);
        let found = held.find_map(|(from, to)| crossing(from, to, per_force, sum));
        found.or_else(|| beyond(self.need.last()?, per_force, sum))
    }

    /// Whether a jaw that closes to a gap (mm) meets any force on the way.
    #[must_use]
    pub fn is_touched_before(&self, gap: f64) -> bool {
        let passed = self.need.iter().take_while(|row| row[0] > gap);
        self.at(gap, 0.0) > 0.0 || passed.into_iter().any(|row| row[1] > 0.0)
    }

    /// Area under the curve from the gap where the jaw stands open to the one where it is shut (mm),
    /// N mm, exactly.
    #[must_use]
    pub fn area(&self, open: f64, shut: f64) -> f64 {
        if open < shut {
            return -self.area(shut, open);
        }
        let first = self.need.partition_point(|row| row[0] >= open);
        let last = self.need.partition_point(|row| row[0] > shut);
        let rows = self
            .need
            .get(first.saturating_sub(1)..(last + 1).min(self.need.len()));
        let pieces = rows.unwrap_or(&[]).windows(2).filter_map(|w| match w {
            [from, to] if from[0] > to[0] => {
                let ends = [from[0].min(open), to[0].max(shut)];
                let force = |gap| from[1] + (to[1] - from[1]) * (from[0] - gap) / (from[0] - to[0]);
                Some(0.5 * (force(ends[0]) + force(ends[1])) * (ends[0] - ends[1]).max(0.0))
            }
            _ => None,
        });
        let beyond = self.need.last();
        let beyond = beyond.map_or(0.0, |last| last[1] * (last[0].min(open) - shut).max(0.0));
        pieces.sum::<f64>() + beyond
    }

    /// Gaps (mm) at which the need has a peak (`sense` 1) or a dip (−1), on a tool of this size (mm): a
    /// curve may have one that is narrower than the steps of a stroke. A dip beside a jump is just off
    /// it, since at the jump the greater force counts.
    #[must_use]
    pub fn turns(&self, sense: f64, size: f64) -> Vec<f64> {
        // Nothing before the work is touched, the last row's force beyond it.
        let (first, last) = (self.need.first(), self.need.last());
        let before = first.map(|_| [f64::INFINITY, 0.0]);
        let beyond = last.map(|row| [f64::NEG_INFINITY, row[1]]);
        let rows = before.iter().chain(&self.need).chain(&beyond);
        let rows: Vec<[f64; 2]> = rows.copied().collect();
        let near = AT_ROW * size;
        let turn = |three: &[[f64; 2]]| {
            let [before, here, after] = three else {
                return None;
            };
            let [low, mid, high] = [before, here, after].map(|row| sense * row[1]);
            if mid < low || mid < high || (mid == low && mid == high) {
                return None;
            }
            let off = 2.0 * near;
            Some(if before[0] - here[0] <= near && before[1] > here[1] {
                here[0] - off
            } else if here[0] - after[0] <= near && after[1] > here[1] {
                here[0] + off
            } else {
                here[0]
            })
        };
        rows.windows(3).filter_map(turn).collect()
    }
}

/// How a pin passes its load on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shear {
    /// One shear plane.
    Single,
    /// Two shear planes (fork and eye).
    Double,
}

/// Data of one pin joint.
#[derive(Debug, Clone, PartialEq)]
pub struct JointData {
    /// Pin diameter, mm.
    pub diameter: Option<f64>,
    /// Coefficient of friction in the joint.
    pub friction: f64,
    /// Hole minus pin, on the diameter, mm.
    pub clearance: f64,
    /// Number of shear planes.
    pub shear: Shear,
    /// Index into [`super::Tool::materials`].
    pub material: Option<usize>,
    /// Which of diameter, friction and clearance are stated for this joint itself, so that it does not
    /// follow a change of what holds for all.
    pub own: [bool; 3],
}

impl Default for JointData {
    fn default() -> Self {
        Self {
            diameter: None,
            friction: 0.0,
            clearance: 0.0,
            shear: Shear::Double,
            material: None,
            own: [false; 3],
        }
    }
}

/// A spring.
#[derive(Debug, Clone, PartialEq)]
pub struct Spring {
    /// Unique name, if it has one.
    pub name: Option<String>,
    /// Between what it acts.
    pub ends: SpringEnds,
    /// How stiff it is.
    pub made: Made,
    /// How its slack state or its load at the open end is given.
    pub set: SpringSet,
    /// In which sense it acts.
    pub acts: Acts,
}

/// What the stiffness of a spring comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Made {
    /// It is stated: N/mm, or N mm/rad about a pin. Greater than zero.
    Rate(f64),
    /// It follows from what is bought.
    Wound(Wound),
}

impl Spring {
    /// N/mm, or N mm/rad about a pin.
    #[must_use]
    pub fn rate(&self) -> f64 {
        match &self.made {
            Made::Rate(rate) => *rate,
            Made::Wound(wound) => wound.rate(),
        }
    }

    /// What is bought, where the file says it.
    #[must_use]
    pub fn wound(&self) -> Option<&Wound> {
        match &self.made {
            Made::Rate(_) => None,
            Made::Wound(wound) => Some(wound),
        }
    }
}

/// What a spring connects.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpringEnds {
    /// Two points of different parts.
    Points(PointRef, PointRef),
    /// Two parts about their common pin: the angle meant is that of `second` against `first`.
    Pin {
        /// First of the file's parts on that pin.
        first: PartId,
        /// Second of the file's parts on that pin.
        second: PartId,
    },
}

/// How a spring's force is fixed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpringSet {
    /// Free length, mm (or angle at which it is slack, rad).
    Free(f64),
    /// Force (N) or moment (N mm) at the open end of the stroke, positive when it pushes the
    /// points apart (or turns the second part counter-clockwise).
    Preload(f64),
}

/// Senses in which a spring acts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Acts {
    /// Both.
    Both,
    /// It can only push: slack when longer than free.
    Push,
    /// It can only pull: slack when shorter than free.
    Pull,
}

/// Where between two rows of a work curve gap and so much for each newton come to `sum`: gap and force.
fn crossing(from: &[f64; 2], to: &[f64; 2], per_force: f64, sum: f64) -> Option<[f64; 2]> {
    let [a, b] = [from, to].map(|row| row[0] + per_force * row[1]);
    let share = (sum - a) / (b - a);
    ((a - sum) * (b - sum) <= 0.0 && a != b)
        .then(|| [0, 1].map(|k: usize| from[k] + share * (to[k] - from[k])))
}

/// The same beyond the last row, whose force stays.
fn beyond(last: &[f64; 2], per_force: f64, sum: f64) -> Option<[f64; 2]> {
    let gap = sum - per_force * last[1];
    (gap <= last[0]).then_some([gap, last[1]])
}

#[cfg(test)]
mod tests {
    use super::Work;

    /// By hand: from 800 N at gap 2 down to 600 N at 1, there a jump to 1000 N, and 400 N from 0.5 on.
    const STEPS: [[f64; 2]; 5] = [
        [2.0, 800.0],
        [1.0, 600.0],
        [1.0, 1000.0],
        [0.5, 1000.0],
        [0.5, 400.0],
    ];

    #[test]
    fn at_a_jump_the_greater_force_counts_on_both_sides_of_rounding() {
        let work = Work::of_rows(&STEPS);
        for off in [-9e-9, -1e-15, 0.0, 1e-15, 9e-9] {
            for (gap, force) in [(2.0, 800.0), (1.0, 1000.0), (0.5, 1000.0)] {
                assert!(
                    (work.at(gap + off, 100.0) - force).abs() < 1e-5,
                    "{gap} {off}"
                );
            }
        }
        for (gap, force) in [
            (2.001, 0.0),
            (1.5, 700.0),
            (0.75, 1000.0),
            (0.4, 400.0),
            (-1.0, 400.0),
        ] {
            assert!((work.at(gap, 100.0) - force).abs() < 1e-9, "{gap}");
        }
    }

    /// Row by row, as the doc of [`Work::at`] says it.
    fn scanned(need: &[[f64; 2]], gap: f64, near: f64) -> f64 {
        let at_gap = need.iter().filter(|row| (row[0] - gap).abs() <= near);
        if let Some(greatest) = at_gap.map(|row| row[1]).reduce(f64::max) {
            return greatest;
        }
        match (need.first(), need.last()) {
            (Some(first), _) if gap > first[0] => 0.0,
            (_, Some(last)) if gap <= last[0] => last[1],
            _ => (need.windows(2))
                .find(|w| gap <= w[0][0] && gap >= w[1][0])
                .map_or(0.0, |w| {
                    w[0][1] + (w[1][1] - w[0][1]) * (gap - w[0][0]) / (w[1][0] - w[0][0])
                }),
        }
    }

    proptest::proptest! {
        /// Rows on a coarse grid, so that gaps come twice, and some a hair apart; gaps asked for on rows,
        /// within and just outside what counts as at a row, between rows and beyond the ends.
        #[test]
        fn a_gap_is_found_as_by_looking_at_every_row(
            rows in proptest::collection::vec((-20_i32..20, 0_usize..4, 0.0..100.0_f64), 0..40),
            asked in proptest::collection::vec((-22_i32..22, 0_usize..8), 1..40),
        ) {
            let size = 100.0;
            let near = super::AT_ROW * size;
            let hairs = [0.0, 0.0, 0.6 * near, 1.7 * near];
            let mut need: Vec<[f64; 2]> = (rows.iter())
                .map(|&(gap, hair, force)| [0.3 * f64::from(gap) + hairs[hair], force])
                .collect();
            need.sort_by(|a, b| b[0].total_cmp(&a[0]));
            let work = Work::of_rows(&need);
            let offs = [0.0, 1e-15, -1e-15, near, -near, 1.1 * near, -1.1 * near, 0.1];
            for (gap, off) in asked {
                let gap = 0.3 * f64::from(gap) + offs[off];
                proptest::prop_assert_eq!(work.at(gap, size), scanned(&need, gap, near));
            }
            for gap in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                let found = work.at(gap, size);
                proptest::prop_assert!(found == scanned(&need, gap, near), "{gap}: {found}");
            }
        }
    }

    #[test]
    fn areas_are_those_of_trapezoids() {
        let work = Work::of_rows(&STEPS);
        for (open, shut, area) in [
            (3.0, 2.0, 0.0),
            (3.0, 1.0, 700.0),
            (1.5, 1.0, 325.0),
            (3.0, 0.0, 700.0 + 500.0 + 200.0),
            (0.25, -0.25, 200.0),
            (1.0, 3.0, -700.0),
        ] {
            assert!((work.area(open, shut) - area).abs() < 1e-9, "{open} {shut}");
        }
    }

    #[test]
    fn turns_stand_on_the_side_that_counts() {
        let work = Work::of_rows(&STEPS);
        assert_eq!(work.turns(1.0, 100.0), [2.0, 1.0, 0.5]);
        let dips = work.turns(-1.0, 100.0);
        assert_eq!(dips.len(), 2);
        for (gap, (place, force)) in dips.iter().zip([(1.0, 600.0), (0.5, 400.0)]) {
            assert!((gap - place).abs() < 3e-8);
            assert!((work.at(*gap, 100.0) - force).abs() < 1e-5);
        }
    }

    fn springy() -> Work {
        // By hand: touched at 2 mm, 100 N at once, rising by 100 N/mm to 300 N at 0.
        Work::of_rows(&[[2.0, 100.0], [0.0, 300.0]])
    }

    fn meets(found: Option<[f64; 2]>, hand: [f64; 2]) {
        let found = found.unwrap();
        let off = (0..2).map(|k| (found[k] - hand[k]).abs());
        assert!(off.fold(0.0, f64::max) < 1e-12, "{found:?} {hand:?}");
    }

    #[test]
    fn where_the_jaws_stand_under_load() {
        // A tool that gives 0.001 mm/N, rigidly at 1 mm: g - 0.001 (300 - 100 g) = 1, g = 1.3 / 1.1.
        meets(
            springy().settles(-0.001, 1.0),
            [1.3 / 1.1, 300.0 - 130.0 / 1.1],
        );
        // Rigidly at 1.95 mm the work holds the jaws where it is touched: 0.05 / 0.001 = 50 of 100 N.
        meets(springy().settles(-0.001, 1.95), [2.0, 50.0]);
        // Not touched, and beyond the last row.
        meets(springy().settles(-0.001, 2.5), [2.5, 0.0]);
        meets(springy().settles(-0.001, -1.0), [-0.7, 300.0]);
    }

    #[test]
    fn where_it_comes_to_a_height_after_springing_back() {
        // 1000 N/mm: g + (300 - 100 g) / 1000 = 1, g = 0.7 / 0.9.
        meets(
            springy().comes_to(0.001, 1.0),
            [0.7 / 0.9, 300.0 - 70.0 / 0.9],
        );
        // It comes back to 2.1 mm at most from where it is touched, and to 0.3 from 0; below with the last force.
        meets(springy().comes_to(0.001, 0.3), [0.0, 300.0]);
        meets(springy().comes_to(0.001, 0.1), [-0.2, 300.0]);
        // Just above where it is touched: not untouched, nor in the middle of the jump to 100 N, but pressed to where
        // it springs back to the same: g + (300 - 100 g) / 1000 = 2.05, g = 1.75 / 0.9.
        meets(
            springy().comes_to(0.001, 2.05),
            [1.75 / 0.9, 300.0 - 175.0 / 0.9],
        );
        assert_eq!(springy().comes_to(0.001, 2.2), None);
    }
}
