//! Positions that every sampled tool is read at: what defines them, and how they stand on the
//! nominal tool.

use super::plan::Plan;
use crate::geometry::Vec2;
use crate::mechanism::{Linkage, Pose};
use crate::model::{At, Fixed, FixedBy, GripId, JawId, Target, Tool};
use crate::motion::Solver;
use crate::statics::{Answer, Answers, Rig};

/// What defines a position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Held {
    /// Gap of the first jaw, mm.
    Gap(f64),
    /// Handle angle as [`Linkage::handle`] gives it, rad.
    Handle(f64),
    /// Span at a grip of the linkage (index), mm.
    Span(GripId, f64),
    /// Place of the first grip along a direction, mm: for handles that slide.
    Way(Vec2, f64),
}

impl Held {
    /// The definition of a position of the tool file; `grip` is the index that a span is read at.
    /// `None` for peak and least.
    pub(super) fn of(tool: &Tool, linkage: &Linkage, at: At, grip: GripId) -> Option<Self> {
        let end = |target: Target| match target {
            Target::Span(_, at) => (target.fixed(), linkage.target_grip(at)),
            Target::Gap(_) | Target::Handle(_) => (target.fixed(), grip),
        };
        let (Fixed { by, value }, grip) = match at {
            At::Open => end(tool.stroke.open),
            At::Shut => end(tool.stroke.shut),
            _ => (at.fixed()?, grip),
        };
        Some(match by {
            FixedBy::Gap => Self::Gap(value),
            FixedBy::Handle => Self::Handle(value),
            FixedBy::Span => Self::Span(grip, value),
        })
    }

    /// Closes the loops where the definition holds, moved on by `offset`, from the pose the solver
    /// stands in. `row` is the linkage's handle row.
    #[inline]
    pub(super) fn close(self, solver: &mut Solver, row: &[f64], offset: f64) -> bool {
        match self {
            Self::Handle(level) => {
                solver.set_border(row);
                solver.close_from_pose(level + offset - solver.linkage.hand.chord)
            }
            Self::Gap(gap) => solver.close_on(|linkage, pose, row| {
                let jaw = &linkage.jaws[0];
                let Some(axis) = linkage.jaw_axis(pose, jaw) else {
                    return f64::NAN;
                };
                let scale = 1.0 / linkage.size;
                linkage.add_gap_gradient(pose, jaw, axis * scale, row);
                (linkage.gap(pose, jaw) - gap - offset) * scale
            }),
            Self::Span(grip, span) => solver.close_on(|linkage, pose, row| {
                let frame = &linkage.hand.grips[grip];
                let Some(facing) = frame.facing else {
                    return f64::NAN;
                };
                let (at, to) = (pose.place(frame.at), pose.place(facing));
                let d = at - to;
                let length = d[0].hypot(d[1]);
                let u = d.map(|v| v / (length * linkage.size));
                linkage.add_gradient(pose, frame.at.body, at, u, row);
                linkage.add_gradient(pose, facing.body, to, -u, row);
                (length + linkage.hand.thickness - span - offset) / linkage.size
            }),
            Self::Way(direction, way) => solver.close_on(|linkage, pose, row| {
                let u = direction / linkage.size;
                let spot = linkage.hand.grips[0].at;
                let at = pose.place(spot);
                linkage.add_gradient(pose, spot.body, at, u, row);
                (at.dot(direction) - way - offset) / linkage.size
            }),
        }
    }
}

/// What the positions of the stroke are counted by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Pace {
    /// The handle's angle.
    Handle,
    /// The first grip's way along a direction.
    Way(Vec2),
}

impl Pace {
    pub(super) fn read(self, linkage: &Linkage, pose: &Pose) -> f64 {
        match self {
            Self::Handle => linkage.handle(&pose.q),
            Self::Way(direction) => pose.place(linkage.hand.grips[0].at).dot(direction),
        }
    }

    pub(super) fn held(self, linkage: &Linkage, pose: &Pose) -> Held {
        let value = self.read(linkage, pose);
        match self {
            Self::Handle => Held::Handle(value),
            Self::Way(direction) => Held::Way(direction, value),
        }
    }
}

/// A position on the nominal tool, from which every sample starts.
#[derive(Debug, Clone)]
pub(super) struct Station {
    /// What defines it.
    pub(super) held: Held,
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
    /// vector in the axes of [`Linkage::play_axes`]; `None` where the joint carries nothing.
    pub(super) pushed: Vec<Option<Vec2>>,
}

impl Station {
    /// The position at which `rig` stands, the tool held at a grip.
    pub(super) fn here(rig: &mut Rig, held: Held, grip: GripId, plan: &Plan) -> Self {
        let pushed = pushed(rig, grip, plan);
        let sense = rig.stance().sense;
        let solver = rig.solver();
        Self {
            held,
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
        }
    }
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

/// The directions in which load takes up the play: against the force by the carrier, under the
/// hand force that the work needs here, or the tool's where there is no work.
fn pushed(rig: &mut Rig, grip: GripId, plan: &Plan) -> Vec<Option<Vec2>> {
    let tool = rig.tool();
    rig.ask_for(Some(grip), Answers::All);
    rig.set_hand_force(tool.hand.force);
    rig.solve();
    let mut loaded = !rig.forces().toggle[0];
    if loaded && tool.work.is_some() {
        match rig.forces().needed(grip) {
            Some(Answer::Moves { force, .. }) if force > 0.0 => {
                rig.set_hand_force(force);
                rig.solve();
            }
            _ => loaded = false,
        }
        loaded = loaded && rig.work().is_some_and(|work| work > 0.0);
    }
    let (linkage, pose) = (&*rig.solver().linkage, &rig.solver().pose);
    let directions = plan.clearances.iter().map(|&(joint, _)| {
        let [x, y] = rig.forces().pin(joint, grip)?.xy();
        let size = x.hypot(y);
        let axes = &pose.frames[linkage.play_axes(joint)];
        (loaded && size > 1e-9).then(|| axes.own_direction(Vec2::new(-x / size, -y / size)))
    });
    let directions = directions.collect();
    rig.set_hand_force(tool.hand.force);
    rig.ask_for_all();
    directions
}
