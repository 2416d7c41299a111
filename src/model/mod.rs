//! What a tool *is*: parts, pins, slots, cams, hand, jaws, loads, materials.
//!
//! No text and no mathematics here. Every number is in internal units (mm, N, rad, MPa); every
//! reference is an index that the reader of the tool file, or whoever builds a [`Tool`] in Rust,
//! has made sure of: [`Tool::validate`] checks it.

mod adjuster;
pub mod amount;
mod cam;
mod demand;
pub mod dimension;
mod facing;
mod finish;
mod gears;
mod hand;
mod id;
mod job;
mod joint;
mod left;
#[cfg(test)]
mod lever;
mod life;
mod load;
mod measure;
mod measure_name;
mod outline;
mod part;
mod plain;
mod position;
mod ratchet;
mod room;
mod rows;
mod stated;
mod stop;
mod strength;
mod stroke;
mod tie;
mod trial;
mod validate;
mod wound;

pub use adjuster::{Adjuster, Adjusts, NoSetting};
pub use cam::{Cam, CamFace, ContactName, Follower, contact_names};
pub use demand::{Aim, At, Bound, Demand, ToleranceClass, ToleranceRule, Tolerances, Tune, Want};
pub use finish::{Back, Finish};
pub use gears::{Gears, Mesh};
pub use hand::{Hand, HandLimit, HandLine, HandleSize, Palm, Push};
pub use id::{GripId, JawId, JointId, Numbered, PartId, StopId};
pub use job::{Job, Operators, Speed};
pub use joint::{Joint, Look, Way, WayLine};
pub use life::{Against, Life, Surface};
pub use load::{Acts, Estimate, JointData, Made, Shear, Spring, SpringEnds, SpringSet, Work};
pub use measure::{Better, Digits, MEASURES, Measure, MeasureKind, Reads, Suffix};
pub use measure_name::Named;
pub use outline::{Border, By, Drilled, Leg, Outline};
pub use part::{
    Part, PinJoint, Place, Point, PointKind, PointRef, Roller, Shape, Slot, SlotLine, joint_label,
    pin_joints,
};
pub use position::{Fixed, FixedBy};
pub use ratchet::{Pawl, Ratchet};
pub use room::{Bench, Reach, Room, Stock};
pub use rows::between;
pub use stated::{
    CamNumber, EndNumber, GearNumber, HandNumber, JawNumber, JobNumber, JointNumber,
    LEAST_FRICTION, LifeNumber, MOST_FRICTION, MaterialNumber, OutlineNumber, RatchetNumber,
    RoomNumber, SectionNumber, SlotNumber, SpringNumber, Stated, Values, WorkNumber, WoundNumber,
};
pub use stop::{Met, Stop, StopEnd};
pub use strength::{Depth, Material, Section};
pub use stroke::{Direction, Jaw, Stroke, Target};
pub use tie::Tie;
pub use trial::{Trial, TrialPoint};
pub use validate::{ModelError, WhichHandle};
pub use wound::{Across, Form, Guide, Wound};

use crate::units::UnitSystem;

