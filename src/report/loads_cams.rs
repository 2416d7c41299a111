//! Cams in the report of `loads`.

use super::loads::CamReport;
use super::show::Shown;
use crate::analysis::CaseLoads;
use crate::geometry::Vec2;
use crate::model::{Cam, CamFace, Follower, Joint, JointId};
use crate::numeric::Face;
use crate::scene::place;
use crate::statics::ForceKind;
use crate::units::Quantity;

impl Shown<'_> {
    pub(super) fn cams(&self, case: &CaseLoads) -> Vec<CamReport> {
        let joints = self.tool.all_joints().enumerate();
        joints
            .filter_map(|(k, joint)| match joint {
                Joint::Cam(index, cam) => self.cam(case, JointId::new(k), (index, cam)),
                Joint::Pin(..) | Joint::Slot(..) | Joint::Gears(..) => None,
            })
            .collect()
    }

    /// The cam pushes square to its face, or to the flat.
    fn cam(
        &self,
        case: &CaseLoads,
        joint: JointId,
        (index, cam): (usize, &Cam),
    ) -> Option<CamReport> {
        let what = ForceKind::Joint(joint);
        let force = self.force_of(case, cam.pushes.part, what)?;
        let along = match cam.follower {
            Follower::Roller(_) => {
                let on = self.force_of(case, cam.part, what)?;
                let out = match &cam.face {
                    CamFace::Disc { centre, .. } => {
                        on.local - Vec2::from(place(self.tool, cam.part, *centre)?)
                    }
                    CamFace::Curve(points) => {
                        Face::through(points)?.nearest(on.local.xy()).out.into()
                    }
                };
                let turn = *case.sheet.turn.get(cam.part.index())?;
                out.turned(turn)
            }
            Follower::Flat { angle, side } => {
                let turn = *case.sheet.turn.get(cam.pushes.part.index())?;
                let along = Vec2::unit(angle).turned(turn) * side;
                Vec2::new(along[1], -along[0])
            }
        };
        let along = along / along.length();
        let right = Vec2::new(along[1], -along[0]);
        Some(CamReport {
            cam: cam.label(index),
            on: self.part(cam.pushes.part),
            by: self.part(cam.part),
            angle: self.show(along.angle(), Quantity::Angle),
            normal: self.show(force.force.dot(along), Quantity::Force),
            friction: self.show(force.force.dot(right), Quantity::Force),
            rolls: matches!(cam.follower, Follower::Roller(_)),
        })
    }
}
