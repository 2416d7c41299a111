//! What defines a position that sampled tools are brought to.

use crate::geometry::Vec2;
use crate::mechanism::{JawFrame, Linkage, Pose};
use crate::model::{At, Fixed, FixedBy, GripId, JawId, StopId, Target, Tool};
use crate::motion::Solver;

/// What keeps a tool at a position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Anchor {
    /// What a tool file fixes positions by, angles as [`Linkage::handle`] gives them; a span is read at
    /// the grip of the linkage (index).
    Fixed(Fixed, GripId),
    /// Place of the first grip along a direction, mm: for handles that slide.
    Way(Vec2, f64),
}

impl Anchor {
    /// A gap of the jaw in view, mm.
    pub(super) fn gap(value: f64) -> Self {
        Self::gap_of(JawId::FIRST, value)
    }

    /// A gap of a jaw, mm.
    pub(super) fn gap_of(jaw: JawId, value: f64) -> Self {
        let by = FixedBy::Gap(jaw);
        Self::Fixed(Fixed { by, value }, GripId::FIRST)
    }

    /// Where the faces of a stop meet.
    pub(super) fn stop(stop: StopId) -> Self {
        let by = FixedBy::Stop(stop);
        Self::Fixed(Fixed { by, value: 0.0 }, GripId::FIRST)
    }

    /// An angle of the handle, rad.
    pub(super) fn handle(value: f64) -> Self {
        let by = FixedBy::Handle;
        Self::Fixed(Fixed { by, value }, GripId::FIRST)
    }

    /// The handle's angle that the position is fixed by, if it is.
    pub(super) fn angle(self) -> Option<f64> {
        match self {
            Self::Fixed(fixed, _) if fixed.by == FixedBy::Handle => Some(fixed.value),
            _ => None,
        }
    }

    /// What the position is fixed by; `None` where the handle slides.
    pub(super) fn by(self) -> Option<FixedBy> {
        match self {
            Self::Fixed(fixed, _) => Some(fixed.by),
            Self::Way(..) => None,
        }
    }

    /// The definition of a position of the tool file; `grip` is the index that a span is read at.
    /// `None` for peak and least.
    pub(super) fn of(tool: &Tool, linkage: &Linkage, at: At, grip: GripId) -> Option<Self> {
        let end = |target: Target| match target {
            Target::Span(_, at) => (target.fixed(), linkage.target_grip(at)),
            Target::Gap(..) | Target::Handle(_) | Target::Stop(_) => (target.fixed(), grip),
        };
        let (fixed, grip) = match at {
            At::Open => end(tool.stroke.open),
            At::Shut => end(tool.stroke.shut),
            _ => (at.fixed()?, grip),
        };
        let spans = fixed.by == FixedBy::Span;
        Some(Self::Fixed(fixed, if spans { grip } else { GripId::FIRST }))
    }

    /// Closes the loops where the definition holds, moved on by `offset`, from the pose the solver
    /// stands in. `row` is the linkage's handle row.
    #[inline]
    pub(super) fn close(self, solver: &mut Solver, row: &[f64], offset: f64) -> bool {
        let (fixed, grip) = match self {
            Self::Fixed(fixed, grip) => (fixed, grip),
            Self::Way(direction, way) => return slid(solver, direction, way + offset),
        };
        let value = fixed.value + offset;
        match fixed.by {
            FixedBy::Handle => {
                solver.set_border(row);
                solver.close_from_pose(value - solver.linkage.hand.chord)
            }
            FixedBy::Gap(jaw) => solver.close_on(|linkage, pose, row| {
                apart(linkage, pose, &linkage.jaws[jaw], value, row)
            }),
            FixedBy::Stop(stop) => solver.close_on(|linkage, pose, row| {
                apart(linkage, pose, &linkage.stops[stop].faces, value, row)
            }),
            FixedBy::Turned(a, b) => solver.close_on(|linkage, pose, row| {
                linkage.add_angle(a, 1.0, row);
                linkage.add_angle(b, -1.0, row);
                pose.angle(linkage, a) - pose.angle(linkage, b) - value
            }),
            FixedBy::Span => solver.close_on(|linkage, pose, row| {
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
                (length + linkage.hand.thickness - value) / linkage.size
            }),
        }
    }
}

/// How far two points that stand against each other are from this distance, mm, over the tool's size, and its
/// gradient.
fn apart(linkage: &Linkage, pose: &Pose, frame: &JawFrame, value: f64, row: &mut [f64]) -> f64 {
    let Some(axis) = linkage.jaw_axis(pose, frame) else {
        return f64::NAN;
    };
    let scale = 1.0 / linkage.size;
    linkage.add_gap_gradient(pose, frame, axis * scale, row);
    (linkage.gap(pose, frame) - value) * scale
}

/// Closes the loops where the first grip has gone so far along a direction.
#[inline]
fn slid(solver: &mut Solver, direction: Vec2, way: f64) -> bool {
    solver.close_on(|linkage, pose, row| {
        let u = direction / linkage.size;
        let spot = linkage.hand.grips[0].at;
        let at = pose.place(spot);
        linkage.add_gradient(pose, spot.body, at, u, row);
        (at.dot(direction) - way) / linkage.size
    })
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

    pub(super) fn anchor(self, linkage: &Linkage, pose: &Pose) -> Anchor {
        let value = self.read(linkage, pose);
        match self {
            Self::Handle => Anchor::handle(value),
            Self::Way(direction) => Anchor::Way(direction, value),
        }
    }
}
