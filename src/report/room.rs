//! Room to move and places where fingers are caught; a chapter of `check`.

use super::spot::spot;
use crate::analysis::RoomSeen;
use crate::model::{PartId, Reach, Tool};
use crate::room::Near;
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// How plates come near each other over the stroke.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RoomReport {
    /// Every two parts with plates in one layer.
    pub pairs: Vec<PairLine>,
    /// Least distance that the file asks for; null where it asks for none.
    pub apart: Option<f64>,
    /// Fingers are looked for between all parts, not only beside the handles.
    pub everywhere: bool,
    /// Where a finger fits beside a handle, or anywhere, with the tool open.
    pub pinches: Vec<PinchLine>,
    /// Clear width that a finger takes.
    pub finger: f64,
    /// Parts held against none: without an outline or layers.
    pub left_out: Vec<String>,
}

/// Two parts with plates in one layer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PairLine {
    /// The two parts.
    pub parts: [String; 2],
    /// Least distance over the stroke; 0 where they touch.
    pub distance: f64,
    /// They touch: what follows is where they do first.
    pub touches: bool,
    /// They come nearer than the file asks for.
    pub too_near: bool,
    /// Handle angle there.
    pub handle: f64,
    /// Where on the stroke, as a share of it from open (0) to shut (1).
    pub share: f64,
    /// The place, `[x, y]` in the fixed part's axes.
    pub at: [f64; 2],
    /// The same for people to find.
    #[serde(skip)]
    pub spot: String,
    /// Where they touch when the tool is opened farther than open; null where they do not.
    pub beyond: Option<BeyondLine>,
}

/// Where plates stop a tool that is opened farther than open.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BeyondLine {
    /// How far the handle turns from open to there; null for a handle that slides.
    pub opened: Option<f64>,
    /// The place, `[x, y]` in the fixed part's axes.
    pub at: [f64; 2],
    /// The same for people to find.
    #[serde(skip)]
    pub spot: String,
}

/// A place where fingers may be caught.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PinchLine {
    /// The handle, and what comes near it; elsewhere the two parts.
    pub parts: [String; 2],
    /// Clear width there with the tool open, and shut.
    pub widths: [f64; 2],
    /// It falls through the width of a finger.
    pub pinches: bool,
    /// It is beside a handle.
    pub beside_handle: bool,
    /// The place, `[x, y]` in the own axes of the first part.
    pub at: [f64; 2],
    /// The same for people to find.
    #[serde(skip)]
    pub spot: String,
}

/// How plates come near each other; `whole`: the pace of the whole stroke. `None` where none are held against
/// another.
#[must_use]
pub fn room_report(
    tool: &Tool,
    seen: &RoomSeen,
    whole: f64,
    units: UnitSystem,
) -> Option<RoomReport> {
    if seen.meetings.is_empty() && seen.pinches.is_empty() {
        return None;
    }
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let name = |part: PartId| tool.part(part).map_or(String::new(), |p| p.name.clone());
    let pairs = seen.meetings.iter().map(|meeting| {
        let near = meeting.approach.nearest;
        let (pace, distance) = (near.pace, near.distance);
        let middle = |near: &Near| ((near.points[0] + near.points[1]) * 0.5).xy();
        let fixed = |near: &Near| spot(tool, tool.fixed, middle(near), units);
        PairLine {
            parts: meeting.parts.map(name),
            distance: length(distance),
            touches: meeting.approach.touch.is_some(),
            share: if whole > 0.0 { pace / whole } else { 0.0 },
            too_near: tool.room.apart.is_some_and(|apart| distance < apart),
            handle: units.show(meeting.handle, Quantity::Angle),
            at: middle(&near).map(length),
            spot: fixed(&near),
            beyond: meeting.beyond.map(|stop| BeyondLine {
                opened: (stop.opened > 0.0).then(|| units.show(stop.opened, Quantity::Angle)),
                at: middle(&stop.near).map(length),
                spot: fixed(&stop.near),
            }),
        }
    });
    let pinches = seen.pinches.iter().map(|pinch| PinchLine {
        parts: pinch.parts.map(name),
        widths: [pinch.open, pinch.shut].map(length),
        pinches: pinch.through.is_some(),
        beside_handle: pinch.beside_handle,
        at: pinch.at.xy().map(length),
        spot: spot(tool, pinch.parts[0], pinch.at.xy(), units),
    });
    Some(RoomReport {
        pairs: pairs.collect(),
        pinches: pinches.collect(),
        finger: length(tool.room.finger()),
        apart: tool.room.apart.map(length),
        everywhere: tool.room.reach == Reach::All,
        left_out: seen.left_out.iter().map(|&part| name(part)).collect(),
    })
}
