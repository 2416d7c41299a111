//! How much work a tool asks for, roughly: to refuse what would take minutes.
//!
//! Times in nanoseconds of one core, measured on chains of 1 to 28 four-bars with friction up to where
//! they lock themselves, and rounded up. With friction the cost is that of a tool about to lock itself,
//! some ten times the usual one.

use super::{At, Demand, Measure, Tool};

/// Everything that is told about one position for one grip and jaw, on its way to JSON.
const TOLD: f64 = 12_000.0;
/// Positions at which a peak is looked for at least, and those for refining it.
const LEAST_POSITIONS: f64 = 60.0;
const REFINING: f64 = 20.0;

/// Newton steps that the answer of a tool about to lock itself takes; three are usual.
const MOST_NEWTON: f64 = 40.0;
/// Positions at which a motion is followed, as a rule.
const NODES: f64 = 600.0;

/// What one position costs, from the counts of a tool.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cost {
    /// Closing the loops, ns.
    pub stand: f64,
    /// Preparing a position for friction, ns.
    pub friction: f64,
    /// One Newton step of the contact forces, ns.
    pub newton: f64,
    /// One answer with friction, ns: of the jaw to a hand force, or the other way round.
    pub answer: f64,
    /// The forces of one grip and jaw, ns.
    pub grip: f64,
    /// The strength of one grip, ns.
    pub strength: f64,
}

impl Cost {
    /// What one position of `tool` costs.
    #[must_use]
    pub fn of(tool: &Tool) -> Self {
        let coordinates = coordinates(tool);
        let rubbing = rubbing(tool) as f64;
        let (friction, newton) = if rubbing > 0.0 {
            let cubed = rubbing.powi(3);
            (0.1 * cubed + 60.0 * rubbing + 200.0, 0.12 * cubed + 130.0)
        } else {
            (0.0, 0.0)
        };
        let answer = friction + MOST_NEWTON * newton;
        let grip = 2.0 * coordinates.powi(2) + 2.0 * answer;
        Self {
            stand: 0.5 * coordinates.powi(3) + 300.0,
            friction,
            newton,
            answer,
            grip: grip + TOLD,
            strength: grip + 3_000.0 * tool.parts.len() as f64,
        }
    }

    /// Everything at one position, ns: all grips and jaws, and the strength.
    #[must_use]
    pub fn position(&self, tool: &Tool) -> f64 {
        let (grips, jaws) = (tool.hand.grips.len() as f64, tool.jaws.len() as f64);
        2.0 * self.stand + jaws * (grips + 1.0) * self.grip + grips * self.strength
    }

    /// Reading one measure at one position, ns.
    #[must_use]
    pub fn reading(&self) -> f64 {
        self.stand + self.answer + 1_000.0
    }
}

/// What judging one tool by its demands costs as a rule, ns: finding its motion, reading every demand,
/// the strength of the stroke; so many Newton steps of the contact forces being taken.
#[must_use]
pub fn judging(tool: &Tool, newton_steps: u64) -> f64 {
    let cost = Cost::of(tool);
    let usual = cost.stand + cost.friction;
    let (grips, parts) = (tool.hand.grips.len() as f64, tool.parts.len() as f64);
    let motion = NODES * 10.0 * cost.stand;
    let positions = (tool.stroke.steps as f64).max(LEAST_POSITIONS) + REFINING;
    let read = positions * (readings(tool) + 1.0) * (usual + 1_000.0);
    let strength = positions * grips * (2.0 * usual + 3_000.0 * parts);
    motion + read + strength + newton_steps as f64 * cost.newton
}

/// Coordinates of the linkage, at most: an angle for each moving part, and two more for those that no
/// pin holds.
fn coordinates(tool: &Tool) -> f64 {
    let moving = tool.parts.len().saturating_sub(1);
    let others = tool.all_joints().skip(tool.joints.len()).count();
    (moving + 2 * others.min(moving)) as f64
}

/// Places where friction acts.
fn rubbing(tool: &Tool) -> usize {
    tool.all_joints().filter(|joint| joint.rubs(tool)).count()
}

/// Readings that the demands ask for at each position of the stroke; work over the stroke is read
/// at three places of each step.
fn readings(tool: &Tool) -> f64 {
    let one = |demand: &Demand| {
        let grips = grips(tool, demand);
        if demand.measure.at_position() {
            grips
        } else {
            3.0 * grips
        }
    };
    tool.demands.iter().map(one).sum()
}

/// What a stroke of so many steps costs with all demands and the strength of every position, ns.
#[must_use]
pub fn stroke(tool: &Tool, steps: f64) -> f64 {
    let cost = Cost::of(tool);
    let read = (steps.max(LEAST_POSITIONS) + REFINING) * readings(tool) + rows(tool);
    (steps + 1.0) * cost.position(tool) + read * cost.reading()
}

/// Rows of the work at which demands are read besides: the least load of a pin may stand at any of them,
/// while of other peaks the rows tell beforehand where they may be.
fn rows(tool: &Tool) -> f64 {
    let count = tool.work().map_or(0, |work| work.need.len()) as f64;
    let least = |demand: &&Demand| {
        matches!(demand.measure, Measure::PinLoad(_)) && demand.at == Some(At::Least)
    };
    let demands = tool.demands.iter().filter(least);
    count * demands.map(|demand| grips(tool, demand)).sum::<f64>()
}

/// Grips at which a demand is read.
fn grips(tool: &Tool, demand: &Demand) -> f64 {
    demand.grip.map_or(tool.hand.grips.len(), |_| 1) as f64
}
