//! Where a stated number lives in a tool: its value, and another value in its place.

use super::{
    CamNumber, EndNumber, GearNumber, HandNumber, JawNumber, JobNumber, JointNumber, LifeNumber,
    MaterialNumber, RatchetNumber, RoomNumber, SectionNumber, SlotNumber, SpringNumber, Stated,
    WorkNumber, WoundNumber,
};
use crate::model::{
    Across, Acts, Back, CamFace, Depth, Follower, Form, Guide, HandLimit, JointData, JointId, Made,
    Place, Push, SlotLine, Spring, SpringEnds, SpringSet, Target, Tool,
};

/// The number's place in a tool: `&` or `&mut`, from one text.
macro_rules! reach {
    ($name:ident, $tool:ty, $number:ty, $get:ident, $opt:ident, $($r:tt)+) => {
        fn $name(self, tool: $tool) -> Option<$number> {
            Some(match self {
                // More than one place, or a factor: see `get` and `set`.
                Self::Joints(_)
                | Self::Pin(..)
                | Self::Setting { .. }
                | Self::Work(_, WorkNumber::Scale | WorkNumber::Of(_)) => return None,
                Self::Joint(joint, number) => {
                    let data = tool.joint_data.$get(joint.index())?;
                    match number {
                        JointNumber::Diameter => data.diameter.$opt()?,
                        JointNumber::Friction => $($r)+ data.friction,
                        JointNumber::Clearance => $($r)+ data.clearance,
                    }
                }
                Self::Slot(slot, number) => {
                    let slot = tool.slots.$get(slot)?;
                    match (number, $($r)+ slot.line) {
                        (SlotNumber::Turn, _) => slot.keyed.$opt()?,
                        (SlotNumber::Friction, _) => $($r)+ slot.friction,
                        (SlotNumber::Width, _) => slot.width.$opt()?,
                        (SlotNumber::RollerDiameter, _) => $($r)+ slot.roller.$opt()?.diameter,
                        (SlotNumber::RollerPin, _) => $($r)+ slot.roller.$opt()?.pin,
                        (SlotNumber::RollerWidth, _) => slot.roller.$opt()?.width.$opt()?,
                        (SlotNumber::Angle, SlotLine::Straight { angle, .. }) => angle,
                        (SlotNumber::Radius, SlotLine::Arc { radius, .. }) => radius,
                        (SlotNumber::ThroughX, SlotLine::Straight { through: Place::At([x, _]), .. })
                        | (SlotNumber::CentreX, SlotLine::Arc { centre: Place::At([x, _]), .. }) => x,
                        (SlotNumber::ThroughY, SlotLine::Straight { through: Place::At([_, y]), .. })
                        | (SlotNumber::CentreY, SlotLine::Arc { centre: Place::At([_, y]), .. }) => y,
                        _ => return None,
                    }
                }
                Self::Cam(cam, number) => {
                    let cam = tool.cams.$get(cam)?;
                    match (number, $($r)+ cam.follower, $($r)+ cam.face) {
                        (CamNumber::Width, ..) => cam.width.$opt()?,
                        (CamNumber::Friction, ..) => $($r)+ cam.friction,
                        (CamNumber::Radius, _, CamFace::Disc { radius, .. }) => radius,
                        (CamNumber::CentreX, _, CamFace::Disc { centre: Place::At([x, _]), .. }) => x,
                        (CamNumber::CentreY, _, CamFace::Disc { centre: Place::At([_, y]), .. }) => y,
                        (CamNumber::Point(k, axis), _, CamFace::Curve(points)) => {
                            points.$get(k)?.$get(axis)?
                        }
                        (CamNumber::Flat, Follower::Flat { angle, .. }, _) => angle,
                        (CamNumber::RollerDiameter, Follower::Roller(roller), _) => $($r)+ roller.diameter,
                        (CamNumber::RollerPin, Follower::Roller(roller), _) => $($r)+ roller.pin,
                        (CamNumber::RollerWidth, Follower::Roller(roller), _) => roller.width.$opt()?,
                        _ => return None,
                    }
                }
                Self::Spring(spring, number) => {
                    let spring = tool.springs.$get(spring)?;
                    if !of_spring(number, spring) {
                        return None;
                    }
                    if let SpringNumber::Wound(number) = number {
                        let Made::Wound(wound) = $($r)+ spring.made else {
                            return None;
                        };
                        return match (number, $($r)+ wound.across, $($r)+ wound.form) {
                            (WoundNumber::Wire, ..) => Some($($r)+ wound.wire),
                            (WoundNumber::Turns, ..) => Some($($r)+ wound.turns),
                            (WoundNumber::Cycles, ..) => wound.cycles.$opt(),
                            (WoundNumber::Modulus, ..) => wound.modulus.$opt(),
                            (WoundNumber::Ultimate, ..) => wound.ultimate.$opt(),
                            (WoundNumber::Coil, Across::Mean(mean), _) => Some(mean),
                            (WoundNumber::Outside, Across::Outside(outside), _) => Some(outside),
                            (WoundNumber::Leg(leg), _, Form::Torsion { legs, .. }) => legs.$get(leg),
                            (WoundNumber::Mandrel, _, Form::Torsion { mandrel, .. }) => mandrel.$opt(),
                            (WoundNumber::Bore, _, Form::Helical { guide: Some(Guide::Bore(bore)), .. }) => Some(bore),
                            (WoundNumber::Pin, _, Form::Helical { guide: Some(Guide::Pin(pin)), .. }) => Some(pin),
                            _ => None,
                        };
                    }
                    match (number, $($r)+ spring.made, $($r)+ spring.set) {
                        (SpringNumber::Rate | SpringNumber::TurnRate, Made::Rate(rate), _) => rate,
                        (SpringNumber::Rate | SpringNumber::TurnRate, ..) => return None,
                        (SpringNumber::Free | SpringNumber::Slack, _, SpringSet::Free(free)) => free,
                        (_, _, SpringSet::Preload(load)) => load,
                        _ => return None,
                    }
                }
                Self::Hand(number) => {
                    let hand = $($r)+ tool.hand;
                    match number {
                        HandNumber::Force => $($r)+ hand.force,
                        HandNumber::Thickness => $($r)+ hand.thickness,
                        HandNumber::Push => match $($r)+ hand.push {
                            Push::Fixed(angle) => angle,
                            _ => return None,
                        },
                        HandNumber::HandleLength => $($r)+ hand.size.$opt()?.length,
                        HandNumber::HandleWidth => hand.size.$opt()?.width.$opt()?,
                        HandNumber::HandleDepth => hand.size.$opt()?.depth.$opt()?,
                        HandNumber::Glove => $($r)+ hand.glove,
                        HandNumber::Limit => match hand.limit.$opt()? {
                            HandLimit::Force(force) => force,
                            _ => return None,
                        },
                    }
                }
                Self::Grip(grip) => tool.hand.grips.$get(grip)?,
                Self::Line { against, place, axis } => {
                    let line = if against { tool.hand.against.$opt()? } else { $($r)+ tool.hand.handle };
                    match line.points.$get(place)? {
                        Place::At(at) => at.$get(axis)?,
                        Place::Point(_) => return None,
                    }
                }
                Self::Jaw(jaw, number) => {
                    let jaw = tool.jaws.$get(jaw.index())?;
                    match number {
                        JawNumber::Axis => jaw.axis.$opt()?,
                        JawNumber::Closed => $($r)+ jaw.closed,
                    }
                }
                Self::Stop(stop, number) => {
                    let stop = tool.stops.$get(stop.index())?;
                    match number {
                        JawNumber::Axis => stop.axis.$opt()?,
                        JawNumber::Closed => $($r)+ stop.closed,
                    }
                }
                Self::StopRate(stop) => tool.stops.$get(stop.index())?.rate.$opt()?,
                Self::Gears(gears, number) => {
                    let gears = tool.gears.$get(gears)?;
                    match number {
                        GearNumber::Angle => $($r)+ gears.angle,
                        GearNumber::Face => gears.face.$opt()?,
                        GearNumber::Backlash => gears.backlash.$opt()?,
                        GearNumber::Friction => $($r)+ gears.friction,
                    }
                }
                Self::Ratchet(number) => {
                    let ratchet = tool.ratchet.$opt()?;
                    match number {
                        RatchetNumber::Pin(axis) => ratchet.pawl.pin.$get(axis)?,
                        RatchetNumber::Length => $($r)+ ratchet.pawl.length,
                        RatchetNumber::Spring => $($r)+ ratchet.pawl.spring,
                        RatchetNumber::Radius => $($r)+ ratchet.radius,
                        RatchetNumber::Pitch => $($r)+ ratchet.pitch,
                        RatchetNumber::OverTravel => $($r)+ ratchet.over_travel,
                        RatchetNumber::Height => ratchet.height.$opt()?,
                        RatchetNumber::Face => ratchet.face.$opt()?,
                        RatchetNumber::Flank => $($r)+ ratchet.flank,
                        RatchetNumber::Friction => $($r)+ ratchet.friction,
                    }
                }
                Self::End(shut, number) => {
                    let stroke = $($r)+ tool.stroke;
                    let target = if shut { $($r)+ stroke.shut } else { $($r)+ stroke.open };
                    match (number, target) {
                        (EndNumber::Gap, Target::Gap(value, _))
                        | (EndNumber::Span, Target::Span(value, _))
                        | (EndNumber::Handle, Target::Handle(value)) => value,
                        _ => return None,
                    }
                }
                Self::Section(section, number) => {
                    let section = tool.sections.$get(section)?;
                    match (number, $($r)+ section.width) {
                        (SectionNumber::Width, Depth::Uniform(width)) => width,
                        (SectionNumber::WidthAt(k), Depth::Stations(rows)) => {
                            let [_, depth] = rows.$get(k)?;
                            depth
                        }
                        (SectionNumber::Thickness, _) => $($r)+ section.thickness,
                        (SectionNumber::Edge, _) => section.edge.$opt()?,
                        _ => return None,
                    }
                }
                Self::Material(material, number) => {
                    let material = tool.materials.$get(material)?;
                    match number {
                        MaterialNumber::Yield => $($r)+ material.yield_strength,
                        MaterialNumber::Ultimate => material.ultimate.$opt()?,
                        MaterialNumber::Modulus => material.modulus.$opt()?,
                        MaterialNumber::Density => material.density.$opt()?,
                        MaterialNumber::Price => material.price.$opt()?,
                    }
                }
                Self::Outline(outline, number) => number.$name(tool.outlines.$get(outline)?)?,
                Self::Room(number) => match number {
                    RoomNumber::Finger => tool.room.finger.$opt()?,
                    RoomNumber::Apart => tool.room.apart.$opt()?,
                    RoomNumber::Margin => tool.stock.margin.$opt()?,
                    RoomNumber::Up => $($r)+ tool.bench.$opt()?.up,
                    RoomNumber::Base(axis) => match $($r)+ tool.bench.$opt()?.at {
                        Place::At(at) => at.$get(axis)?,
                        Place::Point(_) => return None,
                    },
                },
                Self::Operators(k) => $($r)+ tool.operators.$get(k)?.count,
                Self::Life(LifeNumber::Strokes) => $($r)+ tool.life.$opt()?.strokes,
                Self::Life(LifeNumber::Reliability) => $($r)+ tool.life.$opt()?.reliability,
                Self::Job(number) => {
                    let job = tool.job.$opt()?;
                    match number {
                        JobNumber::Strokes => $($r)+ job.strokes,
                        JobNumber::Held => $($r)+ job.held,
                        JobNumber::Hours => $($r)+ job.hours,
                        JobNumber::Wrist => $($r)+ job.wrist,
                        JobNumber::Share => $($r)+ job.share,
                    }
                }
                Self::Work(jaw, WorkNumber::Rigid) => {
                    tool.jaws.$get(jaw.index())?.work.$opt()?.rigid.$opt()?
                }
                Self::Work(jaw, WorkNumber::Starts) => {
                    let work = tool.jaws.$get(jaw.index())?.work.$opt()?;
                    work.estimate.$opt()?.starts.$opt()?
                }
                Self::Work(jaw, number @ (WorkNumber::Return | WorkNumber::Stiffness)) => {
                    let work = tool.jaws.$get(jaw.index())?.work.$opt()?;
                    match (number, $($r)+ work.finish.$opt()?.back) {
                        (WorkNumber::Return, Back::By(length)) => length,
                        (WorkNumber::Stiffness, Back::Stiff(rate)) => rate,
                        _ => return None,
                    }
                }
            })
        }
    };
}

