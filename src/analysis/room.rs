//! Plates: room to move, fingers, weight, stress; see [`crate::room`] and [`crate::plates`].

use super::Failure;
use crate::geometry::Frame;
use crate::measure::{Measure, Reading};
use crate::model::{PartId, Tool};
use crate::outline::Shape;
use crate::plates::{shape, weigh};
use crate::room::{Body, Contact, Meeting, Pinch, contacts, meetings, pinches};
use crate::statics::{Absent, Rig};
use crate::strength::Strength;

/// How plates come near each other, over the whole stroke.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RoomSeen {
    /// Every two parts with plates in one layer.
    pub meetings: Vec<Meeting>,
    /// Where fingers may be caught.
    pub pinches: Vec<Pinch>,
    /// Parts that are held against none: without an outline or without layers.
    pub left_out: Vec<PartId>,
}

/// Plates about a common pin are taken to be cut away so far beyond the larger eye, mm (common practice, no source).
const CUT_AWAY: f64 = 0.5;

/// The outlines of a tool's parts.
fn shapes(tool: &Tool) -> Vec<(PartId, Shape)> {
    let parts = PartId::ids(tool.parts.len());
    parts
        .filter_map(|part| Some((part, shape(tool, part)?.ok()?)))
        .collect()
}

fn bodies<'a>(tool: &'a Tool, shapes: &'a [(PartId, Shape)]) -> Vec<Body<'a>> {
    let layers = |part: PartId| {
        let section = tool.sections.iter().find(|section| section.part == part);
        section.map_or(&[][..], |section| &section.layers)
    };
    let body = |(part, shape): &'a (PartId, Shape)| Body {
        part: *part,
        shape,
        layers: layers(*part),
    };
    shapes.iter().map(body).collect()
}

/// Which plates touch in one layer, with the parts of a tool at `frames` (in its order).
#[must_use]
pub fn touching(tool: &Tool, frames: &[Frame]) -> Vec<Contact> {
    let shapes = shapes(tool);
    contacts(tool, &bodies(tool, &shapes), frames, CUT_AWAY)
}

/// Looks at the whole stroke of a rig.
///
/// # Errors
/// What the linkage cannot do; plates that overlap with the tool open.
pub(super) fn room(rig: &mut Rig<'_>) -> Result<RoomSeen, Failure> {
    let tool = rig.tool();
    let shapes = shapes(tool);
    let bodies = bodies(tool, &shapes);
    let held = |part: &PartId| {
        let mut all = bodies.iter();
        all.any(|body| body.part == *part && !body.layers.is_empty())
    };
    let left_out = PartId::ids(tool.parts.len()).filter(|part| !held(part));
    let meetings = meetings(rig, &bodies, CUT_AWAY)?;
    for meeting in &meetings {
        if let Some(both) = &meeting.at_rest {
            return Err(Failure::Overlap {
                parts: meeting.parts,
                layer: meeting.layer,
                area: both.area,
                at: both.middle.xy(),
            });
        }
    }
    Ok(RoomSeen {
        meetings,
        pinches: pinches(rig, &bodies, &tool.room)?,
        left_out: left_out.collect(),
    })
}

/// A measure of plates, where the room and the strength are known.
///
/// # Errors
/// [`Failure`] of what is looked for.
pub(super) fn read(
    tool: &Tool,
    measure: &Measure,
    room: impl FnOnce() -> Result<RoomSeen, Failure>,
    strength: Option<&Strength>,
) -> Result<Reading, Failure> {
    Ok(match measure {
        Measure::Mass => mass(tool),
        Measure::Clearance(names) => clearance(tool, &room()?, names.as_deref()),
        Measure::Pinch => {
            let widths = room()?.pinches.into_iter().map(|pinch| pinch.shut);
            widths.reduce(f64::min).ok_or(Absent::NoPinch)
        }
        Measure::Stress(name) => {
            let found = strength.and_then(|strength| strength.stress(name));
            found.ok_or(Absent::NoCut)
        }
        _ => Err(Absent::OfTheStroke),
    })
}

fn mass(tool: &Tool) -> Reading {
    let weight = weigh(tool);
    if !weight.unweighed.is_empty() {
        return Err(Absent::NotWeighed);
    }
    let plates = weight.plates.iter().filter_map(|plate| plate.mass);
    let pins = weight.pins.iter().map(|(_, pin)| pin.mass);
    Ok(plates.chain(pins).sum())
}

fn clearance(tool: &Tool, room: &RoomSeen, names: Option<&str>) -> Reading {
    let name = |part: PartId| tool.part(part).map_or("", |part| part.name.as_str());
    let is_meant = |meeting: &&Meeting| {
        let [a, b] = meeting.parts.map(name);
        names.is_none_or(|names| names == format!("{a}.{b}") || names == format!("{b}.{a}"))
    };
    let meant = room.meetings.iter().filter(is_meant);
    let least = meant.map(|meeting| meeting.approach.nearest.distance);
    least.reduce(f64::min).ok_or(Absent::NoLayer)
}
