//! The ends of the stroke, as samples have them.

use super::Collector;
use crate::mechanism::{JawFrame, JointFrame};
use crate::model::{At, FixedBy, GripId, JawId, Met, StopEnd, StopId, Target};
use crate::statics::LocateError;
use crate::tolerance::anchor::Anchor;
use crate::tolerance::course::Course;
use crate::tolerance::place::Station;

impl Collector<'_, '_> {
    /// The ends of the stroke with the tool held at a grip.
    pub(in crate::tolerance) fn course(&mut self, grip: GripId) -> Result<usize, LocateError> {
        let known = self.courses.iter().position(|c| c.grip == grip);
        if let Some(known) = known {
            return Ok(known);
        }
        let (open, _) = self.station(At::Open, grip, None)?;
        let (shut, meets) = match self.rig.meets() {
            Some(Met::Dies(JawId::FIRST)) if self.has_axis_where_dies_meet()? => {
                let gap = self.here(Anchor::gap(0.0), grip);
                (self.station(At::Shut, grip, None)?.0, Some(gap))
            }
            Some(Met::Dies(_) | Met::Face(_)) => (self.end(grip)?, None),
            Some(Met::Stop(stop)) => (
                self.station(At::Stop(stop), grip, None)?.0,
                self.might_meet(grip)?,
            ),
            None => (
                self.station(At::Shut, grip, None)?.0,
                self.might_meet(grip)?,
            ),
        };
        let whole = match self.rig.meets() {
            Some(_) => self.rig.at(self.rig.whole())?.gap(JawId::FIRST),
            None => None,
        };
        let nominal = [self.pace_at(0.0)?, self.pace_at(self.rig.pace())?];
        let stops = self.stops(shut, grip);
        let face = self.face(grip);
        self.courses.push(Course {
            grip,
            open,
            shut,
            meets,
            stops,
            face,
            whole,
            nominal,
        });
        Ok(self.courses.len() - 1)
    }

    /// What positions are counted by, so far on the stroke of the nominal tool.
    fn pace_at(&mut self, pace: f64) -> Result<f64, LocateError> {
        self.rig.go_to(pace)?;
        let solver = self.rig.solver();
        Ok(self.pace.read(&solver.linkage, &solver.pose))
    }

    /// Stands where the dies meet; whether the jaw has a direction there in which to look for the gap.
    fn has_axis_where_dies_meet(&mut self) -> Result<bool, LocateError> {
        self.rig.go_to(self.rig.pace())?;
        let solver = self.rig.solver();
        let jaw = solver.linkage.jaws.first();
        Ok(jaw.is_some_and(|jaw| solver.linkage.jaw_axis(&solver.pose, jaw).is_some()))
    }

    /// Where the dies of the first jaw meet on tools that are off their dimensions, although they do not
    /// on the tool as it is drawn. A shut that is a gap is where it is.
    fn might_meet(&mut self, grip: GripId) -> Result<Option<Station>, LocateError> {
        self.rig.go_to(0.0)?;
        let dies = self.rig.forces().gap.first().is_some_and(|gap| *gap > 0.0);
        let stopped = matches!(self.rig.meets(), Some(Met::Stop(_)));
        let by_gap = matches!(self.rig.tool().stroke.shut, Target::Gap(_, JawId::FIRST));
        if !dies || (by_gap && !stopped) || !self.has_axis_where_dies_meet()? {
            return Ok(None);
        }
        Ok(Some(self.here(Anchor::gap(0.0), grip)))
    }

    /// Where stops, and dies of further jaws that are apart there, are met on tools that are off their dimensions, from
    /// where the rig stands at the end of the stroke; not the stop that defines the end.
    fn stops(&mut self, shut: usize, grip: GripId) -> Vec<Station> {
        let end = self.stations.get(shut);
        let own = end.and_then(|end| end.anchor.by());
        let apart = end.map_or(&[][..], |end| &end.apart);
        let solver = self.rig.solver();
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let has_axis = |faces: &JawFrame| linkage.jaw_axis(pose, faces).is_some();
        let stops = StopId::each(&linkage.stops).filter(|(stop, frame)| {
            let other = own != Some(FixedBy::Stop(*stop));
            frame.ends == StopEnd::Shut && other && has_axis(&frame.faces)
        });
        let further = JawId::each(&linkage.jaws).skip(1).zip(apart);
        let dies = further.filter(|((_, frame), apart)| **apart && has_axis(frame));
        let anchors: Vec<Anchor> = (stops.map(|(stop, _)| Anchor::stop(stop)))
            .chain(dies.map(|((jaw, _), _)| Anchor::gap_of(jaw, 0.0)))
            .collect();
        let place = |anchor| self.here(anchor, grip);
        anchors.into_iter().map(place).collect()
    }

    /// The station where the rig stands at the end of the stroke, by its pace, if a cam has a face that may end before.
    fn face(&mut self, grip: GripId) -> Option<Station> {
        let solver = self.rig.solver();
        let joints = &solver.linkage.joints;
        let curved = |joint: &JointFrame| matches!(joint, JointFrame::Cam(cam) if cam.is_curved());
        let any = joints.iter().any(curved);
        let anchor = self.pace.anchor(&solver.linkage, &solver.pose);
        any.then(|| self.here(anchor, grip))
    }

    /// The station where the dies of a jaw meet on the tool as it is drawn.
    fn end(&mut self, grip: GripId) -> Result<usize, LocateError> {
        self.rig.go_to(self.rig.pace())?;
        let solver = self.rig.solver();
        let anchor = self.pace.anchor(&solver.linkage, &solver.pose);
        let end = self.here(anchor, grip);
        self.stations.push(end);
        Ok(self.stations.len() - 1)
    }

    /// A station where the rig stands, defined by `anchor`.
    pub(in crate::tolerance) fn here(&mut self, anchor: Anchor, grip: GripId) -> Station {
        Station::here(self.rig, anchor, grip, self.plan)
    }
}
