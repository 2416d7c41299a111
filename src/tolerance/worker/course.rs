//! The stroke of one sampled tool.

use super::{Play, Worker};
use crate::tolerance::course::{Course, Run};
use crate::tolerance::fate::Fate;

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

    /// Pace and gap at a station.
    pub(in crate::tolerance) fn stood(&self, station: usize) -> Result<(f64, f64), Fate> {
        let stood = self.stood.get(station).copied();
        stood.unwrap_or(Err(Fate::NotAssembled))
    }
}
