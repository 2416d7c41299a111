//! The holes of a plate: those that its pins make by themselves, and those that its outline lists.

use super::at;
use crate::geometry::Vec2;
use crate::model::{Drilled, Joint, Outline, PartId, PointRef, Tool};
use crate::outline::Hole;

/// What a hole belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HoleOf {
    /// A row of `holes`.
    Row(usize),
    /// A pin, by the part's point.
    Pin(usize),
    /// A row of `holes` of the outline that this one mirrors.
    Mirrored(usize),
}

/// The holes of the part's pins: as large as the thickest pin there with its clearance, or as the outline says.
/// The pin of a roller makes one only where `free` says that there is plate and no hole yet: a roller may also turn
/// on a bolt that the outline lists, or beside the plate.
pub(super) fn pins(
    tool: &Tool,
    outline: &Outline,
    free: impl Fn(Vec2) -> bool,
) -> Vec<(Hole, HoleOf)> {
    let points = tool.part(outline.part).map_or(&[][..], |part| &part.points);
    let mut bores = Vec::new();
    for (k, point) in points.iter().enumerate() {
        let row = outline.holes.iter().find_map(|row| match row {
            Drilled::Pin {
                point,
                clearance,
                diameter,
            } if *point == k => Some((*clearance, *diameter)),
            _ => None,
        });
        let (clearance, own) = row.unwrap_or((None, None));
        let at: Vec2 = point.at.into();
        let diameter = own
            .or_else(|| of_joints(tool, outline.part, k, clearance))
            .or_else(|| {
                let roller = of_roller(tool, outline.part, k)?;
                (row.is_some() || free(at)).then(|| roller + clearance.unwrap_or(0.0))
            });
        if let Some(diameter) = diameter.filter(|diameter| *diameter != 0.0) {
            let hole = Hole::Round { at, diameter };
            bores.push((hole, HoleOf::Pin(k)));
        }
    }
    bores
}

/// Diameter of the hole for the pins at a point, with this clearance or each joint's own.
fn of_joints(tool: &Tool, part: PartId, point: usize, clearance: Option<f64>) -> Option<f64> {
    let at = PointRef { part, point };
    let joints = tool.joints.iter().zip(&tool.joint_data);
    let here = joints.filter(|(joint, _)| joint.ends().contains(&at));
    let hole =
        here.filter_map(|(_, data)| Some(data.diameter? + clearance.unwrap_or(data.clearance)));
    hole.reduce(f64::max)
}

/// Diameter of the pin of the roller at a point: the roller turns on it, so that it sits tight in the part.
fn of_roller(tool: &Tool, part: PartId, point: usize) -> Option<f64> {
    let rollers = tool.all_joints().filter_map(Joint::roller);
    let here = rollers.filter(|(at, _)| *at == PointRef { part, point });
    here.map(|(_, roller)| roller.pin).reduce(f64::max)
}

/// The holes that an outline lists, but for those of pins.
pub(super) fn listed(tool: &Tool, outline: &Outline) -> Vec<(Hole, HoleOf)> {
    let at = |place| at(tool, outline.part, place);
    let hole = |(k, row): (usize, &Drilled)| {
        let hole = match row {
            Drilled::Pin { .. } => return None,
            Drilled::Round {
                at: place,
                diameter,
            } => Hole::Round {
                at: at(*place),
                diameter: *diameter,
            },
            Drilled::Slot { ends, width } => Hole::Slot {
                ends: ends.map(at),
                width: *width,
            },
        };
        Some((hole, HoleOf::Row(k)))
    };
    outline.holes.iter().enumerate().filter_map(hole).collect()
}

/// A hole mirrored by `image`, which maps places.
pub(super) fn mirrored((hole, of): (Hole, HoleOf), image: impl Fn(Vec2) -> Vec2) -> (Hole, HoleOf) {
    let hole = match hole {
        Hole::Round { at, diameter } => Hole::Round {
            at: image(at),
            diameter,
        },
        Hole::Slot { ends, width } => Hole::Slot {
            ends: ends.map(image),
            width,
        },
    };
    let of = match of {
        HoleOf::Row(row) => HoleOf::Mirrored(row),
        other => other,
    };
    (hole, of)
}
