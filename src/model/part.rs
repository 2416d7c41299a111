//! Rigid parts, the points on them, and how parts are joined.

use super::{JointId, Numbered, PartId};

/// A rigid part, dimensioned in its own axes.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Unique name.
    pub name: String,
    /// Pins and marks, in file order (pins first).
    pub points: Vec<Point>,
    /// Where its dimensions come from, which decides what dimension addresses it has.
    pub shape: Shape,
    /// Rough place with the tool in the sketched position: `[x, y, angle]` of the part's origin
    /// and x axis in the fixed part's axes (mm, mm, rad). It picks the assembly, no more.
    pub sketch: [f64; 3],
}

impl Numbered<PartId> for Part {}
impl Numbered<JointId> for PinJoint {}

impl Part {
    /// Index of the pin or mark of that name.
    #[must_use]
    pub fn point_index(&self, name: &str) -> Option<usize> {
        self.points.iter().position(|point| point.name == name)
    }

    /// Index of the pin of that name.
    #[must_use]
    pub fn pin_index(&self, name: &str) -> Option<usize> {
        let is_it = |point: &Point| point.kind == PointKind::Pin && point.name == name;
        self.points.iter().position(is_it)
    }

    /// Coordinates (mm) of a place on the part, in its axes; `None` where it has no such point.
    #[must_use]
    pub fn place(&self, place: Place) -> Option<[f64; 2]> {
        match place {
            Place::At(at) => Some(at),
            Place::Point(point) => self.points.get(point).map(|point| point.at),
        }
    }
}

/// A named point of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Name, unique within the part.
    pub name: String,
    /// Place in the part's axes, mm.
    pub at: [f64; 2],
    /// Pin hole or mark.
    pub kind: PointKind,
}

/// What a point is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PointKind {
    /// A hole, shared with every other part that has a pin of the same name.
    Pin,
    /// Any other point worth a name.
    Mark,
}

/// How a part is dimensioned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// By the coordinates of its points: addresses `part.point.x` and `part.point.y`.
    Coordinates,
    /// A two-pin link by its length: address `part.length`; origin at the first pin, x towards
    /// the second.
    Length,
    /// By the sketch; its axes are the sketch's. Addresses as for coordinates.
    Sketch,
}

/// A point of a part, by the part's id and its index into [`Part::points`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PointRef {
    /// The part.
    pub part: PartId,
    /// Index of the point on that part.
    pub point: usize,
}

/// A place in a part's axes: a bare coordinate pair, or one of the part's named points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// Coordinates in the part's axes, mm.
    At([f64; 2]),
    /// Index of a point of the part, so that it follows when that dimension is changed.
    Point(usize),
}

/// A pin joint between the carrier of a pin (the first part in the file that has it) and one other
/// part.
#[derive(Debug, Clone, PartialEq)]
pub struct PinJoint {
    /// Name of the pin.
    pub pin: String,
    /// The carrier: the first part in the file that has this pin.
    pub carrier: PartId,
    /// Index of the pin among the carrier's points.
    pub carrier_point: usize,
    /// The later part. The force listed for the joint is the one on this part by the carrier.
    pub part: PartId,
    /// Index of the pin among that part's points.
    pub part_point: usize,
}

impl PinJoint {
    /// The point of each of its two parts: the carrier's, then the later one's.
    #[must_use]
    pub fn ends(&self) -> [PointRef; 2] {
        let (carrier, part) = (self.carrier, self.part);
        [(carrier, self.carrier_point), (part, self.part_point)]
            .map(|(part, point)| PointRef { part, point })
    }
}

