//! Sliding joints and springs in the report of `loads`.

use super::loads::{SlotReport, SpringReport};
use super::show::Shown;
use crate::analysis::CaseLoads;
use crate::model::{Joint, JointId, PointRef, Slot, SlotLine, Spring, SpringEnds};
use crate::scene::place;
use crate::statics::ForceKind;
use crate::units::Quantity;

impl Shown<'_> {
    pub(super) fn slots(&self, case: &CaseLoads) -> Vec<SlotReport> {
        let joints = self.tool.all_joints().enumerate();
        joints
            .filter_map(|(k, joint)| match joint {
                Joint::Slot(_, slot) => self.slot(case, JointId::new(k), slot),
                Joint::Pin(..) | Joint::Cam(..) | Joint::Gears(..) => None,
            })
            .collect()
    }

    /// The normal stands at (−sin a, cos a) to a centre line at angle a, which of an arc is taken such that
    /// it points away from the centre. An edge force at the end further along turns with the key's moment.
    fn slot(&self, case: &CaseLoads, joint: JointId, slot: &Slot) -> Option<SlotReport> {
        let force = self.force_of(case, slot.rider.part, ForceKind::Joint(joint))?;
        let turn = case.sheet.turn.get(slot.on.index())?;
        let angle = match slot.line {
            SlotLine::Straight { angle, .. } => turn[1].atan2(turn[0]) + angle,
            SlotLine::Arc { centre, .. } => {
                let from = case.sheet.on(slot.on).iter();
                let on = from.clone().find(|f| f.what == ForceKind::Joint(joint))?;
                let centre = place(self.tool, slot.on, centre)?;
                let [x, y] = [on.local[0] - centre[0], on.local[1] - centre[1]];
                turn[1].atan2(turn[0]) + (-x).atan2(y)
            }
        };
        let (sin, cos) = angle.sin_cos();
        let [x, y] = force.force.xy();
        let normal = y * cos - x * sin;
        let edges = slot.keyed.and(slot.width).map(|width| {
            let share = force.moment / width;
            self.pair(
                [0.5 * normal + share, 0.5 * normal - share],
                Quantity::Force,
            )
        });
        let moment = |_| self.show(force.moment, Quantity::Torque);
        let radius = match slot.line {
            SlotLine::Straight { .. } => None,
            SlotLine::Arc { radius, .. } => Some(self.show(radius, Quantity::Length)),
        };
        Some(SlotReport {
            point: self.point_name(slot.rider),
            on: self.part(slot.rider.part),
            by: self.part(slot.on),
            angle: self.show(sin.atan2(cos), Quantity::Angle),
            radius,
            rolls: slot.roller.is_some(),
            normal: self.show(normal, Quantity::Force),
            friction: self.show(x * cos + y * sin, Quantity::Force),
            key_moment: slot.keyed.map(moment),
            edges,
        })
    }

    pub(super) fn springs(&self, case: &CaseLoads) -> Vec<SpringReport> {
        let springs = self.tool.springs.iter().enumerate();
        springs
            .filter_map(|(k, spring)| self.spring(case, k, spring))
            .collect()
    }

    fn spring(&self, case: &CaseLoads, index: usize, spring: &Spring) -> Option<SpringReport> {
        let on = |part| self.force_of(case, part, ForceKind::Spring(index));
        let mut report = SpringReport {
            spring: index + 1,
            between: String::new(),
            length: None,
            force: None,
            moment: None,
        };
        match spring.ends {
            SpringEnds::Points(from, to) => {
                let (a, b) = (on(from.part)?, on(to.part)?);
                let d = [b.at[0] - a.at[0], b.at[1] - a.at[1]];
                let length = d[0].hypot(d[1]);
                report.between = format!("{} and {}", self.full_name(from), self.full_name(to));
                report.length = Some(self.show(length, Quantity::Length));
                report.force = (length > 0.0).then(|| {
                    let pull = (a.force[0] * d[0] + a.force[1] * d[1]) / length;
                    self.show(pull, Quantity::Force)
                });
            }
            SpringEnds::Pin { first, second } => {
                let moment = on(second)?.moment;
                report.between = format!(
                    "{} and {}, about their pin",
                    self.part(first),
                    self.part(second)
                );
                report.moment = Some(self.show(moment, Quantity::Torque));
            }
        }
        Some(report)
    }

    fn point_name(&self, at: PointRef) -> String {
        let part = self.tool.part(at.part);
        part.and_then(|p| p.points.get(at.point))
            .map_or_else(String::new, |p| p.name.clone())
    }

    fn full_name(&self, at: PointRef) -> String {
        format!("{}.{}", self.part(at.part), self.point_name(at))
    }
}