/// Whether a spring of this kind has such a number.
fn of_spring(number: SpringNumber, spring: &Spring) -> bool {
    let turns = matches!(spring.ends, SpringEnds::Pin { .. });
    match (number, spring.set) {
        (SpringNumber::Rate, _) | (SpringNumber::Free, SpringSet::Free(_)) => !turns,
        (SpringNumber::TurnRate, _)
        | (SpringNumber::Slack, SpringSet::Free(_))
        | (SpringNumber::Torque, SpringSet::Preload(_)) => turns,
        (SpringNumber::Wound(_), _) => spring.wound().is_some(),
        (SpringNumber::Preload, SpringSet::Preload(_)) => !turns && spring.acts == Acts::Both,
        (SpringNumber::Push, SpringSet::Preload(_)) => !turns && spring.acts == Acts::Push,
        (SpringNumber::Pull, SpringSet::Preload(_)) => !turns && spring.acts == Acts::Pull,
        _ => false,
    }
}

impl JointNumber {
    pub(super) const ALL: [Self; 3] = [Self::Diameter, Self::Friction, Self::Clearance];

    /// Whether a joint states this number itself.
    fn own(self, data: &JointData) -> bool {
        data.own[self as usize]
    }
}

impl Stated {
    reach!(at, &Tool, &f64, get, as_ref, &);
    reach!(at_mut, &mut Tool, &mut f64, get_mut, as_mut, &mut);

