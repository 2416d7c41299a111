//! Positions that every sampled tool is read at: how they stand on the nominal tool.

use super::anchor::Anchor;
use super::plan::Plan;
use crate::geometry::Vec2;
use crate::model::{GripId, JawId, Joint, JointId};
use crate::motion::Solver;
use crate::statics::{Absent, Rig};

/// A gap further below zero than this, over the tool's size, is one that dies or faces do not let the tool come to.
pub(super) const MEETS: f64 = 1e-9;

/// A position on the nominal tool, from which every sample starts.
#[derive(Debug, Clone)]
pub(super) struct Station {
    /// What defines it.
    pub(super) anchor: Anchor,
    /// Index of the grip that is held.
    pub(super) grip: GripId,
    /// Coordinates.
    pub(super) q: Vec<f64>,
    /// Closing tangent.
    pub(super) tangent: Vec<f64>,
    /// Closing rate of the first jaw; zero at a toggle.
    pub(super) closing: f64,
    /// Sense of the solver's determinant there, once known.
    pub(super) positive: Option<bool>,
    /// For each of the plan's clearances: where the later part's pin goes under load, a unit
    /// vector in the axes of [`Linkage::play_axes`], of teeth along the pitch line; `None` where the joint carries nothing.
    pub(super) pushed: Vec<Option<Vec2>>,
    /// For each jaw but the first: whether its dies are apart.
    pub(super) apart: Vec<bool>,
    /// On which side each block of the closed form stands; `None` where one is near a dead position, and without a
    /// closed form.
    pub(super) sides: Option<Vec<f64>>,
    /// How the coordinates go with each dimension of the plan, one after the other: where samples are begun. Empty where
    /// they are found without, and where it is not known.
    pub(super) lead: Vec<f64>,
}

impl Station {
    /// The position at which `rig` stands, the tool held at a grip.
    pub(super) fn here(rig: &mut Rig, anchor: Anchor, grip: GripId, plan: &Plan) -> Self {
        let pushed = pushed(rig, grip, plan);
        let sense = rig.stance().sense;
        let solver = rig.solver();
        Self {
            anchor,
            grip,
            q: solver.pose.q.clone(),
            tangent: solver.tangent().iter().map(|t| t * sense).collect(),
            closing: if rig.forces().toggle[0] {
                0.0
            } else {
                rig.forces().closing(JawId::FIRST)
            },
            positive: None,
            pushed,
            apart: apart(rig),
            sides: sides(solver),
            lead: Vec::new(),
        }
    }

    /// Where a tool with these deviations stands there, to first order.
    #[inline]
    pub(super) fn begin(&self, deviations: &[f64], q: &mut [f64]) {
        q.copy_from_slice(&self.q);
        for (deviation, lead) in deviations.iter().zip(self.lead.chunks_exact(q.len())) {
            for (q, by) in q.iter_mut().zip(lead) {
                *q += deviation * by;
            }
        }
    }

    /// Closes the loops in closed form where the handle is that of the position, moved on by `offset`. `false` where
    /// that cannot be.
    #[inline]
    pub(super) fn close_by_handle(&self, solver: &mut Solver, offset: f64) -> bool {
        let (Some(sides), Some(handle)) = (&self.sides, self.anchor.angle()) else {
            return false;
        };
        solver.linkage_mut().measure_closed();
        let level = handle + offset - solver.linkage.hand.chord;
        solver.close_by_handle(level, sides, &self.q)
    }
}

/// For each jaw but the first: whether its dies are apart. What touches as it is drawn is meant to.
fn apart(rig: &Rig) -> Vec<bool> {
    let near = MEETS * rig.solver().linkage.size;
    let gaps = rig.forces().gap.iter().skip(1);
    gaps.map(|gap| *gap > near).collect()
}

fn sides(solver: &Solver) -> Option<Vec<f64>> {
    let closed = solver.linkage.closed.as_ref()?;
    let mut sides = vec![0.0; closed.len()];
    closed.signs(&solver.pose, &mut sides).then_some(sides)
}

impl Station {
    /// This place, a share of the way on to another: the play lies between those of the two. Where a joint
    /// is loaded at one of them alone, it is as here.
    pub(super) fn towards(&self, other: Option<&Self>, share: f64) -> Self {
        let mut between = self.clone();
        let pushed = other.map_or(&[][..], |other| &other.pushed);
        for (here, there) in between.pushed.iter_mut().zip(pushed) {
            if let (Some(here), Some(there)) = (here, there) {
                let way = [0, 1].map(|k| here[k] + share * (there[k] - here[k]));
                let long = way[0].hypot(way[1]);
                if long > 0.0 {
                    *here = way.map(|v| v / long).into();
                }
            }
        }
        between
    }
}

impl Station {
    /// How far the play of any joint is from what it is at another place, over itself; 1 where a joint is
    /// loaded at one of them alone.
    pub(super) fn play_off(&self, other: &Self) -> f64 {
        let pairs = self.pushed.iter().zip(&other.pushed);
        let off = pairs.map(|pair| match pair {
            (Some(here), Some(there)) => (here[0] - there[0]).hypot(here[1] - there[1]),
            (None, None) => 0.0,
            _ => 1.0,
        });
        off.fold(0.0, f64::max)
    }
}

/// What presses the two sides of a joint together, N.
enum Force {
    /// On the later part's pin.
    Pin(Vec2),
    /// Along the pitch line, on the first part.
    Teeth(f64),
}

/// The directions in which load takes up the play: against the force by the carrier, under the
/// hand force that the work needs here, or the tool's where there is no work.
fn pushed(rig: &mut Rig, grip: GripId, plan: &Plan) -> Vec<Option<Vec2>> {
    let tool = rig.tool();
    let mut stand = rig.here();
    let hand = match stand.work() {
        Some(work) if work > 0.0 => stand.hand_force(grip),
        Some(_) => Err(Absent::NoWork),
        None => Ok(tool.hand.force),
    };
    let mut force = |joint: JointId| match tool.joint(joint) {
        Some(Joint::Gears(..)) => stand.signed(joint, grip, hand?).map(Force::Teeth),
        _ => stand.pin(joint, grip, hand?).map(Force::Pin),
    };
    let forces: Vec<_> = (plan.clearances.iter())
        .map(|&(joint, _)| (joint, force(joint)))
        .collect();
    let (linkage, pose) = (&*rig.solver().linkage, &rig.solver().pose);
    let direction = |(joint, force): (JointId, Result<Force, Absent>)| {
        let [x, y] = match force.ok()? {
            Force::Pin(force) => force.xy(),
            Force::Teeth(force) => {
                return (force.abs() > 1e-9).then(|| Vec2::X * -force.signum());
            }
        };
        let size = x.hypot(y);
        let axes = &pose.frames[linkage.play_axes(joint)];
        (size > 1e-9).then(|| axes.own_direction(Vec2::new(-x / size, -y / size)))
    };
    forces.into_iter().map(direction).collect()
}
