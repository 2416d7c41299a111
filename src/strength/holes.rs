//! The plates of a part and the holes in them: bearing and tear-out.

use super::cases::Case;
use super::formulas::{SHEAR_SHARE, pin, plate};
use super::knots::SAME;
use super::ledger::{Finding, Ledger, force, length, number};
use super::result::{Place, Subject};
use super::throats::{Eye, Throats};
use crate::geometry::Vec2;
use crate::model::{Depth, JointId, Material, PartId, PointRef, Section, Tool};
use crate::outline::Shape;
use crate::plates::shape;
use crate::statics::{ForceKind, Sheet};
use crate::units::Quantity;
use std::sync::Arc;

/// A hole of a part.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Hole {
    /// The part's point.
    pub point: usize,
    /// Its place in the part's axes, mm.
    pub local: Vec2,
    /// Joints whose pin it holds.
    pub joints: Vec<JointId>,
    /// Pin diameter, mm.
    pub pin: Option<f64>,
    /// Diameter of the hole, mm.
    pub hole: Option<f64>,
    /// Yield strength of the weakest pin in it, MPa.
    pub pin_yield: Option<f64>,
    /// Depth of the plate across it, mm.
    pub width: f64,
    /// Its middle to the end of the plate, mm.
    pub edge: Option<f64>,
}

impl Hole {
    /// How far off its middle a pin may stand, mm.
    pub(super) fn play(&self) -> f64 {
        self.hole
            .zip(self.pin)
            .map_or(0.0, |(hole, pin)| 0.5 * (hole - pin))
    }
}

/// A part with a section.
#[derive(Debug, Clone)]
pub(super) struct Plates<'a> {
    pub part: PartId,
    pub section: &'a Section,
    pub material: &'a Material,
    pub holes: Vec<Hole>,
    /// The sections of its outline, where these tell the depth.
    pub throats: Option<Arc<Throats>>,
}

/// A hole that a joint makes in one part: diameters in mm, the pin's yield strength in MPa.
struct Bore {
    joint: JointId,
    at: PointRef,
    pin: Option<f64>,
    hole: Option<f64>,
    pin_yield: Option<f64>,
}

/// The holes of a tool's pins, and of the pins that rollers turn on, in the parts that carry them. A pin that
/// rides in a slot without a roller has no size in the file, and so no hole here.
fn bores(tool: &Tool) -> impl Iterator<Item = Bore> {
    let pins = JointId::each(&tool.joints).flat_map(|(joint, pin)| {
        let data = tool.joint_data.get(joint.index());
        let diameter = data.and_then(|d| d.diameter);
        let material = data.and_then(|d| tool.materials.get(d.material?));
        pin.ends().map(|at| Bore {
            joint,
            at,
            pin: diameter,
            hole: data.and_then(|d| Some(d.diameter? + d.clearance)),
            pin_yield: material.map(|m| m.yield_strength),
        })
    });
    let rollers = tool.all_joints().enumerate().filter_map(|(k, joint)| {
        let (at, roller) = joint.roller()?;
        Some(Bore {
            joint: JointId::new(k),
            at,
            pin: Some(roller.pin),
            hole: Some(roller.pin),
            pin_yield: None,
        })
    });
    pins.chain(rollers)
}

impl<'a> Plates<'a> {
    /// The plates of a section; `None` when the material or the part does not exist.
    pub(super) fn new(tool: &'a Tool, section: &'a Section) -> Option<Self> {
        let mut plates = Self::bare(tool, section)?;
        if section.width == Depth::Outlined {
            plates.outline(&shape(tool, section.part)?.ok()?);
        }
        Some(plates)
    }

    /// The same plates of a made tool: its outline is as drawn.
    pub(super) fn remade<'b>(&self, tool: &'b Tool, section: &'b Section) -> Option<Plates<'b>> {
        let holes: Vec<_> = self
            .holes
            .iter()
            .map(|hole| (hole.width, hole.edge))
            .collect();
        Plates::with(tool, section, &holes, &self.throats)
    }

    /// The plates of a section with widths and edges of their holes, and sections, that are known.
    pub(super) fn with(
        tool: &'a Tool,
        section: &'a Section,
        holes: &[(f64, Option<f64>)],
        throats: &Option<Arc<Throats>>,
    ) -> Option<Self> {
        let mut plates = Self::bare(tool, section)?;
        for (hole, own) in plates.holes.iter_mut().zip(holes) {
            (hole.width, hole.edge) = *own;
        }
        plates.throats.clone_from(throats);
        Some(plates)
    }

