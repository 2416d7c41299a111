//! Strength factors: that of the drawn tool, and where and by which checks made tools are read.
//!
//! A made tool is read at both ends of its stroke, and where the checks that may be its weakest have
//! their worst on the drawn one: at the same gap, where a peak of the work stays, and a smooth worst is off
//! by the square of how far it moves. Left out is where it is far from its weakest.

use super::{Collector, stroke_error};
use crate::analysis::FAR;
use crate::analysis::MadePlates;
use crate::measure::Reading;
use crate::model::{At, GripId};
use crate::statics::{Absent, locate};
use crate::tolerance::error::StudyError;

/// Places nearer than this share of the stroke are read as one.
const SAME: f64 = 0.02;
/// A place within this share of the stroke of where its gap is found is that place.
const FOUND: f64 = 1e-6;

impl Collector<'_, '_> {
    /// The least factor of the drawn tool over the stroke at these grips, of everything or of a part or pin;
    /// `among`: the stations at which made tools are read, with their courses.
    pub(super) fn safety(
        &mut self,
        name: Option<&str>,
        grips: &[GripId],
        among: &mut Vec<(usize, usize)>,
    ) -> Result<Reading, StudyError> {
        let asked = self.safeties.ask(self.rig, name, grips);
        let Some((least, places)) = asked.map_err(StudyError::Failure)? else {
            return Ok(Err(Absent::NoFactor));
        };
        for (&grip, places) in grips.iter().zip(&places) {
            let stations = self.strained(places, grip)?;
            let mut made = MadePlates::default();
            let course = self.course(grip).map_err(stroke_error)?;
            for (pace, station) in stations {
                let mut stand = self.rig.at(pace)?;
                let here = self.safeties.at(&mut stand, name, grip, &mut made);
                if here.is_ok_and(|here| here <= FAR * least) {
                    among.push((station, course));
                }
            }
        }
        Ok(Ok(least))
    }

    /// Stations at both ends of the stroke, and at these places (pace, gap) between them, with their paces.
    fn strained(
        &mut self,
        places: &[(f64, f64)],
        grip: GripId,
    ) -> Result<Vec<(f64, usize)>, StudyError> {
        let end = self.rig.pace();
        let mut ends = vec![(0.0, At::Open)];
        // Where dies meet before, there is no force at shut.
        if end >= self.rig.whole() {
            ends.push((end, At::Shut));
        }
        let mut stations = Vec::new();
        for (pace, at) in ends {
            let (station, _) = self.station(at, grip, None).map_err(stroke_error)?;
            stations.push((pace, station));
        }
        for &(pace, gap) in places {
            if (stations.iter()).any(|(known, _)| (pace - known).abs() < SAME * end) {
                continue;
            }
            let at = At::Gap(gap);
            // A gap that the jaw passes twice is looked for where it comes first.
            let found = locate(self.rig, at, grip);
            if found.is_ok_and(|found| (found - pace).abs() <= FOUND * end) {
                let station = self.station(at, grip, None);
                stations.extend(station.ok().map(|(station, _)| (pace, station)));
            }
        }
        Ok(stations)
    }
}
