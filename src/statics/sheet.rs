//! The free-body sheet of one load case: every force on every part, as plain data.

use crate::geometry::Vec2;
use crate::model::{JawId, JointId, Numbered, PartId, StopId};

/// What exerts a force. Indices are those of the tool's lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ForceKind {
    /// A joint: index into [`crate::model::Tool::all_joints`], for a pin that into
    /// [`crate::model::Tool::joints`].
    Joint(JointId),
    /// The hand, on the handle that the fingers close.
    Hand,
    /// The hand, on the other handle.
    Opposite,
    /// The palm: the opposite of a push that is not across, on the part that takes it.
    Palm,
    /// The bench, on the fixed part of a tool that stands on one, where the file says where.
    Bench,
    /// The work: index into [`crate::model::Tool::jaws`].
    Jaw(JawId),
    /// A stop: index into [`crate::model::Tool::stops`].
    Stop(StopId),
    /// A spring: index into [`crate::model::Tool::springs`].
    Spring(usize),
    /// The pawl of the ratchet, as it goes over the teeth.
    Pawl,
}

/// One force on one part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointForce {
    /// What exerts it.
    pub what: ForceKind,
    /// Where it acts, in the tool's axes, mm.
    pub at: Vec2,
    /// The same place in the part's own axes, mm.
    pub local: Vec2,
    /// The force on the part, in the tool's axes, N.
    pub force: Vec2,
    /// A moment on the part that comes with it (friction of a pin, a key, a spring about a pin, a palm off the push's
    /// line),
    /// N mm, counter-clockwise positive. The moment of `force` itself is not in it.
    pub moment: f64,
}

/// Every force on every part at one position, one grip and one hand force.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    /// For each part, the fixed one too: the forces on it.
    pub part_forces: Vec<Vec<PointForce>>,
    /// For each part: cosine and sine of the angle of its axes in the tool's axes.
    pub turn: Vec<Vec2>,
}

impl Numbered<PartId> for Vec<PointForce> {}

impl Sheet {
    /// The same sheet of a tool that does not face `jaw`: the work, which is at the first jaw of the one that
    /// does, is at that jaw.
    #[must_use]
    pub fn with_work_at(mut self, jaw: JawId) -> Self {
        for force in self.part_forces.iter_mut().flatten() {
            if force.what == ForceKind::Jaw(JawId::FIRST) {
                force.what = ForceKind::Jaw(jaw);
            }
        }
        self
    }

    /// The same sheet of the tool whose stop this is, where it is read off the one that has the stop for its
    /// first jaw.
    #[must_use]
    pub(super) fn with_stop(mut self, stop: StopId) -> Self {
        for force in self.part_forces.iter_mut().flatten() {
            if let ForceKind::Jaw(jaw) = force.what {
                force.what = match jaw.index().checked_sub(1) {
                    None => ForceKind::Stop(stop),
                    Some(before) => ForceKind::Jaw(JawId::new(before)),
                };
            }
        }
        self
    }

    /// A sheet of `parts` parts, none of them turned or loaded.
    #[must_use]
    pub fn new(parts: usize) -> Self {
        Self {
            part_forces: vec![Vec::new(); parts],
            turn: vec![Vec2::X; parts],
        }
    }

    /// Adds a force on a part that stands unturned at the tool's origin, so that its axes are the
    /// tool's: for loads written down by hand.
    #[must_use]
    pub fn with(
        mut self,
        part: PartId,
        what: ForceKind,
        at: impl Into<Vec2>,
        force: impl Into<Vec2>,
    ) -> Self {
        let (at, force) = (at.into(), force.into());
        if let Some(forces) = self.part_forces.get_mut(part.index()) {
            forces.push(PointForce {
                what,
                at,
                local: at,
                force,
                moment: 0.0,
            });
        }
        self
    }

    /// The forces on a part; none if there is no such part.
    #[must_use]
    pub fn on(&self, part: PartId) -> &[PointForce] {
        self.part_forces
            .get(part.index())
            .map_or(&[], Vec::as_slice)
    }

    /// Sum of the forces on a part (N) and of their moments about a place (N mm), all in the
    /// tool's axes.
    #[must_use]
    pub fn sum(&self, part: PartId, about: Vec2) -> (Vec2, f64) {
        let mut sum = (Vec2::ZERO, 0.0);
        for f in self.on(part) {
            let arm = f.at - about;
            sum.0[0] += f.force[0];
            sum.0[1] += f.force[1];
            sum.1 += arm[0] * f.force[1] - arm[1] * f.force[0] + f.moment;
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_forces_and_moments() {
        let mut sheet = Sheet::new(2)
            .with(PartId::new(1), ForceKind::Hand, [100.0, 0.0], [0.0, -50.0])
            .with(
                PartId::new(1),
                ForceKind::Joint(JointId::new(0)),
                [0.0, 0.0],
                [0.0, 50.0],
            )
            .with(PartId::new(7), ForceKind::Hand, [0.0, 0.0], [1.0, 1.0]);
        sheet.part_forces[1][1].moment = 5000.0;
        assert_eq!(
            sheet.sum(PartId::new(1), Vec2::new(30.0, 4.0)),
            (Vec2::ZERO, 0.0)
        );
        assert_eq!(
            sheet.sum(PartId::FIRST, Vec2::new(0.0, 0.0)),
            (Vec2::ZERO, 0.0)
        );
        assert!(
            sheet.on(PartId::new(7)).is_empty(),
            "a part that does not exist carries nothing"
        );
    }
}
