//! The motion beyond the open end of the stroke, as far as the linkage and its stops let it open.

use super::meets::{MEETS, reached};
use super::path::Waypoint;
use super::signal::Signal;
use super::solver::Solver;
use super::targets::Survey;
use crate::model::{JawId, StopEnd, StopId};
use crate::numeric::follow::End;

/// The way from open on, away from shut: to where a stop is met, the jaw that closes on the stroke or the handle stands still,
/// the linkage may go two ways, or the motion ends or comes round to shut.
#[derive(Debug, Clone, Copy)]
pub struct Beyond<'s> {
    survey: &'s Survey,
    /// Along the path, from the assembled position, as [`Survey::lengths`].
    from: f64,
    /// Signed: the path may run the other way.
    length: f64,
}

impl Survey {
    /// The motion beyond open, whose `lead` is the jaw that closes on the stroke. `solver` may stand anywhere.
    #[must_use]
    pub fn beyond(&self, solver: &mut Solver, lead: JawId) -> Beyond<'_> {
        let place = |spot: Waypoint| self.lengths.get(spot.node).map_or(0.0, |l| l + spot.ahead);
        let (from, shut) = (place(self.open), place(self.shut));
        let sense = if shut > from { -1.0 } else { 1.0 };
        let (first, last) = (self.lengths.first(), self.lengths.last());
        let ends = [first, last].map(|end| end.copied().unwrap_or(from));
        let mut most = sense * (ends[usize::from(sense > 0.0)] - from);
        if self.path.ends == [End::Closed; 2] {
            // Both halves go all round.
            most = most.min(0.5 * (ends[1] - ends[0]) - (shut - from).abs());
        }
        let stops = self.events.iter().filter(|event| event.ends_strokes(lead));
        let ahead = stops.map(|event| sense * (place(event.spot) - from));
        let length = ahead.filter(|ahead| *ahead > 0.0).fold(most, f64::min);
        let met = self.open_stops(solver).into_iter();
        let met = met.map(|spot| sense * (place(spot) - from));
        let length = met.fold(length, f64::min);
        Beyond {
            survey: self,
            from,
            length: sense * length.max(0.0),
        }
    }
}

impl Survey {
    /// Where stops are met that keep the tool from opening farther: at open, or beyond it.
    fn open_stops(&self, solver: &mut Solver) -> Vec<Waypoint> {
        let stops: Vec<StopId> = StopId::each(&solver.linkage.stops)
            .filter(|(_, stop)| stop.ends == StopEnd::Open)
            .map(|(stop, _)| stop)
            .collect();
        let near = MEETS * solver.linkage.size;
        let met = stops.into_iter().filter_map(|stop| {
            let tangent = self.path.stand(solver, self.open)?;
            match Signal::Stop(stop).read(solver, &tangent) <= near {
                true => Some(self.open),
                false => reached(solver, self, Signal::Stop(stop), true),
            }
        });
        met.collect()
    }
}

impl Beyond<'_> {
    /// The linkage opens beyond open at all.
    #[must_use]
    pub fn is_some(&self) -> bool {
        self.length != 0.0
    }

    /// Stands `solver` at a share of the way (0: open). Gives the handle angle there, rad; `None` where the loops
    /// cannot be closed.
    pub fn stand(&self, solver: &mut Solver, share: f64) -> Option<f64> {
        let at = self.from + share * self.length;
        let lengths = &self.survey.lengths;
        let last = lengths.len().checked_sub(2)?;
        let node = lengths
            .partition_point(|l| *l <= at)
            .saturating_sub(1)
            .min(last);
        let within = (at - lengths[node]) / (lengths[node + 1] - lengths[node]);
        let spot = Waypoint {
            node,
            ahead: within * self.survey.path.reach(node),
        };
        let tangent = self.survey.path.stand(solver, spot)?;
        Some(Signal::Handle.read(solver, &tangent) - self.survey.turns_off)
    }
}
