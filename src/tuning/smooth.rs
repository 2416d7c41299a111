//! Smooth problems with limits: sequential quadratic steps inside a box that grows and shrinks.
//!
//! Each step is the least of a quadratic model of the aim plus a price for every breach of the straight
//! models of the limits (R. Fletcher, *Practical Methods of Optimization* (1987), § 14.4, the l1 method).
//! In the dual that price bounds the multipliers, and the dual is climbed one multiplier after the other
//! (C. Hildreth, "A quadratic programming procedure", Naval Res. Logist. Quart. 4 (1957)). An aim that is
//! to be zero is a limit to both sides whose price is 1. The inverse of the curvature is learned from the
//! gradients (the BFGS formula with the damping of M. J. D. Powell, 1978).

use super::model::{Model, dot, greatest};
use super::{Depth, Found, Goal, Seen, Task};

/// Models made at most.
pub(super) const ROUNDS: usize = 40;
/// How far away differences are taken, over the range: far above the rounding of what is read, far
/// below the bend of any curve.
const OFF: f64 = 1e-5;
/// First and largest reach of a step along a dimension, over its range.
const FIRST_REACH: f64 = 0.15;
const MOST_REACH: f64 = 0.5;
/// The price of a breach, where aim and limits are measured in lengths along their own gradients.
const PRICE: f64 = 30.0;
/// A step has to bring this part of what the model promises.
const KEPT: f64 = 0.05;
/// Rounds over all multipliers, and the change of a step that ends them.
const SWEEPS: usize = 400;
const STILL: f64 = 1e-12;

/// How aim and limits are weighed against each other.
struct Scale {
    aim: f64,
    limits: Vec<f64>,
    goal: Goal,
}

impl Scale {
    fn of(model: &Model, goal: Goal) -> Self {
        let one = |slope: f64, value: f64| slope.max(1e-6 * value.abs()).max(1e-12);
        let limits = model.limits.iter().zip(&model.seen.limits);
        Self {
            aim: one(greatest(&model.aim), model.seen.aim),
            limits: limits
                .map(|(row, value)| one(greatest(row), *value))
                .collect(),
            goal,
        }
    }

    /// Aim and priced breaches in one number.
    fn merit(&self, seen: &Seen) -> f64 {
        let aim = match self.goal {
            Goal::Least => seen.aim,
            Goal::Zero => seen.aim.abs(),
        };
        let breaches = seen.limits.iter().zip(&self.limits);
        aim / self.aim + PRICE * breaches.map(|(v, scale)| v.max(0.0) / scale).sum::<f64>()
    }
}

impl Task<'_> {
    /// Goes from a point to a better one, as long as the models help.
    pub(super) fn smooth(&self, start: &Found, depth: Depth, fine: f64) -> Found {
        let mut best = start.clone();
        let Some(seen) = (self.look)(&start.at, depth) else {
            return best;
        };
        let n = self.range.len();
        let near = self
            .range
            .iter()
            .map(|[low, high]| fine / (high - low).max(fine));
        let near = near.fold(1.0, f64::min);
        let mut shares = self.shares(&start.at);
        best.judged = self.judge(&seen);
        let mut model = self.model(&shares, seen, depth, OFF);
        let scale = Scale::of(&model, self.goal);
        let mut inverse = Inverse::new(n);
        let mut reach = FIRST_REACH;
        for _ in 0..ROUNDS {
            let (step, multipliers) = quadratic_step(&model, &scale, &inverse, &shares, reach);
            let promised = scale.merit(&model.seen) - scale.merit(&model.ahead(&step));
            let far = greatest(&step);
            if far <= near {
                break;
            }
            let moved: Vec<f64> = shares.iter().zip(&step).map(|(s, d)| s + d).collect();
            let at = self.at(&moved);
            let seen = (self.look)(&at, depth);
            let gained = seen
                .as_ref()
                .map(|seen| scale.merit(&model.seen) - scale.merit(seen));
            if let Some(seen) = &seen {
                let judged = self.judge(seen);
                if judged.beats(best.judged) {
                    best = Found {
                        at: at.clone(),
                        judged,
                    };
                }
            }
            match (seen, gained) {
                (Some(seen), Some(gained)) if gained > KEPT * promised.max(0.0) && gained > 0.0 => {
                    let next = self.model(&moved, seen, depth, OFF);
                    let slope = |model: &Model| lagrangian(model, &scale, &multipliers);
                    let turn: Vec<f64> = slope(&next)
                        .iter()
                        .zip(slope(&model))
                        .map(|(a, b)| a - b)
                        .collect();
                    inverse.learn(&step, &turn);
                    if gained > 0.5 * promised && far > 0.9 * reach {
                        reach = (2.0 * reach).min(MOST_REACH);
                    }
                    (model, shares) = (next, moved);
                }
                _ => reach = 0.3 * far,
            }
            if reach <= near {
                break;
            }
        }
        best
    }
}

/// The gradient of the aim and the limits, weighed by the multipliers.
fn lagrangian(model: &Model, scale: &Scale, multipliers: &[f64]) -> Vec<f64> {
    let first = if scale.goal == Goal::Least {
        1.0
    } else {
        multipliers[0]
    };
    let mut sum: Vec<f64> = model.aim.iter().map(|v| first * v / scale.aim).collect();
    let limits = model.limits.iter().zip(&scale.limits);
    for ((row, scale), multiplier) in limits.zip(&multipliers[1..]) {
        for (sum, v) in sum.iter_mut().zip(row) {
            *sum += multiplier * v / scale;
        }
    }
    sum
}

