//! What keeps a sampled tool from going on: stops, dies of further jaws, the ends of cams' faces.

use super::Worker;
use crate::mechanism::StopFrame;
use crate::model::{FixedBy, StopEnd, StopId};
use crate::tolerance::course::Run;
use crate::tolerance::fate::Fate;
use crate::tolerance::place::Station;
use crate::tolerance::target::Kind;

impl Worker<'_> {
    /// Whether the tool, where it stands, is past what ends the stroke there: a stop other than one that the place is
    /// defined by; at shut the dies of a further jaw that are apart on the tool as it is drawn, and the end of a cam's face.
    pub(super) fn is_past(&self, end: StopEnd, station: &Station, near: f64) -> bool {
        let (linkage, pose) = (&*self.solver.linkage, &self.solver.pose);
        let own = station.anchor.by();
        let mut stops = StopId::each(&linkage.stops).filter(|(_, stop)| stop.ends == end);
        let stop = |(stop, frame): (StopId, &StopFrame)| {
            own != Some(FixedBy::Stop(stop)) && linkage.gap(pose, &frame.faces) < -near
        };
        let further = self.forces.gap.iter().skip(1).zip(&station.apart);
        let mut dies = further.filter(|(gap, apart)| **apart && **gap < -near);
        let shut = end == StopEnd::Shut;
        stops.any(stop) || shut && (dies.next().is_some() || self.face_left() < -near)
    }

    /// Takes away the peaks of what the work asks of the hand where a stroke ends before the work is done: little force
    /// is no good news there. `near`: gaps that are the same, mm.
    pub(super) fn cut_short(
        &self,
        runs: &[Result<Run, Fate>],
        near: f64,
        out: &mut [Result<f64, Fate>],
    ) {
        let setup = self.setup;
        let Some(work) = self.tool.work() else { return };
        for (target, out) in setup.targets.iter().zip(out.iter_mut()) {
            let Kind::Sweep { sweep, sense, .. } = target.kind else {
                continue;
            };
            let asked = sense > 0.0 && target.measure.is_asked_of_the_hand();
            let course = setup.sweeps.get(sweep).map(|sweep| sweep.course);
            let run = course.and_then(|k| runs.get(k)?.ok()).filter(|_| asked);
            if out.is_ok() && run.is_some_and(|run| run.is_short(work, near)) {
                *out = Err(Fate::Stopped);
            }
        }
    }
}
