//! What plates and pins weigh, and where they balance.
//!
//! m = ρ t A of every plate, its centre that of its area; a pin is a cylinder as long as the plates on it are
//! thick together.

use super::shape;
use crate::geometry::{Frame, Vec2};
use crate::model::{JointId, PartId, Tool};
use std::f64::consts::FRAC_PI_4;

/// A mass and the middle of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Centre {
    /// kg.
    pub mass: f64,
    /// In the part's own axes, mm.
    pub at: Vec2,
}

/// The plates of a part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weighed {
    /// The part.
    pub part: PartId,
    /// Area of one plate, holes taken off, mm².
    pub area: f64,
    /// Middle of that area, mm.
    pub middle: Vec2,
    /// Mass of all its plates, kg; `None` without a thickness or a density.
    pub mass: Option<f64>,
}

/// Everything that has a weight.
#[derive(Debug, Clone, PartialEq)]
pub struct Weight {
    /// Every part with an outline, in the order of the parts.
    pub plates: Vec<Weighed>,
    /// Every pin with a weight, at its place on a part.
    pub pins: Vec<(PartId, Centre)>,
    /// Parts without a weight.
    pub unweighed: Vec<PartId>,
}

/// What the parts of a tool weigh. Outlines that give no shape are left out.
#[must_use]
pub fn weigh(tool: &Tool) -> Weight {
    let plates: Vec<Weighed> = PartId::ids(tool.parts.len())
        .filter_map(|part| weighed(tool, part))
        .collect();
    let has = |part: &PartId| {
        let mut all = plates.iter();
        all.any(|plate| plate.part == *part && plate.mass.is_some())
    };
    let unweighed = PartId::ids(tool.parts.len()).filter(|part| !has(part));
    Weight {
        unweighed: unweighed.collect(),
        pins: pins(tool),
        plates,
    }
}

impl Weight {
    /// The middle of all that is weighed, where the parts stand so; `None` where nothing is.
    #[must_use]
    pub fn together(&self, frames: &[Frame]) -> Option<Centre> {
        let plates = self.plates.iter().filter_map(|plate| {
            let centre = Centre {
                mass: plate.mass?,
                at: plate.middle,
            };
            Some((plate.part, centre))
        });
        let (mut mass, mut sum) = (0.0, Vec2::ZERO);
        for (part, centre) in plates.chain(self.pins.iter().copied()) {
            let at = frames.get(part.index())?.place(centre.at);
            mass += centre.mass;
            sum += at * centre.mass;
        }
        (mass > 0.0).then(|| Centre {
            mass,
            at: sum / mass,
        })
    }
}

fn weighed(tool: &Tool, part: PartId) -> Option<Weighed> {
    let shape = shape(tool, part)?.ok()?;
    let moments = shape.moments();
    let mass = || {
        let section = tool.sections.iter().find(|s| s.part == part)?;
        let density = tool.materials.get(section.material)?.density?;
        Some(density * section.all_plates() * moments.area)
    };
    Some(Weighed {
        part,
        area: moments.area,
        middle: moments.centroid,
        mass: mass(),
    })
}

/// The pins whose joints state a diameter and a material with a density, between parts of known thickness; where
/// three parts or more share a pin, it is one, through all of them.
fn pins(tool: &Tool) -> Vec<(PartId, Centre)> {
    let thickness = |part: PartId| {
        let section = tool.sections.iter().find(|s| s.part == part);
        section.map(|section| section.all_plates())
    };
    let mut pins = Vec::new();
    let mut done: Vec<&str> = Vec::new();
    for (first, joint) in JointId::each(&tool.joints) {
        if done.contains(&joint.pin.as_str()) {
            continue;
        }
        done.push(&joint.pin);
        let others = tool.joints.iter().filter(|other| other.pin == joint.pin);
        let length = others
            .map(|other| thickness(other.part))
            .sum::<Option<f64>>();
        let centre = || {
            let data = tool.joint_data.get(first.index())?;
            let density = tool.materials.get(data.material?)?.density?;
            let length = length? + thickness(joint.carrier)?;
            let point = tool.part(joint.carrier)?.points.get(joint.carrier_point)?;
            Some(Centre {
                mass: density * FRAC_PI_4 * data.diameter?.powi(2) * length,
                at: point.at.into(),
            })
        };
        pins.extend(centre().map(|centre| (joint.carrier, centre)));
    }
    pins
}
