//! Pins: shear, and bending across the plates.

use super::cases::Case;
use super::formulas::{SHEAR_SHARE, pin};
use super::ledger::{Finding, Ledger, force, length, torque};
use super::note::Note;
use super::result::Subject;
use crate::model::{Joint, JointId, PartId, Section, Shear, Tool};
use crate::statics::ForceKind;
use crate::units::Quantity;

/// A pin with a diameter and a material.
#[derive(Debug, Clone)]
pub(super) struct Pin {
    pub(super) joint: JointId,
    part: PartId,
    diameter: f64,
    yield_strength: f64,
    shear: Shear,
    plates: Option<Stack>,
}

/// How the plates lie along a pin, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Stack {
    Fork { outer: f64, inner: f64 },
    Lap { thicker: f64 },
}

/// The pins that can be checked, and what is missing for the others.
pub(super) fn pins(tool: &Tool) -> (Vec<Pin>, Vec<Note>) {
    let mut found = Vec::new();
    let (mut no_diameter, mut no_material) = (Vec::new(), Vec::new());
    let (mut no_plates, mut single, mut shared) = (Vec::new(), Vec::new(), Vec::new());
    for ((j, joint), data) in JointId::each(&tool.joints).zip(&tool.joint_data) {
        let Some(diameter) = data.diameter else {
            no_diameter.push(j);
            continue;
        };
        let Some(material) = data.material.and_then(|m| tool.materials.get(m)) else {
            no_material.push(j);
            continue;
        };
        if tool
            .joints
            .iter()
            .filter(|other| other.pin == joint.pin)
            .count()
            > 1
        {
            shared.push(j);
        }
        let section = |part: PartId| tool.sections.iter().find(|s| s.part == part);
        let plates = match (section(joint.carrier), section(joint.part)) {
            (Some(a), Some(b)) => {
                let stack = stack(data.shear, a, b);
                if stack.is_none() {
                    single.push(j);
                }
                stack
            }
            _ => {
                no_plates.push(j);
                None
            }
        };
        found.push(Pin {
            joint: j,
            part: joint.part,
            diameter,
            yield_strength: material.yield_strength,
            shear: data.shear,
            plates,
        });
    }
    let (mut on_rollers, mut in_slots) = (Vec::new(), Vec::new());
    for (k, joint) in tool.all_joints().enumerate() {
        match joint {
            _ if joint.roller().is_some() => on_rollers.push(JointId::new(k)),
            // A keyed part slides in its guide by itself.
            Joint::Slot(_, slot) if slot.keyed.is_none() => in_slots.push(JointId::new(k)),
            _ => {}
        }
    }
    let notes = [
        (no_diameter, Note::NoDiameter as fn(Vec<JointId>) -> Note),
        (no_material, Note::NoPinMaterial),
        (no_plates, Note::NoPlates),
        (single, Note::SinglePlates),
        (shared, Note::Shared),
        (on_rollers, Note::RollerPins),
        (in_slots, Note::SlotPins),
    ];
    let notes = notes.into_iter().filter(|(list, _)| !list.is_empty());
    (found, notes.map(|(list, note)| note(list)).collect())
}

/// How two parts lie along their pin. The one with more plates is the fork; of two forks that are
/// pushed into each other, the order that bends the pin more.
fn stack(shear: Shear, a: &Section, b: &Section) -> Option<Stack> {
    let fork = |outside: &Section, inside: &Section| {
        let (outer, inner) = (0.5 * outside.all_plates(), inside.all_plates());
        Stack::Fork { outer, inner }
    };
    match shear {
        Shear::Single => Some(Stack::Lap {
            thicker: a.all_plates().max(b.all_plates()),
        }),
        Shear::Double if a.plates.max(b.plates) < 2 => None,
        Shear::Double if a.plates > b.plates => Some(fork(a, b)),
        Shear::Double if b.plates > a.plates => Some(fork(b, a)),
        Shear::Double => {
            let (one, other) = (fork(a, b), fork(b, a));
            let worse = one.moment(1.0) >= other.moment(1.0);
            Some(if worse { one } else { other })
        }
    }
}

impl Stack {
    fn moment(self, load: f64) -> f64 {
        match self {
            Self::Fork { outer, inner } => pin::fork_moment(load, outer, inner, 0.0),
            Self::Lap { thicker } => pin::lap_moment(load, thicker),
        }
    }
}

impl Pin {
    /// Shear and bending in one load case.
    pub(super) fn check(&self, case: &Case<'_>, ledger: &mut Ledger) {
        let of_this = |what: ForceKind| what == ForceKind::Joint(self.joint);
        let Some(on) = case.sheet.on(self.part).iter().find(|f| of_this(f.what)) else {
            return;
        };
        let load = on.force[0].hypot(on.force[1]);
        let d = self.diameter;
        let (formula, planes) = match self.shear {
            Shear::Single => (pin::SINGLE_SHEAR, 1.0),
            Shear::Double => (pin::DOUBLE_SHEAR, 2.0),
        };
        let shear = Finding {
            subject: Subject::Pin(self.joint),
            formula,
            value: pin::shear(load, d, planes),
            allowable: SHEAR_SHARE * self.yield_strength,
            against: "0.577 yield",
            quantity: Quantity::Stress,
            place: None,
            stretch: 0,
        };
        ledger.offer(case, shear, || vec![force("F", load), length("d", d)]);
        let Some(stack) = self.plates else { return };
        let moment = stack.moment(load);
        let bending = Finding {
            formula: match stack {
                Stack::Fork { .. } => pin::FORK_BENDING,
                Stack::Lap { .. } => pin::LAP_BENDING,
            },
            value: moment / pin::round_modulus(d),
            allowable: self.yield_strength,
            against: "yield",
            ..shear
        };
        ledger.offer(case, bending, || {
            let mut inputs = vec![force("F", load), length("d", d)];
            match stack {
                Stack::Fork { outer, inner } => {
                    inputs.extend([length("t1", outer), length("t2", inner)]);
                }
                Stack::Lap { thicker } => inputs.push(length("t", thicker)),
            }
            inputs.push(torque("M", moment));
            inputs
        });
    }
}
