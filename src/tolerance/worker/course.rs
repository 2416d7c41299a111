//! The stroke of one sampled tool.

use super::{Play, Worker};
use crate::mechanism::JointFrame;
use crate::numeric::root::root;
use crate::tolerance::course::{Course, Run};
use crate::tolerance::fate::Fate;

/// Share of the stroke by which the first step back from its end goes, when the end of a face is looked for: one in so many.
const FIRST_STEP: u32 = 64;
/// How closely that is found, over the stroke.
const NEAR: f64 = 1e-12;

impl Worker<'_> {
    /// The stroke of the sampled tool, whose stations have been visited.
    pub(in crate::tolerance) fn run(
        &mut self,
        course: &Course,
        deviations: &[f64],
        play: Play,
    ) -> Result<Run, Fate> {
        let open = self.stood(course.open)?;
        let shut = self.stood(course.shut)?;
        let (mut end, mut cut) = (shut, course.whole);
        if let Some(meets) = course.meets.as_ref().filter(|_| end.1 < 0.0) {
            let none = std::iter::empty();
            let pace = self.visit(meets, 0.0, deviations, play, none, &mut Vec::new())?;
            end = (pace, 0.0);
        }
        if self.past.get(course.shut) == Some(&true) {
            // Dies that meet before are an end already.
            let mut known = end != shut;
            for stop in &course.stops {
                let none = std::iter::empty();
                let met = self.visit(stop, 0.0, deviations, play, none, &mut Vec::new());
                let gap = self.forces.gap.first().copied();
                let share = |pace: f64| (pace - open.0) / (end.0 - open.0);
                if let Some((pace, gap)) = met.ok().zip(gap).filter(|met| share(met.0) < 1.0) {
                    end = (pace, gap);
                    known = true;
                }
            }
            if let Some(left) = self.leaves_face(course, [open.0, end.0], deviations, play) {
                end = left;
                known = true;
            }
            if !known {
                return Err(Fate::Stopped);
            }
            cut = cut.or(Some(shut.1));
        }
        Ok(Run {
            paces: [open.0, end.0],
            gaps: [open.1, end.1],
            cut,
        })
    }

    /// Pace and gap where the contact comes to the end of a cam's face, if it is beyond that at the last of these paces.
    fn leaves_face(
        &mut self,
        course: &Course,
        [open, end]: [f64; 2],
        deviations: &[f64],
        play: Play,
    ) -> Option<(f64, f64)> {
        let station = course.face.as_ref().filter(|_| self.setup.faces)?;
        let mut left = |pace: f64| {
            let (offset, none) = (pace - course.nominal[1], std::iter::empty());
            let stood = self.visit(station, offset, deviations, play, none, &mut Vec::new());
            let gap = self.forces.gap.first().copied();
            stood.ok().and(gap).map(|gap| (self.face_left(), gap))
        };
        let mut beyond = (left(end)?.0 < 0.0).then_some(end)?;
        // It is near to the end, as a rule: steps back from there, each twice the last.
        let mut back = (end - open) / f64::from(FIRST_STEP);
        let on = loop {
            let pace = beyond - back;
            if (pace - open) * (end - open) < 0.0 {
                return None;
            }
            if left(pace)?.0 >= 0.0 {
                break pace;
            }
            (beyond, back) = (pace, 2.0 * back);
        };
        let near = NEAR * (end - open).abs();
        let pace = root(|pace| left(pace).map(|(left, _)| left), on, beyond, near)?;
        left(pace).map(|(_, gap)| (pace, gap))
    }

    /// How much of a cam's face is left where the tool stands, mm, of that which is nearest to its end; without end where
    /// none may be met.
    pub(super) fn face_left(&self) -> f64 {
        let (linkage, pose) = (&*self.solver.linkage, &self.solver.pose);
        let faces = linkage.joints.iter().filter_map(|joint| match joint {
            JointFrame::Cam(cam) if self.setup.faces && cam.is_curved() => cam.face_left(pose),
            _ => None,
        });
        faces.fold(f64::INFINITY, f64::min)
    }

    /// Pace and gap at a station.
    pub(in crate::tolerance) fn stood(&self, station: usize) -> Result<(f64, f64), Fate> {
        let stood = self.stood.get(station).copied();
        stood.unwrap_or(Err(Fate::NotAssembled))
    }
}