/// The least of the model within `reach` and the box, and the multipliers: of the aim that is to be
/// zero, then of the limits.
fn quadratic_step(
    model: &Model,
    scale: &Scale,
    inverse: &Inverse,
    shares: &[f64],
    reach: f64,
) -> (Vec<f64>, Vec<f64>) {
    let n = shares.len();
    /// A straight function of the step whose breach has a price.
    struct Row {
        value: f64,
        slope: Vec<f64>,
        /// The inverse curvature times the slope, and the slope's own share of it.
        turned: Vec<f64>,
        size: f64,
        multiplier: f64,
        least: f64,
        most: f64,
    }
    let row = |value: f64, slope: &[f64], scale: f64, [least, most]: [f64; 2]| {
        let slope: Vec<f64> = slope.iter().map(|v| v / scale).collect();
        let turned = inverse.times(&slope);
        Row {
            value: value / scale,
            size: dot(&slope, &turned),
            slope,
            turned,
            multiplier: 0.0,
            least,
            most,
        }
    };
    let both = if scale.goal == Goal::Zero {
        [-1.0, 1.0]
    } else {
        [0.0, 0.0]
    };
    let mut rows = vec![row(model.seen.aim, &model.aim, scale.aim, both)];
    let limits = model
        .limits
        .iter()
        .zip(&model.seen.limits)
        .zip(&scale.limits);
    rows.extend(limits.map(|((slope, value), scale)| row(*value, slope, *scale, [0.0, PRICE])));
    let bound = |k: usize| {
        let room = [(-shares[k]).max(-reach), (1.0 - shares[k]).min(reach)];
        [room[0].min(0.0), room[1].max(0.0)]
    };
    let mut walls = vec![0.0; n];
    let mut step = vec![0.0; n];
    if scale.goal == Goal::Least {
        let gradient: Vec<f64> = model.aim.iter().map(|v| v / scale.aim).collect();
        let down = inverse.times(&gradient);
        step.iter_mut().zip(down).for_each(|(step, v)| *step = -v);
    }
    for _ in 0..SWEEPS {
        let mut changed = 0.0_f64;
        for row in &mut rows {
            if row.size <= 1e-14 || row.least == row.most {
                continue;
            }
            let passed = row.value + dot(&row.slope, &step);
            let multiplier = (row.multiplier + passed / row.size).clamp(row.least, row.most);
            let change = multiplier - row.multiplier;
            row.multiplier = multiplier;
            for (step, v) in step.iter_mut().zip(&row.turned) {
                *step -= change * v;
                changed = changed.max((change * v).abs());
            }
        }
        for k in 0..n {
            let own = inverse.rows[k][k];
            let free = step[k] + own * walls[k];
            let [low, high] = bound(k);
            let wall = (free - free.clamp(low, high)) / own;
            let change = wall - walls[k];
            walls[k] = wall;
            for (step, v) in step.iter_mut().zip(&inverse.rows[k]) {
                *step -= change * v;
                changed = changed.max((change * v).abs());
            }
        }
        if changed <= STILL {
            break;
        }
    }
    for (k, step) in step.iter_mut().enumerate() {
        let [low, high] = bound(k);
        *step = step.clamp(low, high);
    }
    (step, rows.into_iter().map(|row| row.multiplier).collect())
}

/// The inverse of the curvature of aim and limits together.
struct Inverse {
    rows: Vec<Vec<f64>>,
}

/// Curvature that is supposed before any is known, over the ranges: about straight.
const STRAIGHT: f64 = 0.5;
/// A turn of the gradient counts with this part of what the curvature expects at least.
const DAMPED: f64 = 0.1;
/// Turns and steps whose product is below this tell nothing; curvatures beyond these bounds, over the
/// ranges, are rounding.
const SLIGHT: f64 = 1e-18;
const CREDIBLE: [f64; 2] = [1e-9, 1e9];

impl Inverse {
    fn new(n: usize) -> Self {
        let row = |k: usize| {
            (0..n)
                .map(|j| if j == k { 1.0 / STRAIGHT } else { 0.0 })
                .collect()
        };
        Self {
            rows: (0..n).map(row).collect(),
        }
    }

    fn times(&self, v: &[f64]) -> Vec<f64> {
        self.rows.iter().map(|row| dot(row, v)).collect()
    }

    /// Takes in that the gradient turned by `turn` along `step`.
    fn learn(&mut self, step: &[f64], turn: &[f64]) {
        // Damped in the inverse: the step is drawn towards what the inverse expects of the turn.
        let expected = self.times(turn);
        let (along, size) = (dot(step, turn), dot(turn, &expected));
        if size.is_nan() || size <= SLIGHT {
            return;
        }
        let share = if along >= DAMPED * size {
            1.0
        } else {
            (1.0 - DAMPED) * size / (size - along)
        };
        let step: Vec<f64> = step
            .iter()
            .zip(&expected)
            .map(|(s, e)| share * s + (1.0 - share) * e)
            .collect();
        let along = dot(&step, turn);
        if along.is_nan() || along <= SLIGHT {
            return;
        }
        let grown = (1.0 + size / along) / along;
        let known: Vec<Vec<f64>> = self.rows.clone();
        for (k, row) in self.rows.iter_mut().enumerate() {
            for (j, v) in row.iter_mut().enumerate() {
                *v = known[k][j] + grown * step[k] * step[j]
                    - (step[k] * expected[j] + expected[k] * step[j]) / along;
            }
        }
        if self
            .rows
            .iter()
            .enumerate()
            .any(|(k, row)| row[k].is_nan() || row[k] <= CREDIBLE[0] || row[k] >= CREDIBLE[1])
        {
            *self = Self::new(step.len());
        }
    }
}
