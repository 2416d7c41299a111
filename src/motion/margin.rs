//! What is left of the motion beyond shut.

use super::events::{Event, Happening};
use super::path::Waypoint;
use super::targets::Survey;
use crate::model::JawId;
use crate::numeric::follow::End;

/// How far a tool is from the nearest place beyond shut that no stroke may pass: a toggle of the first jaw,
/// a dead position of the handle, a change point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// What stands there.
    pub what: Happening,
    /// Where on the path.
    pub spot: Waypoint,
    /// Handle angle from shut to it, rad.
    pub handle: f64,
    /// What the gap of the first jaw closes on the way, mm.
    pub gap: f64,
}

impl Survey {
    /// The margin beyond shut; `None` where the motion meets nothing of the kind.
    #[must_use]
    pub fn margin(&self) -> Option<Margin> {
        let forth = self.open.before(self.shut);
        let ends = |event: &&Event| event.ends_strokes(JawId::FIRST);
        let beyond = |event: &&Event| {
            let behind = if forth {
                event.spot.before(self.shut)
            } else {
                self.shut.before(event.spot)
            };
            event.ends_strokes(JawId::FIRST) && !behind
        };
        let next = match forth {
            true => self.events.iter().find(beyond),
            false => self.events.iter().rfind(beyond),
        };
        // A closed motion goes on at its other end.
        let closed = self.path.ends.contains(&End::Closed);
        let round = self.handles.last().zip(self.handles.first());
        let round = round.map_or(0.0, |(last, first)| last - first);
        let (event, turn) = match next {
            Some(event) => (event, 0.0),
            None if closed && forth => (self.events.iter().find(ends)?, round),
            None if closed => (self.events.iter().rfind(ends)?, -round),
            None => return None,
        };
        let [_, shut] = self.ends;
        Some(Margin {
            what: event.what,
            spot: event.spot,
            handle: (event.handle + turn - shut.handle).abs(),
            gap: shut.gap - event.gap,
        })
    }
}
