//! What has to be met by a rider on its line: in a slot, straight or an arc, and on a cam like one.

use super::joint::{ArcFrame, Like, SlotFrame};
use super::{JointFrame, Spot};
use crate::geometry::Vec2;
use crate::model::PartId;

/// What the way round a guide's loop, which ends at the rider, has to meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Line {
    /// It lies along this direction of a body.
    Straight { on: PartId, along: Vec2 },
    /// It is as long as this.
    Arc { radius: f64 },
}

/// The rider of a slot and the place that its centre line is counted from, and the line.
pub(super) fn guided(frame: &JointFrame) -> Option<([Spot; 2], Line)> {
    let straight = |slot: &SlotFrame| {
        let (on, along) = (slot.through.body, slot.along);
        ([slot.rider, slot.through], Line::Straight { on, along })
    };
    let about = |arc: &ArcFrame| {
        let radius = arc.radius;
        ([arc.rider, arc.centre], Line::Arc { radius })
    };
    match frame {
        JointFrame::Slot(slot) => Some(straight(slot)),
        JointFrame::Key(key) => Some(straight(&key.slot)),
        JointFrame::Arc(arc) => Some(about(arc)),
        JointFrame::Cam(cam) => match &cam.like {
            Like::Arc(arc) => Some(about(arc)),
            Like::Slot(slot) => Some(straight(slot)),
            Like::Curve(_) => None,
        },
        JointFrame::Pin(_) | JointFrame::Gear(_) | JointFrame::Rack(_) => None,
    }
}