    /// The joints that it is stated for.
    fn joints(self, tool: &Tool) -> Vec<(JointId, JointNumber)> {
        let all = JointId::each(&tool.joint_data);
        match self {
            Self::Joints(number) => (all.filter(|(_, data)| !number.own(data)))
                .map(|(joint, _)| (joint, number))
                .collect(),
            Self::Pin(first, number) => {
                let pin = |joint| tool.pin(joint).map(|pin| &pin.pin);
                (all.filter(|(joint, _)| pin(*joint) == pin(first)))
                    .map(|(joint, _)| (joint, number))
                    .collect()
            }
            Self::Joint(joint, number) => vec![(joint, number)],
            _ => Vec::new(),
        }
    }

    /// −1 where the model counts it the other way round.
    fn sense(self) -> f64 {
        match self {
            Self::Spring(_, SpringNumber::Pull) => -1.0,
            _ => 1.0,
        }
    }

    pub(in crate::model) fn get(self, tool: &Tool) -> Option<f64> {
        match self {
            Self::Joints(_) | Self::Pin(..) => {
                let (joint, number) = *self.joints(tool).first()?;
                Self::Joint(joint, number).get(tool)
            }
            Self::Work(jaw, WorkNumber::Scale) => Some(tool.jaw(jaw)?.work.as_ref()?.scale),
            Self::Work(jaw, WorkNumber::Of(size)) => {
                let estimate = tool.jaw(jaw)?.work.as_ref()?.estimate?;
                let mut of = estimate.of;
                of.size_mut(size).copied()
            }
            Self::Setting { adjuster, .. } => Some(tool.adjusters.get(adjuster)?.now),
            _ => Some(self.sense() * *self.at(tool)?),
        }
    }

