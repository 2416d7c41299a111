//! Numbers that are watched along the motion.

use super::solver::Solver;
use crate::geometry::Vec2;
use crate::mechanism::{JawFrame, JointFrame, Linkage};
use crate::model::{GripId, JawId, JointId, StopId, Target};

/// A number read at a position, given the unit tangent of the motion there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Signal {
    /// Gap of a jaw, mm.
    Gap(JawId),
    /// Its change along the motion; zero where the jaw stands still, and at contact of a jaw
    /// without a stated axis.
    GapRate(JawId),
    /// Distance of the faces of a stop, mm.
    Stop(StopId),
    /// Its change along the motion, as of a gap.
    StopRate(StopId),
    /// Handle angle, rad.
    Handle,
    /// Its change along the motion; zero where the handle stands still.
    HandleRate,
    /// Grip span, mm.
    Span(GripId),
    /// Its change along the motion.
    SpanRate(GripId),
    /// How much of the curved face of a cam is left, mm; below zero beyond its end.
    Face(JointId),
    /// Place of the first grip along a direction, mm.
    Shift(Vec2),
    /// Speed of the handle at the first grip along a direction, as the other handle sees it.
    HandRate(Vec2),
}

impl Signal {
    /// The signal that a target speaks of.
    #[must_use]
    pub fn of(linkage: &Linkage, target: Target) -> Self {
        match target {
            Target::Gap(_, jaw) => Self::Gap(jaw),
            Target::Stop(stop) => Self::Stop(stop),
            Target::Handle(_) => Self::Handle,
            Target::Span(_, grip) => Self::Span(linkage.target_grip(grip)),
        }
    }

    /// The signal whose zeros are the extremes of this one.
    #[must_use]
    pub fn rate(self) -> Option<Self> {
        match self {
            Self::Gap(jaw) => Some(Self::GapRate(jaw)),
            Self::Stop(stop) => Some(Self::StopRate(stop)),
            Self::Handle => Some(Self::HandleRate),
            Self::Span(grip) => Some(Self::SpanRate(grip)),
            _ => None,
        }
    }

    /// Its value at the solver's pose. NaN if it does not exist there.
    #[must_use]
    pub fn read(self, solver: &Solver, tangent: &[f64]) -> f64 {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        match self {
            Self::Gap(jaw) => linkage.gap(pose, &linkage.jaws[jaw]),
            Self::GapRate(jaw) => distance_rate(solver, &linkage.jaws[jaw], tangent),
            Self::Stop(stop) => linkage.gap(pose, &linkage.stops[stop].faces),
            Self::StopRate(stop) => distance_rate(solver, &linkage.stops[stop].faces, tangent),
            Self::Handle => linkage.handle(&pose.q),
            Self::HandleRate => along(linkage, tangent, |row| linkage.handle_row(row)),
            Self::Span(grip) => linkage.span(pose, grip).unwrap_or(f64::NAN),
            Self::SpanRate(grip) => {
                let frame = &linkage.hand.grips[grip];
                let Some(facing) = frame.facing else {
                    return f64::NAN;
                };
                let (at, to) = (pose.place(frame.at), pose.place(facing));
                let offset = (at - to) / linkage.size;
                along(linkage, tangent, |row| {
                    linkage.add_gradient(pose, frame.at.body, at, offset, row);
                    linkage.add_gradient(pose, facing.body, to, -offset, row);
                })
            }
            Self::Face(joint) => match &linkage.joints[joint] {
                JointFrame::Cam(cam) => cam.face_left(pose).unwrap_or(f64::NAN),
                _ => f64::NAN,
            },
            Self::Shift(direction) => pose.place(linkage.hand.grips[0].at).dot(direction),
            Self::HandRate(direction) => hand_velocity(solver, tangent).dot(direction),
        }
    }
}

/// Change of the distance of two points along the motion.
fn distance_rate(solver: &Solver, frame: &JawFrame, tangent: &[f64]) -> f64 {
    let (linkage, pose) = (&*solver.linkage, &solver.pose);
    match frame.axis {
        Some(_) => linkage.jaw_axis(pose, frame).map_or(f64::NAN, |axis| {
            along(linkage, tangent, |row| {
                linkage.add_gap_gradient(pose, frame, axis, row)
            })
        }),
        // d/ds of half the squared distance: smooth through contact.
        None => {
            let offset = linkage.jaw_offset(pose, frame) / linkage.size;
            along(linkage, tangent, |row| {
                linkage.add_gap_gradient(pose, frame, offset, row)
            })
        }
    }
}

/// Velocity of the handle at the first grip, as the other handle sees it, where the solver stands.
pub(super) fn hand_velocity(solver: &Solver, tangent: &[f64]) -> Vec2 {
    let (linkage, pose) = (&*solver.linkage, &solver.pose);
    let grip = linkage.hand.grips[0].at;
    let place = pose.place(grip);
    let speed = |way: Vec2| {
        along(linkage, tangent, |row| {
            linkage.add_gradient(pose, grip.body, place, way, row);
            if let Some(against) = linkage.hand.against {
                linkage.add_gradient(pose, against, place, -way, row);
            }
        })
    };
    Vec2::new(speed(Vec2::X), speed(Vec2::Y))
}

/// A gradient times the tangent.
fn along(linkage: &Linkage, tangent: &[f64], add: impl FnOnce(&mut [f64])) -> f64 {
    let mut row = vec![0.0; linkage.coordinates];
    add(&mut row);
    row.iter().zip(tangent).map(|(g, t)| g * t).sum()
}
