//! Rollers: the pressure on the walls of their slots and on the cams that push them.

use super::cases::Case;
use super::formulas::contact::{
    FIRST_YIELD, LINE_CONTACT, POISSON, contact_modulus, line_pressure,
};
use super::ledger::{Finding, Ledger, force, length, stress};
use super::note::Note;
use super::result::Subject;
use crate::geometry::Vec2;
use crate::model::{CamFace, Joint, JointId, PartId, Place, SlotLine, Tool};
use crate::numeric::Face;
use crate::statics::ForceKind;
use crate::units::Quantity;

/// A roller with a width and a material.
#[derive(Debug, Clone)]
pub(super) struct RollerContact {
    pub(super) joint: JointId,
    /// The part that has the roller, and the one that it rolls on.
    parts: [PartId; 2],
    radius: f64,
    track: Track,
    width: f64,
    modulus: f64,
    yield_strength: f64,
}

/// What a roller rolls on, in the axes of the part that has it.
#[derive(Debug, Clone)]
enum Track {
    Straight,
    /// Two walls about a centre, the centre line between them.
    Arc {
        centre: Vec2,
        radius: f64,
    },
    /// A disc.
    Cam {
        radius: f64,
    },
    /// A curved face.
    Face(Face),
}

/// The rollers that can be checked, and those for which something is missing.
pub(super) fn rollers(tool: &Tool) -> (Vec<RollerContact>, Option<Note>) {
    let (mut found, mut missing) = (Vec::new(), Vec::new());
    for (k, joint) in tool.all_joints().enumerate() {
        let joint_id = JointId::new(k);
        if joint.roller().is_none() {
            continue;
        }
        match contact(tool, joint_id, joint) {
            Some(contact) => found.push(contact),
            None => missing.push(joint_id),
        }
    }
    let note = (!missing.is_empty()).then_some(Note::NoRoller(missing));
    (found, note)
}

fn contact(tool: &Tool, id: JointId, joint: Joint<'_>) -> Option<RollerContact> {
    let (_, roller) = joint.roller()?;
    let (parts, track, material) = match joint {
        Joint::Slot(_, slot) => {
            let track = match slot.line {
                SlotLine::Straight { .. } => Track::Straight,
                SlotLine::Arc { centre, radius } => Track::Arc {
                    centre: at(tool, slot.on, centre)?,
                    radius,
                },
            };
            ([slot.rider.part, slot.on], track, slot.material)
        }
        Joint::Cam(_, cam) => {
            let track = match &cam.face {
                &CamFace::Disc { radius, .. } => Track::Cam { radius },
                CamFace::Curve(points) => Track::Face(Face::through(points)?),
            };
            ([cam.pushes.part, cam.part], track, cam.material)
        }
        Joint::Pin(..) | Joint::Gears(..) => return None,
    };
    let material = tool.materials.get(material?)?;
    Some(RollerContact {
        joint: id,
        parts,
        radius: 0.5 * roller.diameter,
        track,
        width: roller.width?,
        modulus: material.modulus?,
        yield_strength: material.yield_strength,
    })
}

fn at(tool: &Tool, part: PartId, place: Place) -> Option<Vec2> {
    tool.part(part)?.place(place).map(Vec2::from)
}

impl RollerContact {
    /// The pressure in one load case.
    pub(super) fn check(&self, case: &Case<'_>, ledger: &mut Ledger) {
        let what = ForceKind::Joint(self.joint);
        let [roller, track] = self.parts.map(|part| {
            let mut forces = case.sheet.on(part).iter();
            forces.find(|on| on.what == what)
        });
        let (Some(on), Some(by)) = (roller, track) else {
            return;
        };
        // Friction is square to it, and so small beside it that the whole force is taken.
        let load = on.force.length();
        let own = 1.0 / self.radius;
        let other = match &self.track {
            Track::Straight => 0.0,
            Track::Cam { radius } => 1.0 / radius,
            Track::Face(face) => face.nearest(by.local.xy()).bend,
            &Track::Arc { centre, radius } => {
                let turn = case.sheet.turn.get(self.parts[1].index());
                let spoke = (by.local - centre).turned(turn.copied().unwrap_or(Vec2::X));
                // Pushed away from the centre, it rolls on the inner wall, which is a hump.
                if on.force.dot(spoke) > 0.0 {
                    1.0 / (radius - self.radius)
                } else {
                    -1.0 / (radius + self.radius)
                }
            }
        };
        // In a hollow as narrow as itself it bears on two places, of which nothing is known.
        if own + other <= 0.0 {
            ledger.not_a_number(Subject::Contact(self.joint));
            return;
        }
        let modulus = contact_modulus(self.modulus, POISSON);
        let pressure = line_pressure(load, self.width, own + other, modulus);
        let finding = Finding {
            subject: Subject::Contact(self.joint),
            formula: LINE_CONTACT,
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
                length("R", 1.0 / (own + other)),
                stress("E*", modulus),
            ]
        });
    }
}