/// One tool concept, complete.
#[derive(Debug, Clone, PartialEq)]
pub struct Tool {
    /// Name for titles.
    pub name: String,
    /// Free text.
    pub note: Option<String>,
    /// What the file's bare numbers mean; results come out in these units by default.
    pub units: UnitSystem,
    /// Rigid parts, in file order.
    pub parts: Vec<Part>,
    /// The fixed part, whose axes are the tool's axes.
    pub fixed: PartId,
    /// Pin joints: one for each part that is pinned to the carrier of a pin.
    pub joints: Vec<PinJoint>,
    /// Sliding joints.
    pub slots: Vec<Slot>,
    /// Cams.
    pub cams: Vec<Cam>,
    /// Tooth sectors in mesh.
    pub gears: Vec<Gears>,
    /// Where the hand holds the tool.
    pub hand: Hand,
    /// Jaws; the first is the one in view, meant where none is named: see [`Tool::facing`]. Never empty.
    pub jaws: Vec<Jaw>,
    /// The stroke to be solved.
    pub stroke: Stroke,
    /// Stops, one for each end of the stroke at most.
    pub stops: Vec<Stop>,
    /// Pin data, one entry for each of [`Tool::joints`], in that order.
    pub joint_data: Vec<JointData>,
    /// Springs.
    pub springs: Vec<Spring>,
    /// How often it has to do its job, where that is asked.
    pub life: Option<Life>,
    /// Readings of the tool on the bench.
    pub trial: Option<Trial>,
    /// Named materials.
    pub materials: Vec<Material>,
    /// Cross-sections, each of the part it names.
    pub sections: Vec<Section>,
    /// Outlines of plates, each of the part it names.
    pub outlines: Vec<Outline>,
    /// What is asked of the room between plates.
    pub room: Room,
    /// What plates are cut from.
    pub stock: Stock,
    /// Where a tool on a bench stands; `None`: not said.
    pub bench: Option<Bench>,
    /// Numbers that follow others.
    pub ties: Vec<Tie>,
    /// What the tool must do.
    pub demands: Vec<Demand>,
    /// How exact its dimensions are.
    pub tolerances: Tolerances,
    /// Dimensions that may be changed.
    pub tunes: Vec<Tune>,
    /// What the setter turns.
    pub adjusters: Vec<Adjuster>,
    /// What lets the tool close and not open.
    pub ratchet: Option<Ratchet>,
    /// What tuning is to reach.
    pub aim: Option<Aim>,
    /// How often it is used, and by whom.
    pub job: Option<Job>,
    /// The people who use it, group by group.
    pub operators: Vec<Operators>,
}

impl Tool {
    /// Whether something is asked of the tools as made.
    #[must_use]
    pub fn has_yield(&self) -> bool {
        let aim = self.aim.iter().map(|aim| &aim.measure);
        let mut all = self.demands.iter().map(|demand| &demand.measure).chain(aim);
        all.any(|measure| *measure == Measure::Yield)
    }

    /// The part that takes the opposite of the hand force: of a push across the other handle, of any
    /// other the one in the palm. `None`: a bench holds the fixed part, and nothing else takes it.
    #[must_use]
    pub fn palm(&self) -> Option<PartId> {
        let other = self.hand.against.as_ref().map(|line| line.part);
        match (self.hand.push, self.hand.palm, other) {
            (Push::Across, _, Some(other)) | (_, Palm::Usual, Some(other)) => Some(other),
            (_, Palm::Usual, None) => Some(self.fixed),
            (_, Palm::Part(part), _) => Some(part),
            (_, Palm::Bench, _) => None,
        }
    }

    /// The part of that name.
    #[must_use]
    pub fn part_index(&self, name: &str) -> Option<PartId> {
        let known = self.parts.iter().position(|part| part.name == name);
        known.map(PartId::new)
    }

    /// A part, if there is such a one.
    #[must_use]
    pub fn part(&self, part: PartId) -> Option<&Part> {
        self.parts.get(part.index())
    }

    /// A pin joint; `None` without it, and for a joint of another kind.
    #[must_use]
    pub fn pin(&self, joint: JointId) -> Option<&PinJoint> {
        self.joints.get(joint.index())
    }

    /// A jaw, if there is such a one.
    #[must_use]
    pub fn jaw(&self, jaw: JawId) -> Option<&Jaw> {
        self.jaws.get(jaw.index())
    }

    /// A stop, if there is such a one.
    #[must_use]
    pub fn stop(&self, stop: StopId) -> Option<&Stop> {
        self.stops.get(stop.index())
    }

    /// The stop of that name.
    #[must_use]
    pub fn stop_named(&self, name: &str) -> Option<StopId> {
        let known = self.stops.iter().position(|stop| stop.name == name);
        known.map(StopId::new)
    }

    /// Where a grip is, mm along the hand line.
    #[must_use]
    pub fn grip(&self, grip: GripId) -> Option<f64> {
        self.hand.grips.get(grip.index()).copied()
    }

    /// The grip at that distance along the hand line, mm.
    #[must_use]
    pub fn grip_at(&self, distance: f64) -> Option<GripId> {
        let known = self.hand.grips.iter().position(|&grip| grip == distance);
        known.map(GripId::new)
    }

    /// The name under which the loads of a joint are listed, see [`joint_label`].
    #[must_use]
    pub fn joint_label(&self, joint: JointId) -> String {
        joint_label(&self.parts, &self.joints, joint)
    }
}
