//! Where every body stands for given coordinates.

use super::{GROUND, Linkage, ROOT, Spot};
use crate::geometry::{Frame, Vec2};
use crate::model::PartId;
use crate::numeric::Touch;
use crate::numeric::angle::wrapped;
use std::sync::Mutex;

/// A set of coordinates and what follows from it: where every body stands.
#[derive(Debug, Clone)]
pub struct Pose {
    /// Coordinates: angles in rad, positions over the tool's size.
    pub q: Vec<f64>,
    /// Where each body's axes stand, with its entry (see [`super::Body`]) as origin.
    pub frames: Vec<Frame>,
    /// How many times in a row turns were carried on by series.
    carried: u32,
    /// Where the curved face of each cam was touched last: it is asked for many times at one position.
    pub(super) touched: Vec<Memo>,
}

/// Where a curved face was touched, and by what the place was found: which face, and from where in its axes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Touched {
    pub(super) face: u64,
    pub(super) from: [f64; 2],
    pub(super) touch: Touch,
}

/// What was found last. Never waited for: a pose that several threads read may have to look again.
#[derive(Debug, Default)]
pub(super) struct Memo(Mutex<Option<Touched>>);

impl Clone for Memo {
    fn clone(&self) -> Self {
        Self(Mutex::new(self.get()))
    }
}

impl Memo {
    #[inline]
    pub(super) fn get(&self) -> Option<Touched> {
        self.0.try_lock().ok().and_then(|known| *known)
    }

    #[inline]
    pub(super) fn set(&self, touched: Touched) {
        if let Ok(mut known) = self.0.try_lock() {
            *known = Some(touched);
        }
    }
}

impl crate::model::Numbered<PartId> for Frame {}

/// Turn (rad) below which a step is taken by series: the terms left out are then below 1e-17.
const SMALL_TURN: f64 = 0.01;
/// Steps by series after which cosines and sines are made afresh, so that rounding cannot add up.
const FRESH_AFTER: u32 = 32;

/// Cosine and sine of a small angle by their series.
#[inline]
fn small_turn(d: f64) -> Vec2 {
    let s = d * d;
    Vec2::new(
        1.0 - s * (0.5 - s * (1.0 / 24.0 - s / 720.0)),
        d * (1.0 - s * (1.0 / 6.0 - s * (1.0 / 120.0 - s / 5040.0))),
    )
}

/// The small angle of this sine, by its series.
#[inline]
fn small_angle(s: f64) -> f64 {
    let q = s * s;
    s * (1.0 + q * (1.0 / 6.0 + q * (3.0 / 40.0 + q * (15.0 / 336.0))))
}

impl Pose {
    /// The pose of `linkage` at its sketched coordinates.
    #[must_use]
    pub fn new(linkage: &Linkage) -> Self {
        let bodies = linkage.bodies.len();
        let mut pose = Self {
            q: linkage.sketch.clone(),
            frames: vec![Frame::UNMOVED; bodies],
            carried: 0,
            touched: vec![Memo::default(); linkage.joints.len()],
        };
        pose.update(linkage);
        pose
    }

    /// Sets the coordinates and everything that follows.
    pub fn set(&mut self, linkage: &Linkage, q: &[f64]) {
        self.q.copy_from_slice(q);
        self.update(linkage);
    }

    /// Brings turns and entries up to date with `q`.
    #[inline]
    pub fn update(&mut self, linkage: &Linkage) {
        self.carried = 0;
        for &b in &linkage.order {
            self.frames[b].turn = Vec2::unit(self.q[linkage.bodies[b].angle]);
        }
        self.place_entries(linkage);
    }

    /// Moves the coordinates by `step` and brings the rest up to date: small turns by their
    /// series, which spares the trigonometry.
    #[inline]
    pub fn shift(&mut self, linkage: &Linkage, step: &[f64]) {
        for (q, d) in self.q.iter_mut().zip(step) {
            *q += d;
        }
        if self.carried >= FRESH_AFTER || step.iter().any(|d| d.abs() > SMALL_TURN) {
            return self.update(linkage);
        }
        self.carried += 1;
        for &b in &linkage.order {
            let turn = small_turn(step[linkage.bodies[b].angle]);
            self.frames[b].turn = self.frames[b].turn.turned(turn);
        }
        self.place_entries(linkage);
    }

