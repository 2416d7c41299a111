//! Slots that a pin rides in and for which a plate has no opening.

use super::parts::PartsReport;
use crate::geometry::Vec2;
use crate::model::{Joint, PointRef, SlotLine, Tool};
use crate::plates::shape;
use crate::scene::{Scenes, place};
use crate::units::{Quantity, UnitSystem, figures};

impl PartsReport {
    /// Notes on each pin that rides in a straight slot of a plate in which material stands in its way; `scenes`: how
    /// far riders go. A keyed slider is guided by faces, which no outline tells, and is left out; so is a slot that is an arc.
    pub fn add_slots(&mut self, tool: &Tool, scenes: &Scenes, units: UnitSystem) {
        for (joint, reach) in tool.all_joints().zip(&scenes.reaches) {
            let Joint::Slot(_, slot) = joint else {
                continue;
            };
            let Some(Ok(plate)) = shape(tool, slot.on).filter(|_| slot.keyed.is_none()) else {
                continue;
            };
            let SlotLine::Straight { through, angle } = slot.line else {
                continue;
            };
            let Some(through) = place(tool, slot.on, through) else {
                continue;
            };
            let ends = reach.map(|along| Vec2::from(through) + Vec2::unit(angle) * along);
            let middle = (ends[0] + ends[1]) * 0.5;
            let stands = |at: &Vec2| at.is_finite() && plate.holds(*at);
            if !ends.iter().chain([&middle]).any(stands) {
                continue;
            }
            let name = |part| tool.part(part).map_or("", |part| part.name.as_str());
            let shown = |mm: f64| figures(units.show(mm, Quantity::Length));
            let [from, to] = ends.map(|at| at.xy().map(shown).join(", "));
            let roller = slot.roller.map(|roller| roller.diameter);
            let width = roller.or_else(|| pin(tool, slot.rider));
            let width = width.map_or("...".to_owned(), shown);
            self.notes.push(format!(
                "{on}: no opening for the slot that {rider} rides in, over the stroke from ({from}) to ({to}): add \
                 {{ slot = [[{from}], [{to}]], width = {width} }} to its holes, with play",
                on = name(slot.on),
                rider = name(slot.rider.part),
            ));
        }
    }
}

/// Diameter of the pin at a point, mm.
fn pin(tool: &Tool, at: PointRef) -> Option<f64> {
    let joints = tool.joints.iter().zip(&tool.joint_data);
    let here = joints.filter(|(joint, _)| joint.ends().contains(&at));
    here.filter_map(|(_, data)| data.diameter).reduce(f64::max)
}
