//! Tuning a tool: its dimensions in their ranges, its aim, its demands as limits.

use crate::analysis::{Analysis, Judge, Outcome, with_grips};
use crate::measure::{MeasureError, readable};
use crate::model::dimension::{DimensionSlot, find};
use crate::model::{Bound, Direction, Measure, Tool, Want, amount};
use crate::plates;
use crate::tuning::{Depth, Goal, Seen, Task, usually_judged};
use crate::units::{Quantity, UnitSystem};
use std::sync::atomic::{AtomicUsize, Ordering};

/// What tuning found.
#[derive(Debug, Clone, PartialEq)]
pub struct Tuned {
    /// Address, value before and after, internal unit.
    pub dimensions: Vec<(String, f64, f64)>,
    /// The aim before and after, internal units; `None` where there is no value.
    pub aim: [Option<f64>; 2],
    /// Every demand before and after.
    pub demands: [Vec<Outcome>; 2],
    /// All demands are met after.
    pub met: bool,
    /// Points judged.
    pub judged: usize,
}

/// Why nothing was tuned.
#[derive(Debug, Clone, PartialEq)]
pub enum TuneError {
    /// The file says not what, or not to what end.
    Nothing(&'static str),
    /// The aim cannot be read.
    Aim(MeasureError),
    /// No point of the range can be solved.
    NoPoint,
    /// Some can, but none that is a multiple of this step (mm), the least that calipers read.
    NoStep(f64),
    /// The search would take minutes.
    TooMuch,
}

/// Most steps of the stroke during a search: peaks are refined between them. What is found is read
/// with all steps of the file.
const MOST_STEPS: usize = 120;
/// The same where a first judgement is enough.
const SOON_STEPS: usize = 24;
/// Most time of a search on one core, ns, as [`amount`] reckons it; usually far less.
const MOST_TIME: f64 = 1.2e11;

/// What a number is rounded to, internal unit: lengths to what calipers read, others to what is worth
/// writing down. Common practice, no source.
#[must_use]
pub fn step_of(quantity: Option<Quantity>, units: UnitSystem) -> f64 {
    let of_unit = match quantity {
        Some(Quantity::Length) => return units.caliper_step(),
        None => return 0.01,
        Some(Quantity::Angle) => 0.1,
        Some(Quantity::Force | Quantity::Stress | Quantity::Torque | Quantity::Energy) => 0.1,
        Some(Quantity::Rate | Quantity::TurnRate) => 0.01,
        Some(Quantity::Area | Quantity::SecondMoment | Quantity::Mass) => 0.01,
        Some(Quantity::Density) => 0.001,
        Some(Quantity::Time | Quantity::Frequency) => 0.1,
    };
    of_unit * quantity.map_or(1.0, |quantity| units.factor(quantity))
}

impl Analysis {
    /// Searches the dimensions of `[[tune]]` for the aim, the demands kept as limits, and rounds what
    /// it finds to what calipers read. `done` is told of every point that is judged.
    ///
    /// # Errors
    /// [`TuneError`].
    pub fn tune(&self, done: &(dyn Fn() + Sync)) -> Result<Tuned, TuneError> {
        tune(self.tool(), done)
    }
}

fn tune(tool: &Tool, done: &(dyn Fn() + Sync)) -> Result<Tuned, TuneError> {
    let aim = tool.aim.as_ref().ok_or(TuneError::Nothing("[aim]"))?;
    if tool.tunes.is_empty() {
        return Err(TuneError::Nothing("[[tune]]"));
    }
    let measure = &aim.measure;
    readable(tool, measure, aim.jaw).map_err(TuneError::Aim)?;
    let slots: Vec<DimensionSlot> = tool
        .tunes
        .iter()
        .filter_map(|t| find(tool, &t.dimension))
        .collect();
    // The search knows one step for all: it sees every number in caliper steps of its own.
    let step = tool.units.caliper_step();
    let scale = |slot: &DimensionSlot| step / step_of(slot.quantity(), tool.units);
    let scales: Vec<f64> = slots.iter().map(scale).collect();
    let ranges = tool.tunes.iter().zip(&scales);
    let range: Vec<[f64; 2]> = ranges
        .map(|(t, scale)| [t.from * scale, t.to * scale])
        .collect();
    let start: Vec<f64> = slots.iter().filter_map(|s| s.get(tool)).collect();
    if slots.len() != range.len() || start.len() != range.len() {
        return Err(TuneError::Nothing("a dimension that the tool has"));
    }
    let mut drawn = tool.clone();
    drawn.stroke.steps = drawn.stroke.steps.min(MOST_STEPS);
    let newton_steps = look(&drawn, measure, Depth::All).map_or(0, |seen| seen.newton_steps);
    let points = usually_judged(range.len()) as f64;
    if amount::judging(&with_grips(&drawn), newton_steps) * points > MOST_TIME {
        return Err(TuneError::TooMuch);
    }
    let count = AtomicUsize::new(0);
    let goal = match aim.want {
        Want::Least | Want::Most => Goal::Least,
        Want::Value(_) => Goal::Zero,
    };
    let look_at = |at: &[f64], depth: Depth| {
        if depth == Depth::Soon {
            count.fetch_add(1, Ordering::Relaxed);
            done();
        }
        let mut work = drawn.clone();
        if depth == Depth::Soon {
            work.stroke.steps = work.stroke.steps.min(SOON_STEPS);
        }
        set(&mut work, &slots, &scales, at);
        if !plates::are_sound(&work) {
            return None;
        }
        let seen = look(&work, measure, depth)?;
        let value = seen.aim?;
        let aim = match aim.want {
            Want::Least => value,
            Want::Most => -value,
            Want::Value(wanted) => value - wanted,
        };
        let limits = seen.demands.iter().flat_map(|d| passed(tool, d)).collect();
        aim.is_finite().then_some(Seen { aim, limits })
    };
    let task = Task {
        range: &range,
        goal,
        look: &look_at,
    };
    let from: Vec<f64> = start
        .iter()
        .zip(&scales)
        .map(|(v, scale)| v * scale)
        .collect();
    let found = task.search(&from, 0.1 * step).ok_or(TuneError::NoPoint)?;
    let rounded = task.round(&found.at, step).ok_or(TuneError::NoStep(step))?;
    let before = look(tool, measure, Depth::All);
    let mut after = tool.clone();
    set(&mut after, &slots, &scales, &rounded.at);
    let at = rounded.at.iter().zip(&scales);
    let at: Vec<f64> = at.map(|(v, scale)| v / scale).collect();
    let after = look(&after, measure, Depth::All).ok_or(TuneError::NoPoint)?;
    let names = tool.tunes.iter().map(|t| t.dimension.clone());
    Ok(Tuned {
        dimensions: names
            .zip(start.iter().zip(&at))
            .map(|(n, (a, b))| (n, *a, *b))
            .collect(),
        aim: [before.as_ref().and_then(|b| b.aim), after.aim],
        met: after.demands.iter().all(|d| d.met),
        demands: [before.map(|b| b.demands).unwrap_or_default(), after.demands],
        judged: count.into_inner(),
    })
}

fn set(tool: &mut Tool, slots: &[DimensionSlot], scales: &[f64], at: &[f64]) {
    let values = at.iter().zip(scales).map(|(value, scale)| value / scale);
    tool.set_numbers(slots.iter().copied().zip(values));
}

/// What one tool is judged by.
struct Readings {
    /// Value of the aim.
    aim: Option<f64>,
    demands: Vec<Outcome>,
    /// Newton steps of contact forces taken for it.
    newton_steps: u64,
}

/// Reads the aim and the demands, all of them in the tool's order or only those that need no strength;
/// `None` when the tool cannot be solved.
fn look(tool: &Tool, measure: &Measure, depth: Depth) -> Option<Readings> {
    let aim = tool.aim.as_ref()?;
    let analysis = Analysis::of(tool.clone());
    if tool.has_yield() && (depth == Depth::All || *measure == Measure::Yield) {
        // Tools that cannot be sampled have no yield, and are judged so.
        let _ = analysis.sample_yield();
    }
    let seen = analysis.judge(Direction::Closing, |judge| {
        let mut demands = Vec::new();
        let mut read = |judge: &mut Judge<'_, '_>, dear: bool| {
            for (index, demand) in tool.demands.iter().enumerate() {
                if is_dear(&demand.measure) == dear {
                    demands.extend(judge.demand(index).ok()?);
                }
            }
            Some(())
        };
        read(judge, false)?;
        let value = judge.read(measure, aim.jaw, aim.at, aim.grip);
        // After all others, which are the same without it.
        if depth == Depth::All {
            read(judge, true)?;
        }
        demands.sort_by_key(|outcome| outcome.demand);
        Some(Readings {
            aim: value.ok().and_then(Result::ok),
            demands,
            newton_steps: judge.newton_steps(),
        })
    });
    seen.ok().flatten()
}

/// Whether a measure takes the forces on every part at every position of the stroke, or many tools.
fn is_dear(measure: &Measure) -> bool {
    matches!(measure, Measure::Safety(_) | Measure::Yield) || measure.is_of_plates()
}

/// How far a demand passes its limits, relative to them, below 0 by how far it keeps them; 1 where there
/// is no value.
fn passed(tool: &Tool, outcome: &Outcome) -> Vec<f64> {
    let Some(demand) = tool.demands.get(outcome.demand) else {
        return Vec::new();
    };
    let Bound { min, max } = demand.bound;
    let value = outcome.value();
    let one = |limit: f64, sense: f64| {
        let Some(value) = value else { return 1.0 };
        let off = sense * (value - limit) / limit.abs().max(LEAST_LIMIT);
        // What the demand takes for kept is kept.
        if outcome.met { off.min(0.0) } else { off }
    };
    let rows = [min.map(|min| one(min, -1.0)), max.map(|max| one(max, 1.0))];
    rows.into_iter().flatten().collect()
}

/// A limit below this is as good as zero: a breach of it is measured against this.
const LEAST_LIMIT: f64 = 1e-6;

/// How far a demand is breached, relative to its limit; 1 where there is no value.
#[must_use]
pub fn breach(tool: &Tool, outcome: &Outcome) -> f64 {
    passed(tool, outcome).into_iter().fold(0.0, f64::max)
}