    /// Brings places and coordinates up to date with turns, and places of bodies that slide, that have been set.
    /// Angles are carried on from those they had where turns
    /// have hardly changed, which `before` gives; else, and from time to time, they are taken within
    /// half a turn of `near`.
    pub fn follow_turns(&mut self, linkage: &Linkage, before: &[Vec2], near: &[f64]) {
        let fresh = self.carried >= FRESH_AFTER;
        self.carried = if fresh { 0 } else { self.carried + 1 };
        for (&b, before) in linkage.order.iter().zip(before) {
            let body = &linkage.bodies[b];
            let turn = self.frames[b].turn;
            let by = turn.turned_back(*before);
            let (q, near) = (&mut self.q[body.angle], near[body.angle]);
            let little = by[1].abs() < SMALL_TURN && by[0] > 0.0;
            *q = if !fresh && little && (*q - near).abs() < 1.0 {
                *q + small_angle(by[1])
            } else {
                near + wrapped(turn[1].atan2(turn[0]) - near)
            };
            if body.parent == ROOT {
                let place = self.frames[b].origin;
                for k in 0..2 {
                    self.q[body.slide + k] = place[k] / linkage.size;
                }
            } else {
                self.frames[b].origin = self.frames[body.parent].place(body.exit);
            }
        }
    }

    #[inline]
    fn place_entries(&mut self, linkage: &Linkage) {
        for &b in &linkage.order {
            let body = &linkage.bodies[b];
            self.frames[b].origin = if body.parent == ROOT {
                Vec2::new(self.q[body.slide], self.q[body.slide + 1]) * linkage.size
            } else {
                self.frames[body.parent].place(body.exit)
            };
        }
    }

    /// From the entry of a spot's body to the spot, mm.
    #[inline]
    #[must_use]
    pub fn arm(&self, spot: Spot) -> Vec2 {
        self.frames[spot.body].direction(spot.arm)
    }

    /// Place of a spot, mm.
    #[inline]
    #[must_use]
    pub fn place(&self, spot: Spot) -> Vec2 {
        self.frames[spot.body].place(spot.arm)
    }

    /// Angle of a body, rad, as its coordinate says (not reduced to one turn).
    #[inline]
    #[must_use]
    pub fn angle(&self, linkage: &Linkage, body: PartId) -> f64 {
        match linkage.bodies[body].angle {
            GROUND => 0.0,
            coordinate => self.q[coordinate],
        }
    }
}

impl Linkage {
    /// Adds to `row` the gradient of `weight · P` by the coordinates, where P is the point of
    /// `body` that stands at `place` now. The same numbers are the generalised force of a force
    /// `weight` at that point (N mm for angles).
    #[inline]
    pub fn add_gradient(
        &self,
        pose: &Pose,
        body: PartId,
        place: Vec2,
        weight: Vec2,
        row: &mut [f64],
    ) {
        let mut b = body;
        let mut at = place;
        while self.bodies[b].angle != GROUND {
            let frame = &self.bodies[b];
            let entry = pose.frames[b].origin;
            row[frame.angle] += (at[0] - entry[0]) * weight[1] - (at[1] - entry[1]) * weight[0];
            if frame.parent == ROOT {
                row[frame.slide] += weight[0] * self.size;
                row[frame.slide + 1] += weight[1] * self.size;
                return;
            }
            at = entry;
            b = frame.parent;
        }
    }

    /// Adds `value` at the angle coordinate of `body`, if it has one.
    #[inline]
    pub fn add_angle(&self, body: PartId, value: f64, row: &mut [f64]) {
        let angle = self.bodies[body].angle;
        if angle != GROUND {
            row[angle] += value;
        }
    }
}
