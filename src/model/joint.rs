//! All joints of a tool as one list, whatever their kind.

use super::{JointId, PartId, PinJoint, Place, PointRef, Slot, Tool};

/// A joint of a tool, with its index in the list of its kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Joint<'a> {
    /// One of [`Tool::joints`].
    Pin(JointId, &'a PinJoint),
    /// One of [`Tool::slots`].
    Slot(usize, &'a Slot),
}

/// What a joint looks like, in the axes of its parts, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Look<'a> {
    /// A hole with a pin in it.
    Hole {
        /// What is written at it.
        name: &'a str,
        /// The part that has it.
        of: PartId,
        /// Its centre.
        at: Option<[f64; 2]>,
        /// Diameter of the pin, where the file states one.
        diameter: Option<f64>,
    },
    /// A straight way.
    Way(Way),
}

/// A straight way of one part, along which a point of another rides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Way {
    /// The point that rides.
    pub rider: PointRef,
    /// The part that has the way.
    pub on: PartId,
    /// A place that its centre line passes.
    pub through: Option<[f64; 2]>,
    /// Direction of the centre line: cosine and sine.
    pub along: [f64; 2],
    /// The rider may not turn in it.
    pub keyed: bool,
    /// Length of a keyed rider's guide, where the file states one.
    pub guide: Option<f64>,
}

impl Tool {
    /// All joints: the pins, in the order of [`Tool::joints`], so that the index of a pin is that of
    /// its joint; then the other kinds.
    pub fn all_joints(&self) -> impl Iterator<Item = Joint<'_>> {
        let pins = JointId::each(&self.joints);
        let slots = self.slots.iter().enumerate();
        pins.map(|(k, pin)| Joint::Pin(k, pin))
            .chain(slots.map(|(k, slot)| Joint::Slot(k, slot)))
    }

    /// A joint of [`Tool::all_joints`].
    #[must_use]
    pub fn joint(&self, id: JointId) -> Option<Joint<'_>> {
        self.all_joints().nth(id.index())
    }
}

impl<'a> Joint<'a> {
    /// The two parts that it joins: the carrier or the slotted one, then the later one or the rider.
    #[must_use]
    pub fn parts(self) -> [PartId; 2] {
        match self {
            Self::Pin(_, pin) => [pin.carrier, pin.part],
            Self::Slot(_, slot) => [slot.on, slot.rider.part],
        }
    }

    /// The places on each of the two parts that decide where it is.
    #[must_use]
    pub fn places(self) -> [Place; 2] {
        match self {
            Self::Pin(_, pin) => [
                Place::Point(pin.carrier_point),
                Place::Point(pin.part_point),
            ],
            Self::Slot(_, slot) => [slot.through, Place::Point(slot.rider.point)],
        }
    }

    /// Whether friction acts in it.
    #[must_use]
    pub fn rubs(self, tool: &Tool) -> bool {
        match self {
            Self::Pin(k, _) => {
                let data = tool.joint_data.get(k.index());
                data.is_some_and(|d| d.diameter.is_some() && d.friction > 0.0)
            }
            Self::Slot(_, slot) => slot.friction > 0.0,
        }
    }

    /// What it is called: `pin knee`, `slot of wrist`.
    #[must_use]
    pub fn name(self, tool: &Tool) -> String {
        match self {
            Self::Pin(k, _) => format!("pin {}", tool.joint_label(k)),
            Self::Slot(_, slot) => format!("slot of {}", point(tool, slot.rider)),
        }
    }

    /// What it looks like.
    #[must_use]
    pub fn look(self, tool: &'a Tool) -> Look<'a> {
        let at = |part: PartId, place: Place| tool.part(part)?.place(place);
        match self {
            Self::Pin(k, pin) => Look::Hole {
                name: &pin.pin,
                of: pin.carrier,
                at: at(pin.carrier, Place::Point(pin.carrier_point)),
                diameter: tool
                    .joint_data
                    .get(k.index())
                    .and_then(|data| data.diameter),
            },
            Self::Slot(_, slot) => {
                let (sin, cos) = slot.angle.sin_cos();
                Look::Way(Way {
                    rider: slot.rider,
                    on: slot.on,
                    through: at(slot.on, slot.through),
                    along: [cos, sin],
                    keyed: slot.keyed.is_some(),
                    guide: slot.keyed.and(slot.width),
                })
            }
        }
    }

    /// Its two sides, for a sentence on how far they stay apart.
    #[must_use]
    pub fn sides(self, tool: &Tool) -> String {
        let part = |part: PartId| tool.part(part).map_or("", |p| p.name.as_str());
        match self {
            Self::Pin(_, pin) => format!(
                "pin `{}` of `{}` and pin `{}` of `{}`",
                pin.pin,
                part(pin.carrier),
                pin.pin,
                part(pin.part)
            ),
            Self::Slot(_, slot) => format!(
                "`{}` of `{}` and its slot on `{}`",
                point(tool, slot.rider),
                part(slot.rider.part),
                part(slot.on)
            ),
        }
    }
}

fn point(tool: &Tool, at: PointRef) -> &str {
    let part = tool.part(at.part);
    part.and_then(|p| p.points.get(at.point))
        .map_or("", |p| p.name.as_str())
}