    fn bare(tool: &'a Tool, section: &'a Section) -> Option<Self> {
        let part = tool.part(section.part)?;
        let mut holes: Vec<Hole> = Vec::new();
        for bored in bores(tool) {
            if bored.at.part != section.part {
                continue;
            }
            // A mark for a roller may stand where a pin does.
            let local: Vec2 = (part.points.get(bored.at.point)?.at).into();
            let same = |h: &&mut Hole| (h.local - local).length() < SAME;
            match holes.iter_mut().find(same) {
                Some(known) => {
                    known.joints.push(bored.joint);
                    known.pin = most(known.pin, bored.pin);
                    known.hole = most(known.hole, bored.hole);
                    known.pin_yield = least(known.pin_yield, bored.pin_yield);
                }
                None => holes.push(Hole {
                    point: bored.at.point,
                    local,
                    joints: vec![bored.joint],
                    pin: bored.pin,
                    hole: bored.hole,
                    pin_yield: bored.pin_yield,
                    width: section.width.at(0.0),
                    edge: section.edge,
                }),
            }
        }
        Some(Self {
            part: section.part,
            section,
            material: tool.materials.get(section.material)?,
            holes,
            throats: None,
        })
    }

    /// Takes widths and edges from an outline.
    fn outline(&mut self, shape: &Shape) {
        let eye = |hole: &Hole| {
            let diameter = hole.hole?;
            Some(Eye {
                at: hole.local,
                diameter,
            })
        };
        let eyes: Vec<Eye> = self.holes.iter().filter_map(eye).collect();
        let throats = Throats::of(shape, &eyes, self.section.thickness, self.thickness());
        for hole in &mut self.holes {
            let own = throats.through().find(|(eye, _)| eye.at == hole.local);
            hole.width = own.map_or(f64::NAN, |(_, throat)| throat.depth());
            hole.edge = hole.edge.or(Some(shape.to_outer(hole.local)));
        }
        self.throats = Some(Arc::new(throats));
    }

    /// Thickness of all plates together, mm.
    pub(super) fn thickness(&self) -> f64 {
        self.section.all_plates()
    }

    /// Depth in the plane at a distance along the hand line, mm: straight lines between stations. The least of
    /// an outline.
    pub(super) fn depth(&self, along: f64) -> f64 {
        match &self.throats {
            Some(throats) => throats.least_depth().unwrap_or(f64::NAN),
            None => self.section.width.at(along),
        }
    }

    /// Force in a hole: of all pin joints at that point together, N, in the tool's axes.
    pub(super) fn pin_force(&self, sheet: &Sheet, hole: &Hole) -> Vec2 {
        let mut sum = Vec2::ZERO;
        for f in sheet.on(self.part) {
            if matches!(f.what, ForceKind::Joint(j) if hole.joints.contains(&j)) {
                sum[0] += f.force[0];
                sum[1] += f.force[1];
            }
        }
        sum
    }

    /// Bearing in every hole.
    pub(super) fn bearing(&self, case: &Case<'_>, ledger: &mut Ledger) {
        for hole in &self.holes {
            let Some(d) = hole.pin else { continue };
            let [x, y] = self.pin_force(case.sheet, hole).xy();
            let load = x.hypot(y);
            let own = self.material.yield_strength;
            let (allowable, against) = match hole.pin_yield {
                Some(pin) if pin < own => (pin, "yield of the pin"),
                _ => (own, "yield"),
            };
            let finding = Finding {
                subject: Subject::Part(self.part),
                formula: pin::BEARING,
                value: pin::bearing(load, d, self.thickness()),
                allowable,
                against,
                quantity: Quantity::Stress,
                place: Some(Place::Point(hole.point)),
                stretch: 0,
            };
            ledger.offer(case, finding, || {
                vec![
                    force("F", load),
                    length("d", d),
                    length("t", self.section.thickness),
                    number("n", f64::from(self.section.plates)),
                ]
            });
        }
    }

    /// Tear-out at a hole under `load`, N, as if all of it pointed to the end of the plate.
    pub(super) fn tear_out(&self, case: &Case<'_>, ledger: &mut Ledger, hole: &Hole, load: f64) {
        let (Some(d), Some(e)) = (hole.hole, hole.edge) else {
            return;
        };
        if e <= 0.5 * d {
            return;
        }
        let (strength, against) = match self.material.ultimate {
            Some(ultimate) => (ultimate, "0.577 ultimate"),
            None => (self.material.yield_strength, "0.577 yield"),
        };
        let finding = Finding {
            subject: Subject::Part(self.part),
            formula: plate::TEAR_OUT,
            value: plate::tear_out(load, e, d, self.thickness()),
            allowable: SHEAR_SHARE * strength,
            against,
            quantity: Quantity::Stress,
            place: Some(Place::Point(hole.point)),
            stretch: 0,
        };
        ledger.offer(case, finding, || {
            vec![
                force("F", load),
                length("e", e),
                length("d", d),
                length("t", self.section.thickness),
                number("n", f64::from(self.section.plates)),
            ]
        });
    }

    /// Whether a hole reaches the end of the plate.
    pub(super) fn hole_at_end(&self) -> bool {
        let at_end = |h: &Hole| Some(h.edge? <= 0.5 * h.hole?);
        self.holes.iter().any(|h| at_end(h) == Some(true))
    }
}

fn most(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    a.map_or(b, |a| Some(b.map_or(a, |b| a.max(b))))
}

fn least(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    a.map_or(b, |a| Some(b.map_or(a, |b| a.min(b))))
}

/// The sections of a part whose depth its outline tells.
pub(crate) fn throats(tool: &Tool, section: &Section) -> Option<Arc<Throats>> {
    Plates::new(tool, section)?.throats
}
