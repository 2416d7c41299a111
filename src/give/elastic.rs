//! The elastic parts and pins of a tool, and what they give together.

use super::beam::{self, Stiffness};
use super::handle::{Bent, Line};
use super::pin::pin_shear;
use super::plate;
use super::result::{Give, NoGive, Rigid, Share, Why, name};
use crate::model::{GripId, JointId, PartId, Section, Shear, Tool};
use crate::statics::{ForceKind, Holding, Rig, Sheet};
use crate::strength::{Knot, Subject, Throats, balanced, knots, throats};
use std::sync::Arc;

/// Places nearer than this are one, mm.
const SAME: f64 = 1e-6;

/// What of a tool gives, made ready once and used at any position.
#[derive(Debug, Clone)]
pub struct Elastic<'a> {
    tool: &'a Tool,
    parts: Vec<Part>,
    pins: Vec<Pin>,
    rigid: Vec<Rigid>,
}

#[derive(Debug, Clone)]
struct Part {
    part: PartId,
    stiffness: Stiffness,
    line: Option<Line>,
    plate: Option<(Arc<Throats>, f64)>,
}

#[derive(Debug, Clone, Copy)]
struct Pin {
    joint: JointId,
    part: PartId,
    /// Per unit of pin force, mm/N.
    shear: f64,
}

/// How far the first jaw spreads per unit of its force where `rig` stands, the hand holding the
/// tool at a grip.
///
/// # Errors
/// [`NoGive`] where the hand cannot hold the jaw.
pub fn give(rig: &mut Rig<'_>, grip: GripId) -> Result<Give, NoGive> {
    Elastic::new(rig.tool()).at(rig, grip)
}

impl<'a> Elastic<'a> {
    /// Sorts the parts and pins of `tool` into elastic and rigid ones.
    #[must_use]
    pub fn new(tool: &'a Tool) -> Self {
        let mut this = Self {
            tool,
            parts: Vec::new(),
            pins: Vec::new(),
            rigid: Vec::new(),
        };
        for part in PartId::ids(tool.parts.len()) {
            match elastic_part(tool, part) {
                Ok(found) => this.parts.push(found),
                Err(why) => this.rigid.push(rigid(tool, Subject::Part(part), why)),
            }
        }
        for joint in JointId::ids(tool.joints.len()) {
            match elastic_pin(tool, joint) {
                Ok(found) => this.pins.push(found),
                Err(why) => this.rigid.push(rigid(tool, Subject::Pin(joint), why)),
            }
        }
        this
    }

    /// As [`give`].
    ///
    /// # Errors
    /// [`NoGive`] where the hand cannot hold the jaw.
    pub fn at(&self, rig: &mut Rig<'_>, grip: GripId) -> Result<Give, NoGive> {
        let (sheet, _) = rig
            .pressed_sheet(Holding::Grip(grip))
            .ok_or(NoGive::NoHold)?;
        Ok(self.under(&sheet))
    }

    /// The give that follows from the forces per unit of jaw force.
    #[must_use]
    pub fn under(&self, sheet: &Sheet) -> Give {
        let mut give = Give {
            rigid: self.rigid.clone(),
            ..Give::default()
        };
        let tool = self.tool;
        for part in &self.parts {
            let subject = Subject::Part(part.part);
            match part.bent(sheet) {
                Some(bent) => give.shares.push(Share {
                    subject,
                    name: name(tool, subject),
                    per_force: bent.all.sum(),
                    flexure: bent.all,
                    hand_side: bent.hand_side.sum(),
                }),
                None => give.rigid.push(rigid(tool, subject, Why::Unbalanced)),
            }
        }
        for pin in &self.pins {
            let subject = Subject::Pin(pin.joint);
            let mut forces = sheet.on(pin.part).iter();
            let Some(on) = forces.find(|f| f.what == ForceKind::Joint(pin.joint)) else {
                continue;
            };
            let square = on.force[0] * on.force[0] + on.force[1] * on.force[1];
            let shear = square * pin.shear;
            give.shares.push(Share {
                subject,
                name: name(tool, subject),
                per_force: shear,
                flexure: super::Flexure {
                    shear,
                    ..super::Flexure::default()
                },
                hand_side: 0.0,
            });
        }
        give.shares
            .sort_by(|a, b| b.per_force.total_cmp(&a.per_force));
        give.rigid
            .sort_by_key(|r| matches!(r.subject, Subject::Pin(_)));
        give.per_force = give.shares.iter().map(|s| s.per_force).sum();
        give.hand_side = give.shares.iter().map(|s| s.hand_side).sum();
        give
    }
}

impl Part {
    /// What the part gives; `None` when its forces do not add up.
    fn bent(&self, sheet: &Sheet) -> Option<Bent> {
        let knots = knots(self.part, sheet);
        if !balanced(&knots) {
            return None;
        }
        let hand = |what| {
            matches!(
                what,
                ForceKind::Hand | ForceKind::Opposite | ForceKind::Palm
            )
        };
        let others = sheet.on(self.part).iter().filter(|f| !hand(f.what));
        if let Some((throats, modulus)) = &self.plate {
            let other = |knot: &&Knot| others.clone().any(|f| (f.local - knot.at).length() < SAME);
            let others: Vec<Knot> = knots.iter().filter(other).copied().collect();
            return Some(plate::flexure(throats, &knots, &others, *modulus));
        }
        Some(match &self.line {
            Some(line) => {
                let others = others.map(|f| line.seat(f.local)).fold(0.0, f64::max);
                line.flexure(&knots, others)
            }
            None => Bent {
                all: beam::flexure(knots, self.stiffness),
                ..Bent::default()
            },
        })
    }
}

fn rigid(tool: &Tool, subject: Subject, why: Why) -> Rigid {
    Rigid {
        subject,
        name: name(tool, subject),
        why,
    }
}

fn section(tool: &Tool, part: PartId) -> Option<&Section> {
    tool.sections.iter().find(|s| s.part == part)
}

fn elastic_part(tool: &Tool, part: PartId) -> Result<Part, Why> {
    let section = section(tool, part).ok_or(Why::NoSection)?;
    let material = tool.materials.get(section.material);
    let modulus = material.and_then(|m| m.modulus).ok_or(Why::NoModulus)?;
    let mut lines = std::iter::once(&tool.hand.handle).chain(&tool.hand.against);
    let line = lines.find(|line| line.part == part);
    Ok(Part {
        part,
        stiffness: Stiffness::new(section.width.at(0.0), section.all_plates(), modulus),
        line: line.and_then(|line| Line::new(tool, line, section, modulus)),
        plate: throats(tool, section).map(|throats| (throats, modulus)),
    })
}

fn elastic_pin(tool: &Tool, joint: JointId) -> Result<Pin, Why> {
    let (Some(this), Some(data)) = (tool.pin(joint), tool.joint_data.get(joint.index())) else {
        return Err(Why::NoDiameter);
    };
    let diameter = data.diameter.ok_or(Why::NoDiameter)?;
    let material = data.material.and_then(|m| tool.materials.get(m));
    let material = material.ok_or(Why::NoMaterial)?;
    let modulus = material.modulus.ok_or(Why::NoModulus)?;
    let plates = |part: PartId| section(tool, part).map(Section::all_plates);
    let (Some(a), Some(b)) = (plates(this.carrier), plates(this.part)) else {
        return Err(Why::NoPlates);
    };
    let planes = match data.shear {
        Shear::Single => 1.0,
        Shear::Double => 2.0,
    };
    Ok(Pin {
        joint,
        part: this.part,
        shear: pin_shear(diameter, a + b, planes, modulus),
    })
}
