//! Springs of wire on their way from open to shut.

use super::Analysis;
use super::failure::Failure;
use crate::model::{Direction, Made};
use crate::motion::MotionError;
use crate::statics::Rig;
use crate::strength::{SpringAt, SpringFound, SpringTravel, judge_spring};

/// Positions at which springs are read at least and at most: their lengths change smoothly.
const INTERVALS: [usize; 2] = [40, 200];

/// Where the springs of a tool are at one position.
struct Row {
    pace: f64,
    springs: Vec<SpringAt>,
}

impl Analysis {
    /// Where each spring goes on the stroke, in the order of the file.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn spring_travels(&self) -> Result<Vec<SpringTravel>, Failure> {
        let mut rig = self.rig(Direction::Closing)?;
        let count = self.tool().stroke.steps.clamp(INTERVALS[0], INTERVALS[1]);
        let whole = rig.pace();
        let mut rows = Vec::with_capacity(count + 1);
        for step in 0..=count {
            rows.push(row(&mut rig, whole * step as f64 / count as f64)?);
        }
        let mut travels = Vec::new();
        for k in 0..self.tool().springs.len() {
            let low = extreme(&mut rig, &rows, k, -1.0)?;
            let high = extreme(&mut rig, &rows, k, 1.0)?;
            let open = rows.first().and_then(|row| row.springs.get(k)).copied();
            if let (Some(open), Some(low), Some(high)) = (open, low, high) {
                travels.push(SpringTravel { open, low, high });
            }
        }
        Ok(travels)
    }

    /// What comes of each spring of wire over the stroke, by its index.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn wound_springs(&self) -> Result<Vec<(usize, SpringFound)>, Failure> {
        let springs = &self.tool().springs;
        if springs.iter().all(|spring| spring.wound().is_none()) {
            return Ok(Vec::new());
        }
        let travels = self.spring_travels()?;
        let judged = springs.iter().zip(&travels).enumerate();
        let judged = judged.filter_map(|(k, (spring, way))| {
            let mut spring = spring.clone();
            if let (Made::Wound(wound), Some(life)) = (&mut spring.made, self.tool().life) {
                wound.cycles = wound.cycles.or(Some(life.strokes));
            }
            Some((k, judge_spring(&spring, way)?))
        });
        Ok(judged.collect())
    }
}

fn row(rig: &mut Rig, pace: f64) -> Result<Row, MotionError> {
    rig.go_to(pace)?;
    let gap = rig.forces().gap.first().copied().unwrap_or(0.0);
    let states = rig.springs().into_iter();
    Ok(Row {
        pace,
        springs: states.map(|state| SpringAt { state, gap }).collect(),
    })
}

/// Where spring `k` is longest (`sense` 1) or shortest: the row, or the top of the parabola through it and its
/// neighbours where that is further out.
fn extreme(
    rig: &mut Rig,
    rows: &[Row],
    k: usize,
    sense: f64,
) -> Result<Option<SpringAt>, MotionError> {
    let value = |row: &Row| row.springs.get(k).map(|at| sense * at.state.at);
    let best = (0..rows.len()).max_by(|&a, &b| {
        let of = |i: usize| rows.get(i).and_then(value).unwrap_or(f64::NEG_INFINITY);
        of(a).total_cmp(&of(b))
    });
    let Some(best) = best else { return Ok(None) };
    let mut found = rows.get(best).and_then(|row| row.springs.get(k)).copied();
    let around = best
        .checked_sub(1)
        .and_then(|first| rows.get(first..first + 3));
    if let Some([before, here, after]) = around
        && let (Some(a), Some(b), Some(c)) = (value(before), value(here), value(after))
    {
        let bend = a - 2.0 * b + c;
        let shift = 0.5 * (a - c) / bend;
        if bend < 0.0 && shift.abs() < 1.0 {
            let top = row(rig, here.pace + shift * (after.pace - here.pace))?;
            let top = top.springs.get(k).copied();
            found = top.filter(|top| sense * top.state.at > b).or(found);
        }
    }
    Ok(found)
}
