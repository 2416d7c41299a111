//! Plates: room to move, fingers, weight, stress; see [`crate::room`] and [`crate::plates`].

use super::Failure;
use crate::measure::{Measure, Reading};
use crate::model::{PartId, Tool};
use crate::motion::MotionError;
use crate::outline::Shape;
use crate::plates::{shape, weigh};
use crate::room::{Body, Meeting, Pinch, meetings, pinches};
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

/// Clear width that is let alone, mm: a finger. ISO 13854 (EN 349), safety of machinery, minimum gaps to avoid
/// crushing of parts of the human body: 25 mm for a finger (as the AUVA lexicon, "safety distances", prints it).
pub const FINGER: f64 = 25.0;

/// Plates about a common pin are taken to be cut away so far beyond the larger eye, mm (common practice, no source).
const CUT_AWAY: f64 = 0.5;

/// Looks at the whole stroke of a rig.
///
/// # Errors
/// What the linkage cannot do.
pub(super) fn room(rig: &mut Rig<'_>) -> Result<RoomSeen, MotionError> {
    let tool = rig.tool();
    let parts = PartId::ids(tool.parts.len());
    let shapes: Vec<(PartId, Shape)> = parts
        .filter_map(|part| Some((part, shape(tool, part)?.ok()?)))
        .collect();
    let layers = |part: PartId| {
        let section = tool.sections.iter().find(|section| section.part == part);
        section.map_or(&[][..], |section| &section.layers)
    };
    let bodies: Vec<Body<'_>> = shapes
        .iter()
        .map(|(part, shape)| Body {
            part: *part,
            shape,
            layers: layers(*part),
        })
        .collect();
    let held = |part: &PartId| {
        let mut all = bodies.iter();
        all.any(|body| body.part == *part && !body.layers.is_empty())
    };
    let left_out = PartId::ids(tool.parts.len()).filter(|part| !held(part));
    Ok(RoomSeen {
        meetings: meetings(rig, &bodies, CUT_AWAY)?,
        pinches: pinches(rig, &bodies, FINGER)?,
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
