//! Cams: a face of one part that pushes a roller or a flat of another.

use super::{Gears, JointId, PartId, Place, PointRef, Roller, Slot, Tool};

/// A cam face of one part that pushes a roller or a flat of another, and cannot pull it.
#[derive(Debug, Clone, PartialEq)]
pub struct Cam {
    /// Name, for addresses and measures; they count the cams from 1 where it has none.
    pub name: Option<String>,
    /// The part that has the face.
    pub part: PartId,
    /// The face.
    pub face: CamFace,
    /// What is pushed: the roller's centre, or a point on the flat.
    pub pushes: PointRef,
    /// What it has there.
    pub follower: Follower,
    /// Coefficient of friction on the flat, or of the roller on its pin.
    pub friction: f64,
    /// Length of the line on which it touches a flat, mm, for the pressure there.
    pub width: Option<f64>,
    /// Index of the material of face and follower, for the pressure between them.
    pub material: Option<usize>,
}

/// The face of a cam, in the axes of its part, mm.
#[derive(Debug, Clone, PartialEq)]
pub enum CamFace {
    /// An eccentric disc.
    Disc {
        /// Its centre.
        centre: Place,
        /// Its radius.
        radius: f64,
    },
    /// A smooth curve through these points, the part to the left of their order.
    Curve(Vec<[f64; 2]>),
}

/// What a cam pushes on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Follower {
    /// A roller.
    Roller(Roller),
    /// A flat.
    Flat {
        /// Its direction in the axes of the part that has it, rad.
        angle: f64,
        /// 1: the cam is to the left of that direction; −1: to the right.
        side: f64,
    },
}

impl Cam {
    /// Its name, or its number in the file, from 1, where it has none; `index` counts from 0.
    #[must_use]
    pub fn label(&self, index: usize) -> String {
        (self.name.clone()).unwrap_or_else(|| (index + 1).to_string())
    }

    /// A place of the face that says roughly where it is: the centre of a disc, the middle point of a curve.
    #[must_use]
    pub fn middle(&self) -> Place {
        match &self.face {
            CamFace::Disc { centre, .. } => *centre,
            CamFace::Curve(points) => {
                Place::At(points.get(points.len() / 2).copied().unwrap_or_default())
            }
        }
    }

    /// Friction along the rim, for a force of 1 N between cam and follower.
    #[must_use]
    pub fn drag(&self) -> f64 {
        match self.follower {
            Follower::Roller(roller) => roller.drag(self.friction),
            Follower::Flat { .. } => self.friction,
        }
    }
}

/// A slot, cam or pair of gears by the name that measures use for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ContactName {
    /// `press`, `cams.2`, `slots.1` or `gears.1`.
    pub name: String,
    /// Its joint.
    pub joint: JointId,
    /// It is a cam.
    pub cam: bool,
}

/// The slots, cams and gears of a tool with so many pin joints: each by its name, where it
/// has one, then all by their numbers in the file.
#[must_use]
pub fn contact_names(
    pins: usize,
    slots: &[Slot],
    cams: &[Cam],
    gears: &[Gears],
) -> Vec<ContactName> {
    let of = |name: String, index: usize, cam: bool| ContactName {
        name,
        joint: JointId::new(pins + index),
        cam,
    };
    let first = slots.len();
    let named = (cams.iter().enumerate())
        .filter_map(|(k, cam)| Some(of(cam.name.clone()?, first + k, true)));
    let after = first + cams.len();
    let meshed = (gears.iter().enumerate())
        .filter_map(|(k, gears)| Some(of(gears.name.clone()?, after + k, false)));
    let teeth = (0..gears.len()).map(|k| of(format!("gears.{}", k + 1), after + k, false));
    let ways =
        (slots.iter().enumerate()).filter_map(|(k, slot)| Some(of(slot.name.clone()?, k, false)));
    let slots = (0..first).map(|k| of(format!("slots.{}", k + 1), k, false));
    let all = (0..cams.len()).map(|k| of(format!("cams.{}", k + 1), first + k, true));
    (named.chain(meshed).chain(ways).chain(slots))
        .chain(all)
        .chain(teeth)
        .collect()
}

impl Tool {
    /// The name of a joint that is a slot, a cam or a pair of gears, see [`contact_names`]; empty for any other.
    #[must_use]
    pub fn contact_label(&self, joint: JointId) -> String {
        let all = contact_names(self.joints.len(), &self.slots, &self.cams, &self.gears);
        let of = all.into_iter().find(|of| of.joint == joint);
        of.map_or_else(String::new, |of| of.name)
    }
}
