//! Tooth sectors, as reports show them: over the stroke, and what they carry.

use super::show::Shown;
use crate::analysis::{CaseLoads, GearsSeen, Solved};
use crate::model::{Gears, Joint, JointId, Mesh, Tool};
use crate::statics::ForceKind;
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// A pair of tooth sectors over the stroke.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GearsLine {
    /// Its name.
    pub name: String,
    /// How the teeth stand: `"external"`, `"internal"` or `"rack"`.
    pub mesh: &'static str,
    /// Pitch circle over number of teeth.
    pub module: f64,
    /// Distance of the two pins; of a rack and pinion from the pin to the pitch line.
    pub centres: f64,
    /// Angle of the pressure line at that distance.
    pub pressure_angle: f64,
    /// The same as the file states it, where the witness circles touch.
    pub stated_angle: f64,
    /// Contact ratio of full-depth teeth.
    pub contact_ratio: f64,
    /// Share of the work that gets through the teeth; 1 without friction.
    pub efficiency: f64,
    /// The two toothed parts.
    pub sides: [ToothedLine; 2],
}

/// One part of a pair.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToothedLine {
    /// The part.
    pub part: String,
    /// Teeth in the full circle; null for a rack.
    pub teeth: Option<u32>,
    /// Pitch radius; null for a rack.
    pub radius: Option<f64>,
    /// Least and greatest turn past where the marks meet; of a rack a length.
    pub turned: [f64; 2],
    /// How much must be cut for the stroke, middle at the mark; of a rack a length.
    pub needed: f64,
    /// How much is cut; null where the file does not say.
    pub cut: Option<f64>,
    /// Less is cut than the stroke needs; null where the file does not say.
    pub too_short: Option<bool>,
    /// It has fewer teeth than are cut at full depth without losing their foot.
    pub undercut: bool,
}

/// The force between the teeth of a pair, on its first part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GearsReport {
    /// The pair.
    pub gears: String,
    /// The part that the force acts on.
    pub on: String,
    /// The part that exerts it.
    pub by: String,
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Where the pitch point is.
    pub at: [f64; 2],
    /// Force of the teeth on each other, along the pressure line.
    pub tooth: f64,
    /// Its component along the pitch circle, which carries the work.
    pub pitch_line: f64,
    /// Its component along the line of centres, which loads the pins.
    pub separating: f64,
    /// Moment of friction between the teeth, on the first part, counter-clockwise.
    pub friction: f64,
}

/// Every pair of a solved stroke.
pub(super) fn gears_lines(tool: &Tool, solved: &Solved, units: UnitSystem) -> Vec<GearsLine> {
    let lines = solved.gears.iter();
    lines.filter_map(|seen| line(tool, seen, units)).collect()
}

fn line(tool: &Tool, seen: &GearsSeen, units: UnitSystem) -> Option<GearsLine> {
    let gears = tool.gears.get(seen.index)?;
    let length = |v: f64| units.show(v, Quantity::Length);
    let side = |side: usize| {
        let rack = gears.teeth[side] == 0;
        let way = if rack {
            Quantity::Length
        } else {
            Quantity::Angle
        };
        let part = tool.part(gears.parts[side]);
        ToothedLine {
            part: part.map_or_else(String::new, |part| part.name.clone()),
            teeth: (!rack).then_some(gears.teeth[side]),
            radius: (!rack).then(|| length(seen.radii[side])),
            turned: seen.turned[side].map(|v| units.show(v, way)),
            needed: units.show(seen.needed[side], way),
            cut: gears.sector[side].map(|v| units.show(v, way)),
            too_short: seen.too_short(tool, side),
            undercut: seen.undercut[side],
        }
    };
    Some(GearsLine {
        name: gears.label(seen.index),
        mesh: match gears.mesh {
            Mesh::External => "external",
            Mesh::Internal => "internal",
            Mesh::Rack { .. } => "rack",
        },
        pressure_angle: units.show(gears.working_angle(tool), Quantity::Angle),
        stated_angle: units.show(gears.angle, Quantity::Angle),
        module: length(seen.module),
        centres: length(seen.apart),
        contact_ratio: seen.contact,
        efficiency: seen.efficiency,
        sides: [side(0), side(1)],
    })
}

impl Shown<'_> {
    pub(super) fn gears(&self, case: &CaseLoads) -> Vec<GearsReport> {
        let joints = self.tool.all_joints().enumerate();
        joints
            .filter_map(|(k, joint)| match joint {
                Joint::Gears(index, gears) => self.teeth(case, JointId::new(k), (index, gears)),
                Joint::Pin(..) | Joint::Slot(..) | Joint::Cam(..) => None,
            })
            .collect()
    }

    /// Both components follow from the force and the pressure angle.
    fn teeth(
        &self,
        case: &CaseLoads,
        joint: JointId,
        (index, gears): (usize, &Gears),
    ) -> Option<GearsReport> {
        let force = self.force_of(case, gears.parts[0], ForceKind::Joint(joint))?;
        let [x, y] = self.pair(force.force.xy(), Quantity::Force);
        let tooth = force.force.length();
        let show = |v: f64| self.show(v, Quantity::Force);
        let angle = gears.working_angle(self.tool);
        Some(GearsReport {
            gears: gears.label(index),
            on: self.part(gears.parts[0]),
            by: self.part(gears.parts[1]),
            x,
            y,
            at: self.pair(force.at.xy(), Quantity::Length),
            tooth: show(tooth),
            pitch_line: show(tooth * angle.cos()),
            separating: show(tooth * angle.sin()),
            friction: self.show(force.moment, Quantity::Torque),
        })
    }
}
