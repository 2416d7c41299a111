//! All joints of a tool as one list, whatever their kind.

use super::{
    Cam, Follower, Gears, JointId, PartId, PinJoint, Place, PointRef, Roller, Slot, SlotLine, Tool,
};

/// A joint of a tool, with its index in the list of its kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Joint<'a> {
    /// One of [`Tool::joints`].
    Pin(JointId, &'a PinJoint),
    /// One of [`Tool::slots`].
    Slot(usize, &'a Slot),
    /// One of [`Tool::cams`].
    Cam(usize, &'a Cam),
    /// One of [`Tool::gears`].
    Gears(usize, &'a Gears),
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
    /// A way along which a point rides.
    Way(Way),
    /// A cam and what it pushes on: the drawing asks the cam itself.
    Cam(&'a Cam),
    /// Teeth in mesh.
    Teeth,
}

/// A way of one part, along which a point of another rides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Way {
    /// The point that rides.
    pub rider: PointRef,
    /// The part that has the way.
    pub on: PartId,
    /// Its centre line.
    pub line: WayLine,
    /// The rider may not turn in it.
    pub keyed: bool,
    /// Length of a keyed rider's guide, where the file states one.
    pub guide: Option<f64>,
    /// Diameter of the roller that runs in it, where it has one.
    pub roller: Option<f64>,
}

/// The centre line of a way, in the axes of the part that has it, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WayLine {
    /// Straight.
    Straight {
        /// A place that it passes.
        through: [f64; 2],
        /// Its direction: cosine and sine.
        along: [f64; 2],
    },
    /// An arc.
    Arc {
        /// Its centre.
        centre: [f64; 2],
        /// Its radius.
        radius: f64,
    },
}

impl Tool {
    /// All joints: the pins, in the order of [`Tool::joints`], so that the index of a pin is that of
    /// its joint; then the other kinds.
    pub fn all_joints(&self) -> impl Iterator<Item = Joint<'_>> {
        let pins = JointId::each(&self.joints);
        let slots = self.slots.iter().enumerate();
        let cams = self.cams.iter().enumerate();
        let gears = self.gears.iter().enumerate();
        pins.map(|(k, pin)| Joint::Pin(k, pin))
            .chain(slots.map(|(k, slot)| Joint::Slot(k, slot)))
            .chain(cams.map(|(k, cam)| Joint::Cam(k, cam)))
            .chain(gears.map(|(k, gears)| Joint::Gears(k, gears)))
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
            Self::Cam(_, cam) => [cam.part, cam.pushes.part],
            Self::Gears(_, gears) => [gears.parts[1], gears.parts[0]],
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
            Self::Slot(_, slot) => [slot.line.place(), Place::Point(slot.rider.point)],
            Self::Cam(_, cam) => [cam.middle(), Place::Point(cam.pushes.point)],
            Self::Gears(_, gears) => [1, 0].map(|side: usize| Place::Point(gears.marks[side])),
        }
    }

    /// The roller of a slot or of what a cam pushes, and the point whose pin it turns on.
    #[must_use]
    pub fn roller(self) -> Option<(PointRef, Roller)> {
        match self {
            Self::Slot(_, slot) => Some((slot.rider, slot.roller?)),
            Self::Cam(_, cam) => match cam.follower {
                Follower::Roller(roller) => Some((cam.pushes, roller)),
                Follower::Flat { .. } => None,
            },
            Self::Pin(..) | Self::Gears(..) => None,
        }
    }

    /// Whether forces act in it that depend on its load: friction, and what presses gears apart.
    #[must_use]
    pub fn rubs(self, tool: &Tool) -> bool {
        match self {
            Self::Pin(k, _) => {
                let data = tool.joint_data.get(k.index());
                data.is_some_and(|d| d.diameter.is_some() && d.friction > 0.0)
            }
            Self::Slot(_, slot) => slot.friction > 0.0,
            // One looks at its force to see whether it pushes, with friction or without.
            Self::Cam(..) => true,
            Self::Gears(..) => true,
        }
    }

    /// What it is called: `pin knee`, `slot of wrist`, `teeth of mesh`.
    #[must_use]
    pub fn name(self, tool: &Tool) -> String {
        match self {
            Self::Pin(k, _) => format!("pin {}", tool.joint_label(k)),
            Self::Slot(_, slot) => match &slot.name {
                Some(name) => format!("slot {name}"),
                None => format!("slot of {}", point(tool, slot.rider)),
            },
            Self::Cam(k, cam) => format!("cam {}", cam.label(k)),
            Self::Gears(k, gears) => format!("teeth of {}", gears.label(k)),
        }
    }

    /// What it looks like; `None` where its place is one that the part does not have.
    #[must_use]
    pub fn look(self, tool: &'a Tool) -> Option<Look<'a>> {
        let at = |part: PartId, place: Place| tool.part(part)?.place(place);
        Some(match self {
            Self::Pin(k, pin) => Look::Hole {
                name: &pin.pin,
                of: pin.carrier,
                at: at(pin.carrier, Place::Point(pin.carrier_point)),
                diameter: tool
                    .joint_data
                    .get(k.index())
                    .and_then(|data| data.diameter),
            },
            Self::Cam(_, cam) => Look::Cam(cam),
            Self::Slot(_, slot) => Look::Way(Way {
                rider: slot.rider,
                on: slot.on,
                line: match slot.line {
                    SlotLine::Straight { through, angle } => WayLine::Straight {
                        through: at(slot.on, through)?,
                        along: [angle.cos(), angle.sin()],
                    },
                    SlotLine::Arc { centre, radius } => WayLine::Arc {
                        centre: at(slot.on, centre)?,
                        radius,
                    },
                },
                keyed: slot.keyed.is_some(),
                guide: slot.keyed.and(slot.width),
                roller: slot.roller.map(|roller| roller.diameter),
            }),
            Self::Gears(..) => Look::Teeth,
        })
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
            Self::Cam(k, cam) => format!(
                "cam `{}` on `{}` and `{}` of `{}`",
                cam.label(k),
                part(cam.part),
                point(tool, cam.pushes),
                part(cam.pushes.part)
            ),
            Self::Gears(_, gears) => format!(
                "the teeth of `{}` and those of `{}`",
                part(gears.parts[0]),
                part(gears.parts[1])
            ),
        }
    }
}

fn point(tool: &Tool, at: PointRef) -> &str {
    let part = tool.part(at.part);
    part.and_then(|p| p.points.get(at.point))
        .map_or("", |p| p.name.as_str())
}
