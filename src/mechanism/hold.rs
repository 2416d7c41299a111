//! Where the hand and the work touch the linkage: handle angle, grips, jaws, and their gradients.

use super::{GROUND, Linkage, PalmFrame, Pose, Spot};
use crate::geometry::Vec2;
use crate::model::{GripId, JawId, PartId, StopEnd, StopId};

/// The hand on the linkage.
#[derive(Debug, Clone)]
pub struct HandFrame {
    /// Body that carries the handle.
    pub body: PartId,
    /// Body that carries the other handle, if there is one.
    pub against: Option<PartId>,
    /// Angle of the handle's chord in its body's axes, rad.
    pub chord: f64,
    /// One entry for each grip of the tool, then one for each further place along the handle at
    /// which a span is asked for.
    pub grips: Vec<GripFrame>,
    /// Distance along the line of each of `grips`, mm.
    pub distances: Vec<f64>,
    /// How many of `grips` are the tool's.
    pub held: usize,
    /// Direction of the hand force.
    pub push: PushFrame,
    /// The part in the palm; `None` for a push across, and for a tool on a bench.
    pub palm: Option<PalmFrame>,
    /// Thickness added to the centre-line distance, mm.
    pub thickness: f64,
}

/// One grip.
#[derive(Debug, Clone, Copy)]
pub struct GripFrame {
    /// The grip on the handle's centre line.
    pub at: Spot,
    /// Direction of the centre line there, in the body's axes, away from the pivot end.
    pub along: Vec2,
    /// The facing point of the other handle.
    pub facing: Option<Spot>,
}

/// A hand force of 1 N at a grip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Push {
    /// The body that is pushed.
    pub body: PartId,
    /// Where, mm.
    pub place: Vec2,
    /// Its direction, a unit vector.
    pub direction: Vec2,
    /// The body that takes its opposite and a place on the line of action, see
    /// [`Linkage::opposite`].
    pub opposite: Option<(PartId, Vec2)>,
}

/// The opposite of the hand force, on the part that takes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reaction {
    /// The body.
    pub body: PartId,
    /// Where it acts, mm.
    pub at: Vec2,
    /// The moment that comes with it where it cannot act on the push's own line, N mm.
    pub couple: f64,
}

/// Direction of the hand force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PushFrame {
    /// Towards the facing point.
    Across,
    /// At right angles to the handle.
    Square,
    /// Fixed: cosine and sine.
    Fixed(Vec2),
}

/// A jaw.
#[derive(Debug, Clone, Copy)]
pub struct JawFrame {
    /// The point that the work pushes along +axis.
    pub on: Spot,
    /// The point it works against.
    pub against: Spot,
    /// Opening direction in `against`'s axes: cosine and sine; `None`: along the line between
    /// the points.
    pub axis: Option<Vec2>,
    /// Subtracted from the distance, mm.
    pub closed: f64,
}

/// A stop: its faces stand as the two points of a jaw do.
#[derive(Debug, Clone, Copy)]
pub struct StopFrame {
    /// The faces.
    pub faces: JawFrame,
    /// Which end of the stroke it is for.
    pub ends: StopEnd,
}

impl Push {
    /// No push at all.
    pub const NONE: Self = Self {
        body: PartId::FIRST,
        place: Vec2::ZERO,
        direction: Vec2::ZERO,
        opposite: None,
    };
}

impl crate::model::Numbered<GripId> for GripFrame {}
impl crate::model::Numbered<JawId> for JawFrame {}
impl crate::model::Numbered<StopId> for StopFrame {}

impl Linkage {
    /// The grip at which a span target is read: that distance along the line, or the
    /// first grip.
    #[must_use]
    pub fn target_grip(&self, distance: Option<f64>) -> GripId {
        distance
            .and_then(|d| self.hand.distances.iter().position(|&other| other == d))
            .map_or(GripId::FIRST, GripId::new)
    }

    /// Handle angle at coordinates `q`, rad: it is linear in them, with the row of
    /// [`Linkage::handle_row`].
    #[inline]
    #[must_use]
    pub fn handle(&self, q: &[f64]) -> f64 {
        let angle = |body: PartId| match self.bodies[body].angle {
            GROUND => 0.0,
            coordinate => q[coordinate],
        };
        angle(self.hand.body) + self.hand.chord - self.hand.against.map_or(0.0, angle)
    }

    /// Gradient of the handle angle by the coordinates.
    pub fn handle_row(&self, row: &mut [f64]) {
        row.fill(0.0);
        self.add_angle(self.hand.body, 1.0, row);
        if let Some(against) = self.hand.against {
            self.add_angle(against, -1.0, row);
        }
    }

    /// Grip span, mm: centre-line distance plus thickness. `None` without a second handle.
    #[must_use]
    pub fn span(&self, pose: &Pose, grip: GripId) -> Option<f64> {
        let frame = self.hand.grips.get(grip.index())?;
        let d = pose.place(frame.at) - pose.place(frame.facing?);
        Some(d.length() + self.hand.thickness)
    }