    pub(in crate::model) fn set(self, tool: &mut Tool, value: f64) -> bool {
        match self {
            Self::Setting { adjuster, .. } => {
                if adjuster >= tool.adjusters.len() {
                    return false;
                }
                tool.adjust(adjuster, value);
            }
            Self::Work(
                jaw,
                number @ (WorkNumber::Scale | WorkNumber::Of(_) | WorkNumber::Starts),
            ) => {
                let jaw = tool.jaws.get_mut(jaw.index());
                let Some(work) = jaw.and_then(|jaw| jaw.work.as_mut()) else {
                    return false;
                };
                let put = |to: Option<&mut f64>| to.map(|to| *to = value).is_some();
                match number {
                    WorkNumber::Of(size) => {
                        return work.estimate_with(|estimate| put(estimate.of.size_mut(size)));
                    }
                    WorkNumber::Starts => {
                        return work.estimate_with(|estimate| put(estimate.starts.as_mut()));
                    }
                    _ => work.set_scale(value),
                }
            }
            Self::Joints(_) | Self::Pin(..) | Self::Joint(..) => {
                let joints = self.joints(tool);
                for &(joint, number) in &joints {
                    let Some(at) = Self::Joint(joint, number).at_mut(tool) else {
                        return false;
                    };
                    *at = value;
                    // From here on it does not follow [joints] any more.
                    if !matches!(self, Self::Joints(_))
                        && let Some(data) = tool.joint_data.get_mut(joint.index())
                    {
                        data.own[number as usize] = true;
                    }
                }
                return !joints.is_empty();
            }
            _ => match self.at_mut(tool) {
                Some(at) => *at = self.sense() * value,
                None => return false,
            },
        }
        true
    }
}
