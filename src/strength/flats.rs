//! Flats: the pressure of the cams that slide under them.

use super::cases::Case;
use super::formulas::contact::{
    FIRST_YIELD, FLAT_CONTACT, POISSON, SLIDING_TENSION, contact_modulus, line_pressure,
    sliding_tension,
};
use super::ledger::{Finding, Ledger, force, length, number, stress};
use super::note::Note;
use super::result::Subject;
use crate::model::{CamFace, Follower, Joint, JointId, PartId, Tool};
use crate::numeric::Face;
use crate::statics::ForceKind;
use crate::units::Quantity;

/// A cam on a flat with a width and a material.
#[derive(Debug, Clone)]
pub(super) struct FlatContact {
    pub(super) joint: JointId,
    /// The part that has the face.
    cam: PartId,
    rim: Rim,
    width: f64,
    friction: f64,
    modulus: f64,
    yield_strength: f64,
}

/// What slides under the flat.
#[derive(Debug, Clone)]
enum Rim {
    /// A disc of this radius, mm.
    Disc(f64),
    /// A curved face, in the axes of its part.
    Face(Face),
}

/// The flats that can be checked, and those for which something is missing.
pub(super) fn flats(tool: &Tool) -> (Vec<FlatContact>, Option<Note>) {
    let (mut found, mut missing) = (Vec::new(), Vec::new());
    for (k, joint) in tool.all_joints().enumerate() {
        let Joint::Cam(_, cam) = joint else { continue };
        if !matches!(cam.follower, Follower::Flat { .. }) {
            continue;
        }
        let joint = JointId::new(k);
        let material = cam.material.and_then(|m| tool.materials.get(m));
        let rim = match &cam.face {
            CamFace::Disc { radius, .. } => Some(Rim::Disc(*radius)),
            CamFace::Curve(points) => Face::through(points).map(Rim::Face),
        };
        let modulus = material.and_then(|material| material.modulus);
        match (cam.width, material, modulus, rim) {
            (Some(width), Some(material), Some(modulus), Some(rim)) => found.push(FlatContact {
                joint,
                cam: cam.part,
                rim,
                width,
                friction: cam.friction,
                modulus,
                yield_strength: material.yield_strength,
            }),
            _ => missing.push(joint),
        }
    }
    let note = (!missing.is_empty()).then_some(Note::NoFlat(missing));
    (found, note)
}

impl FlatContact {
    /// The pressure in one load case, and the tension behind the contact as it slides.
    pub(super) fn check(&self, case: &Case<'_>, ledger: &mut Ledger) {
        let what = ForceKind::Joint(self.joint);
        let Some(on) = case.sheet.on(self.cam).iter().find(|on| on.what == what) else {
            return;
        };
        // Friction is square to the push: what presses is the rest.
        let load = on.force.length() / self.friction.hypot(1.0);
        let curvature = match &self.rim {
            Rim::Disc(radius) => 1.0 / radius,
            Rim::Face(face) => face.nearest(on.local.xy()).bend,
        };
        // A straight or hollow face bears on more than a line, of which nothing is known.
        if curvature <= 0.0 {
            ledger.not_a_number(Subject::Contact(self.joint));
            return;
        }
        let modulus = contact_modulus(self.modulus, POISSON);
        let pressure = line_pressure(load, self.width, curvature, modulus);
        let finding = Finding {
            subject: Subject::Contact(self.joint),
            formula: FLAT_CONTACT,
            value: pressure,
            allowable: FIRST_YIELD * self.yield_strength,
            against: "1.67 yield",
            stretch: 0,
            quantity: Quantity::Stress,
            place: None,
        };
        ledger.offer(case, finding, || {
            vec![
                force("F", load),
                length("L", self.width),
                length("R", 1.0 / curvature),
                stress("E*", modulus),
            ]
        });
        let pulled = Finding {
            formula: SLIDING_TENSION,
            value: sliding_tension(pressure, self.friction),
            allowable: self.yield_strength,
            against: "yield",
            ..finding
        };
        ledger.offer(case, pulled, || {
            vec![number("mu", self.friction), stress("p0", pressure)]
        });
    }
}