    /// Direction of the hand force at a grip, a unit vector. `sense` (+1 or −1) picks the side
    /// for a square push.
    #[inline]
    #[must_use]
    pub fn push_direction(&self, pose: &Pose, frame: &GripFrame, sense: f64) -> Vec2 {
        match (self.hand.push, frame.facing) {
            (PushFrame::Across, Some(facing)) => {
                let d = pose.place(facing) - pose.place(frame.at);
                let length = (d[0] * d[0] + d[1] * d[1]).sqrt();
                if length > 0.0 {
                    d / length
                } else {
                    Vec2::new(0.0, 0.0)
                }
            }
            (PushFrame::Fixed(direction), _) => direction,
            _ => {
                let along = pose.frames[self.hand.body].direction(frame.along);
                Vec2::new(-along[1] * sense, along[0] * sense)
            }
        }
    }

    /// The hand force of 1 N at a grip. `sense` as for [`Linkage::push_direction`].
    #[inline]
    #[must_use]
    pub fn push(&self, pose: &Pose, grip: GripId, sense: f64) -> Push {
        let frame = &self.hand.grips[grip];
        Push {
            body: frame.at.body,
            place: pose.place(frame.at),
            direction: self.push_direction(pose, frame, sense),
            opposite: self.opposite(pose, frame),
        }
    }

    /// The body that takes the opposite of the hand force at a grip, and a place on its line of action;
    /// `None`: nothing of the tool takes it.
    #[inline]
    #[must_use]
    pub fn opposite(&self, pose: &Pose, frame: &GripFrame) -> Option<(PartId, Vec2)> {
        match (self.hand.push, frame.facing) {
            (PushFrame::Across, Some(facing)) => Some((facing.body, pose.place(facing))),
            _ => (self.hand.palm.as_ref()).map(|palm| (palm.body, pose.place(frame.at))),
        }
    }

    /// Where the opposite of a hand force (N) at a grip acts.
    #[must_use]
    pub fn reaction(&self, pose: &Pose, frame: &GripFrame, hand: Vec2) -> Option<Reaction> {
        let (body, at) = self.opposite(pose, frame)?;
        let size = hand.length();
        let Some(palm) = self.hand.palm.as_ref().filter(|_| size > 0.0) else {
            let couple = 0.0;
            return Some(Reaction { body, at, couple });
        };
        let (frame, entry) = (&pose.frames[body], self.bodies[body].entry);
        let way = frame.own_direction(hand / size);
        let (local, meets) = palm.place(frame.own_place(at) + entry, way);
        let met = pose.place(self.spot(body, local));
        Some(Reaction {
            body,
            at: met,
            couple: if meets { 0.0 } else { (met - at).cross(hand) },
        })
    }

    /// Adds the generalised force of a hand force of 1 N at a grip to `row`, N mm.
    #[inline]
    pub fn add_hand_force(&self, pose: &Pose, frame: &GripFrame, sense: f64, row: &mut [f64]) {
        let u = self.push_direction(pose, frame, sense);
        self.add_gradient(pose, frame.at.body, pose.place(frame.at), u, row);
        if let Some((body, place)) = self.opposite(pose, frame) {
            self.add_gradient(pose, body, place, -u, row);
        }
    }

    /// From the jaw's `against` point to its `on` point, mm.
    #[inline]
    #[must_use]
    pub fn jaw_offset(&self, pose: &Pose, jaw: &JawFrame) -> Vec2 {
        pose.place(jaw.on) - pose.place(jaw.against)
    }

    /// Opening direction of a jaw, a unit vector in the tool's axes. `None` where the default
    /// axis does not exist: at contact, when the two points coincide.
    #[inline]
    #[must_use]
    pub fn jaw_axis(&self, pose: &Pose, jaw: &JawFrame) -> Option<Vec2> {
        if let Some(axis) = jaw.axis {
            return Some(pose.frames[jaw.against.body].direction(axis));
        }
        let d = self.jaw_offset(pose, jaw);
        let length = (d[0] * d[0] + d[1] * d[1]).sqrt();
        (length > CONTACT * self.size).then(|| d / length)
    }

    /// Gap of a jaw, mm.
    #[inline]
    #[must_use]
    pub fn gap(&self, pose: &Pose, jaw: &JawFrame) -> f64 {
        let d = self.jaw_offset(pose, jaw);
        match jaw.axis {
            Some(axis) => d.dot(pose.frames[jaw.against.body].direction(axis)) - jaw.closed,
            None => d.length() - jaw.closed,
        }
    }

    /// Adds the gradient of the gap by the coordinates, for a jaw whose opening direction is
    /// `axis` now. It is also the generalised force of a jaw force of 1 N: on the `on` part along
    /// +axis, on the `against` part along −axis, both at the `on` point.
    #[inline]
    pub fn add_gap_gradient(&self, pose: &Pose, jaw: &JawFrame, axis: Vec2, row: &mut [f64]) {
        let on = pose.place(jaw.on);
        self.add_gradient(pose, jaw.on.body, on, axis, row);
        self.add_gradient(pose, jaw.against.body, on, -axis, row);
    }
}

/// Below this distance over the tool's size the two points of a jaw count as touching.
pub(crate) const CONTACT: f64 = 1e-7;
