//! Rates of hand and jaws at a position, and the virtual-work ratio that follows from them.

use crate::geometry::Vec2;
use crate::mechanism::{GROUND, Linkage, Pose, Push, Rates, Spot};
use crate::model::{JawId, PartId};
use crate::motion::{Solver, Survey, Waypoint};
use std::sync::Arc;

/// A jaw whose closing rate is below this (over the tool's size and the length of the tangent)
/// stands still: a toggle. At this rate the ratio is about a million; nearer to the toggle,
/// rounding would spoil the agreement of the two routes.
const STANDS_STILL: f64 = 1e-6;

impl Rates {
    /// Reads the closing motion from a solver that stands at a position; `sense` is that of
    /// [`crate::motion::Stance`].
    #[inline]
    pub fn read(&mut self, solver: &Solver, sense: f64) {
        self.set(&solver.linkage, &solver.pose, solver.tangent(), sense);
    }

    /// Power of a hand force of 1 N.
    #[inline]
    #[must_use]
    pub fn hand_power(&self, pose: &Pose, push: &Push) -> f64 {
        let mut v = self.of(pose, push.body, push.place);
        if let Some((body, place)) = push.opposite {
            v -= self.of(pose, body, place);
        }
        push.direction.dot(v)
    }

    /// Opening direction of a jaw and its closing rate, mm. At contact of a jaw without a stated
    /// axis, the direction is the limit from the open side: against the motion.
    #[inline]
    #[must_use]
    pub fn jaw(&self, linkage: &Linkage, pose: &Pose, jaw: JawId) -> (Vec2, f64) {
        let frame = &linkage.jaws[jaw];
        let on = pose.place(frame.on);
        let v = self.of(pose, frame.on.body, on) - self.of(pose, frame.against.body, on);
        if let Some(axis) = linkage.jaw_axis(pose, frame) {
            return (axis, -axis.dot(v));
        }
        let speed = (v[0] * v[0] + v[1] * v[1]).sqrt();
        if speed > 0.0 {
            (-v / speed, speed)
        } else {
            (Vec2::ZERO, 0.0)
        }
    }

    /// Whether a closing rate is that of a jaw at a toggle.
    #[inline]
    #[must_use]
    pub fn stands_still(&self, linkage: &Linkage, rate: f64) -> bool {
        rate.abs() <= STANDS_STILL * linkage.size * self.length()
    }
}

/// For each grip, the side (+1 or −1) on which a square push does positive work from open to
/// shut: decided once for the whole stroke, by the grip's way across the handle, as the part in the
/// palm sees it.
#[must_use]
pub fn closing_senses(solver: &mut Solver, survey: &Survey) -> Vec<f64> {
    let linkage = Arc::clone(&solver.linkage);
    let (low, high, sense) = if survey.open.before(survey.shut) {
        (survey.open, survey.shut, 1.0)
    } else {
        (survey.shut, survey.open, -1.0)
    };
    let mut spots = vec![low];
    spots.extend((low.node + 1..=high.node).map(|node| Waypoint { node, ahead: 0.0 }));
    spots.push(high);
    let mut work = vec![0.0; linkage.hand.grips.len()];
    let mut before: Option<Vec<(Spot, Vec2)>> = None;
    for spot in spots {
        if survey.path.stand(solver, spot).is_none() {
            continue;
        }
        let now: Vec<_> = linkage
            .hand
            .grips
            .iter()
            .map(|g| {
                let place = solver.pose.place(g.at);
                let direction = linkage.push_direction(&solver.pose, g, 1.0);
                (place, seen_from(&linkage, &solver.pose, place), direction)
            })
            .collect();
        if let Some(old) = before {
            for (k, (p, _, u)) in now.iter().enumerate() {
                let (from, before) = old[k];
                let mean = [0.5 * (u[0] + before[0]), 0.5 * (u[1] + before[1])];
                let from = solver.pose.place(from);
                work[k] += sense * (*p - from).dot(mean.into());
            }
        }
        before = Some(now.into_iter().map(|(_, from, u)| (from, u)).collect());
    }
    work.iter()
        .map(|&w| if w < 0.0 { -1.0 } else { 1.0 })
        .collect()
}

/// A place as a point of the part in the palm, or of the fixed one where there is none.
fn seen_from(linkage: &Linkage, pose: &Pose, place: Vec2) -> Spot {
    let fixed = || {
        linkage
            .bodies
            .iter()
            .position(|b| b.angle == GROUND)
            .map(PartId::new)
    };
    let palm = linkage.hand.palm.as_ref().map(|palm| palm.body);
    let body = palm.or_else(fixed).unwrap_or(PartId::FIRST);
    let arm = pose.frames[body].own_place(place);
    Spot { body, arm }
}