/// The joints that common pin names make: one between the carrier of a pin, the first part that has
/// it, and each later one, in the order of the carriers and their pins.
#[must_use]
pub fn pin_joints(parts: &[Part]) -> Vec<PinJoint> {
    let mut joints = Vec::new();
    for (carrier, first) in PartId::each(parts) {
        let before = parts.get(..carrier.index()).unwrap_or(&[]);
        let after = PartId::each(parts).skip(carrier.index() + 1);
        for (carrier_point, pin) in first.points.iter().enumerate() {
            let carried = |part: &Part| part.pin_index(&pin.name).is_some();
            // A mark is no pin, and a name that the part has twice is the first of the two.
            if first.pin_index(&pin.name) != Some(carrier_point) || before.iter().any(carried) {
                continue;
            }
            joints.extend(after.clone().filter_map(|(part, other)| {
                Some(PinJoint {
                    pin: pin.name.clone(),
                    carrier,
                    carrier_point,
                    part,
                    part_point: other.pin_index(&pin.name)?,
                })
            }));
        }
    }
    joints
}

/// The name under which the loads of a joint are listed: the pin's name, or `pin:part` where three
/// or more parts share the pin. Empty without such a joint.
#[must_use]
pub fn joint_label(parts: &[Part], joints: &[PinJoint], joint: JointId) -> String {
    let Some(this) = joints.get(joint.index()) else {
        return String::new();
    };
    let shared = joints.iter().filter(|j| j.pin == this.pin).count() > 1;
    match parts.get(this.part.index()) {
        Some(part) if shared => format!("{}:{}", this.pin, part.name),
        _ => this.pin.clone(),
    }
}

impl PinJoint {
    /// Whether `part` is one of the two that it joins.
    #[must_use]
    pub fn touches(&self, part: PartId) -> bool {
        self.carrier == part || self.part == part
    }
}

/// A point of one part riding in a slot of another.
#[derive(Debug, Clone, PartialEq)]
pub struct Slot {
    /// Name, where the file gives one.
    pub name: Option<String>,
    /// The riding point.
    pub rider: PointRef,
    /// The part that has the slot.
    pub on: PartId,
    /// Its centre line, in `on`'s axes.
    pub line: SlotLine,
    /// `Some(turn)`: the riding part may not turn in the slot; its axes stand at `turn` (rad)
    /// against `on`'s axes. `None`: a pin in a slot. A keyed slot is straight.
    pub keyed: Option<f64>,
    /// Coefficient of friction along the slot, or of the roller on its pin.
    pub friction: f64,
    /// Guide length of a keyed slider along the slot, mm.
    pub width: Option<f64>,
    /// What rolls along the walls; `None`: the rider slides.
    pub roller: Option<Roller>,
    /// Index of the material of walls and roller, for the pressure between them.
    pub material: Option<usize>,
}

/// The centre line of a slot, in the axes of the part that has it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SlotLine {
    /// Straight.
    Straight {
        /// A place that it passes.
        through: Place,
        /// Its direction, rad.
        angle: f64,
    },
    /// An arc.
    Arc {
        /// Its centre.
        centre: Place,
        /// Its radius, mm.
        radius: f64,
    },
}

impl SlotLine {
    /// The place of the slotted part that it is dimensioned from.
    #[must_use]
    pub fn place(self) -> Place {
        match self {
            Self::Straight { through, .. } => through,
            Self::Arc { centre, .. } => centre,
        }
    }

    /// The same, to be changed.
    pub fn place_mut(&mut self) -> &mut Place {
        match self {
            Self::Straight { through, .. } => through,
            Self::Arc { centre, .. } => centre,
        }
    }

    /// Direction of a straight one, rad.
    #[must_use]
    pub fn angle(self) -> Option<f64> {
        match self {
            Self::Straight { angle, .. } => Some(angle),
            Self::Arc { .. } => None,
        }
    }
}

/// A roller that turns on a pin. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roller {
    /// Outer diameter.
    pub diameter: f64,
    /// Diameter of the pin that it turns on.
    pub pin: f64,
    /// Width of its rim.
    pub width: Option<f64>,
}

impl Roller {
    /// Friction along the face that it rolls on, for a force of 1 N on it: the moment of its pin,
    /// μ d/2, at the arm of its rim (balance of the roller).
    #[must_use]
    pub fn drag(&self, friction: f64) -> f64 {
        friction * self.pin / self.diameter
    }
}
