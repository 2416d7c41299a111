//! Teeth of sectors and racks: bending at the foot.

use super::cases::Case;
use super::formulas::tooth;
use super::ledger::{Finding, Ledger, force, length, number};
use super::note::Note;
use super::result::{Place, Subject};
use crate::geometry::Vec2;
use crate::model::{Gears, Joint, JointId, Mesh, PartId, Tool};
use crate::statics::ForceKind;
use crate::units::Quantity;

/// The teeth of one part.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Teeth {
    pub(super) part: PartId,
    joint: JointId,
    mark: usize,
    face: f64,
    module: f64,
    form: f64,
    /// Cosine of the pressure angle: the share of the tooth force along the pitch circle.
    share: f64,
    yield_strength: f64,
}

/// The teeth that can be checked, and what is missing for the others.
pub(super) fn teeth(tool: &Tool) -> (Vec<Teeth>, Vec<Note>) {
    let mut found = Vec::new();
    let (mut incomplete, mut no_form) = (Vec::new(), Vec::new());
    for (joint, joined) in tool.all_joints().enumerate() {
        let Joint::Gears(k, gears) = joined else {
            continue;
        };
        let material = gears.material.and_then(|m| tool.materials.get(m));
        let (Some(face), Some(material), Some(module)) =
            (gears.face, material, module(tool, gears))
        else {
            incomplete.push(k);
            continue;
        };
        for side in 0..2 {
            let Some(form) = form(gears, side) else {
                no_form.push(gears.parts[side]);
                continue;
            };
            found.push(Teeth {
                part: gears.parts[side],
                joint: JointId::new(joint),
                mark: gears.marks[side],
                face,
                module,
                form,
                share: gears.angle.cos(),
                yield_strength: material.yield_strength,
            });
        }
    }
    let mut notes = Vec::new();
    if !incomplete.is_empty() {
        notes.push(Note::NoTeeth(incomplete));
    }
    if !no_form.is_empty() {
        notes.push(Note::NoForm(no_form));
    }
    (found, notes)
}

/// Form factor; inside teeth have none in the table.
fn form(gears: &Gears, side: usize) -> Option<f64> {
    let ring = gears.mesh == Mesh::Internal && gears.teeth[side] > gears.teeth[1 - side];
    let teeth = (gears.teeth[side] > 0).then(|| f64::from(gears.teeth[side]));
    tooth::lewis(teeth, gears.angle).filter(|_| !ring)
}

/// Pitch circle over number of teeth, mm.
fn module(tool: &Tool, gears: &Gears) -> Option<f64> {
    let at = |part: PartId, point: usize| {
        let point = tool.part(part)?.points.get(point)?;
        Some(Vec2::from(point.at))
    };
    let [one, other] = gears.teeth.map(f64::from);
    let (across, teeth) = match gears.mesh {
        Mesh::Rack { .. } => {
            let part = gears.parts[0];
            let arm = at(part, gears.marks[0])? - at(part, gears.about[0])?;
            (arm.length(), one)
        }
        mesh => {
            let between = at(gears.on, gears.centres[1])? - at(gears.on, gears.centres[0])?;
            let sum = match mesh {
                Mesh::Internal => (one - other).abs(),
                _ => one + other,
            };
            (between.length(), sum)
        }
    };
    let module = 2.0 * across / teeth;
    (module > 0.0 && module.is_finite()).then_some(module)
}

impl Teeth {
    /// Whether it is the same part of the same pair.
    pub(super) fn is_same(&self, other: &Self) -> bool {
        (self.part, self.joint) == (other.part, other.joint)
    }

    /// Bending in one load case.
    pub(super) fn check(&self, case: &Case<'_>, ledger: &mut Ledger) {
        let of_this = |what: ForceKind| what == ForceKind::Joint(self.joint);
        let Some(on) = case.sheet.on(self.part).iter().find(|f| of_this(f.what)) else {
            return;
        };
        let load = self.share * on.force.length();
        let bending = Finding {
            subject: Subject::Part(self.part),
            formula: tooth::BENDING,
            value: tooth::bending(load, self.face, self.module, self.form),
            allowable: self.yield_strength,
            against: "yield",
            quantity: Quantity::Stress,
            place: Some(Place::Point(self.mark)),
            // A part may stand in two pairs.
            stretch: self.joint.index(),
        };
        ledger.offer(case, bending, || {
            vec![
                force("Ft", load),
                length("b", self.face),
                length("m", self.module),
                number("Y", self.form),
            ]
        });
    }
}
