//! Where the motion beyond shut comes to a toggle or a dead position.

use super::Collector;
use crate::model::{At, GripId, JawId};
use crate::motion::Happening;
use crate::statics::LocateError;
use crate::tolerance::anchor::{Anchor, Pace};
use crate::tolerance::brink::Brink;

impl Collector<'_, '_> {
    /// Looks for the place beyond shut, once; `false` where made tools cannot be followed to it.
    pub(super) fn has_brink(&mut self) -> Result<bool, LocateError> {
        if self.brink.is_none() {
            self.brink = self.find_brink()?;
        }
        Ok(self.brink.is_some())
    }

    fn find_brink(&mut self) -> Result<Option<Brink>, LocateError> {
        let Some(margin) = self.rig.margin() else {
            return Ok(None);
        };
        let dead = match margin.what {
            Happening::Toggle(JawId::FIRST) => false,
            Happening::Dead => true,
            _ => return Ok(None),
        };
        if !matches!(self.pace, Pace::Handle) {
            return Ok(None);
        }
        let (shut, _) = self.station(At::Shut, GripId::FIRST, None)?;
        let Some(mut station) = self.stations.get(shut).cloned() else {
            return Ok(None);
        };
        let mut solver = self.rig.solver().clone();
        let path = &self.rig.survey().path;
        let Some(tangent) = path.stand(&mut solver, margin.spot) else {
            return Ok(None);
        };
        let linkage = &solver.linkage;
        station.anchor = match dead {
            true => match linkage.jaws.first() {
                Some(jaw) => Anchor::gap(linkage.gap(&solver.pose, jaw)),
                None => return Ok(None),
            },
            false => Anchor::handle(linkage.handle(&solver.pose.q)),
        };
        station.tangent = tangent;
        station.q.copy_from_slice(&solver.pose.q);
        // Nothing tells two sides of it apart.
        (station.closing, station.positive) = (0.0, None);
        station.sides = None;
        Ok(Some(Brink {
            station,
            dead,
            shut,
            turn: self.turn,
        }))
    }
}
