//! Derivatives of the gap by every dimension and clearance: the same unit-load forces once more.
//!
//! Each part is in balance under the forces per unit of jaw force, so they do no work when the part
//! moves as a rigid body. Summed over all parts, where joints stay together their forces cancel and
//! the jaw's pair gives the change of the gap; what is left is the work of each force over the shift
//! of its own point *within its part*. So, with the handle angle held,
//!
//! ```text
//! d gap / d (coordinate of a point on a part) = component of the forces there, in the part's axes
//! ```
//!
//! and for a two-pin link d gap / d length = its axial force, tension positive. From first
//! principles (virtual work); the forces are pure numbers, N per N.

use super::teeth;
use crate::geometry::Vec2;
use crate::model::dimension::{DimensionSlot, of_parts};
use crate::model::{GripId, HandLine, Joint, JointId, PartId, Place, PointRef, Tool};
use crate::statics::{ForceKind, Holding, Rig, Sheet};

/// How the gap of the first jaw moves at one position.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct GapRates {
    /// For every dimension of the tool, in file order: the change of the gap per unit of its
    /// change, mm/mm. The handle angle is held (for a handle that slides: the first grip, along its
    /// push); grips keep their place on the handle.
    pub dimensions: Vec<(DimensionSlot, f64)>,
    /// For every joint: how the gap changes when the later part's hole centre is shifted from the
    /// carrier's, by x and y of the tool's axes, mm/mm.
    pub pins: Vec<Vec2>,
}

impl GapRates {
    /// Change of the gap per unit of a dimension, mm/mm.
    #[must_use]
    pub fn of(&self, slot: DimensionSlot) -> Option<f64> {
        let mut all = self.dimensions.iter();
        all.find(|(own, _)| *own == slot).map(|(_, rate)| *rate)
    }

    /// Change of the gap per unit of the clearance (hole minus pin, on the diameter) of a joint
    /// that is taken up in the direction of the jaw's load, mm/mm: it opens the gap. The hole's
    /// centre is then half the clearance off the pin's.
    #[must_use]
    pub fn clearance(&self, joint: JointId) -> Option<f64> {
        self.pins.get(joint.index()).map(|pin| 0.5 * pin.length())
    }
}

/// The derivative of the gap by every dimension, by address (`part.length`, `part.point.x` …), where
/// `rig` stands. `None` at a dead position, and in a linkage with redundant bars.
#[must_use]
pub fn gap_derivatives(rig: &mut Rig<'_>) -> Option<Vec<(String, f64)>> {
    let tool = rig.tool();
    let rates = gap_rates(rig)?;
    let named = rates.dimensions.into_iter();
    let named = named.filter_map(|(slot, rate)| {
        Some((crate::model::dimension::address(&tool.parts, slot)?, rate))
    });
    Some(named.collect())
}

/// How the gap moves where `rig` stands, without text, for use in a loop. `None` at a dead position,
/// and in a linkage with redundant bars.
#[must_use]
pub fn gap_rates(rig: &mut Rig<'_>) -> Option<GapRates> {
    let holding = if rig.turns() {
        Holding::Angle
    } else {
        Holding::Grip(GripId::FIRST)
    };
    let (sheet, held) = rig.unit_sheet(holding)?;
    Some(GapRates::of_sheet(rig.tool(), &sheet, holding, held))
}

impl GapRates {
    /// Read off the sheet of 1 N at the jaw (see [`unit_sheet`](crate::statics::unit_sheet)) that
    /// the hand holds so, with this force (N) or moment (N mm).
    #[must_use]
    pub fn of_sheet(tool: &Tool, sheet: &Sheet, holding: Holding, held: f64) -> Self {
        let mut at_points = at_points(tool, sheet);
        if holding == Holding::Angle {
            add_chord(tool, &tool.hand.handle, held, &mut at_points);
        }
        let read = |at: PointRef, axis: usize| {
            let point = at_points.get(at.part.index()).and_then(|p| p.get(at.point));
            point.map_or(0.0, |f| f[axis])
        };
        let rate = |slot: DimensionSlot| match slot {
            DimensionSlot::Length(part) => read(PointRef { part, point: 1 }, 0),
            DimensionSlot::X(at) => read(at, 0),
            DimensionSlot::Y(at) => read(at, 1),
            DimensionSlot::Stated(_) => f64::NAN,
        };
        let pin = |(j, joint): (JointId, &crate::model::PinJoint)| {
            let mut forces = sheet.on(joint.part).iter();
            let on = forces.find(|f| f.what == ForceKind::Joint(j));
            // The gap opens when the hole goes the way that the force on it resists.
            on.map_or(Vec2::ZERO, |f| -f.force)
        };
        Self {
            dimensions: of_parts(&tool.parts)
                .into_iter()
                .map(|slot| (slot, rate(slot)))
                .collect(),
            pins: JointId::each(&tool.joints).map(pin).collect(),
        }
    }
}

/// For every named point of every part: the sum of the forces that its place decides, in the part's
/// axes.
fn at_points(tool: &Tool, sheet: &Sheet) -> Vec<Vec<Vec2>> {
    let mut sums: Vec<Vec<Vec2>> = tool
        .parts
        .iter()
        .map(|part| vec![Vec2::ZERO; part.points.len()])
        .collect();
    for (part, sums) in PartId::ids(sums.len()).zip(&mut sums) {
        let turn = sheet.turn.get(part.index()).copied().unwrap_or(Vec2::X);
        for f in sheet.on(part) {
            if let ForceKind::Joint(k) = f.what
                && let Some(Joint::Gears(_, gears)) = tool.joint(k)
            {
                let all = teeth::at_points(tool, gears, sheet, (part, f));
                for (point, force) in all.into_iter().flatten() {
                    if let Some(sum) = sums.get_mut(point) {
                        *sum += force;
                    }
                }
                continue;
            }
            let point = owner(tool, part, f.what).and_then(|point| sums.get_mut(point));
            if let Some(sum) = point {
                *sum += f.force.turned_back(turn);
            }
        }
    }
    sums
}

/// The named point of a part whose place decides where a force acts on it: on a slotted part the
/// place through which the centre line passes, which carries the line along.
fn owner(tool: &Tool, part: PartId, what: ForceKind) -> Option<usize> {
    match what {
        ForceKind::Joint(k) => {
            let joint = tool.joint(k)?;
            let side = usize::from(joint.parts()[1] == part);
            match joint.places()[side] {
                Place::Point(point) => Some(point),
                Place::At(_) => None,
            }
        }
        ForceKind::Jaw(k) => {
            let jaw = tool.jaw(k)?;
            Some(if jaw.on.part == part {
                jaw.on.point
            } else {
                jaw.against.point
            })
        }
        // Grips keep their place, and springs, stops and pawls are not in the sheet.
        ForceKind::Hand
        | ForceKind::Opposite
        | ForceKind::Palm
        | ForceKind::Bench
        | ForceKind::Stop(_)
        | ForceKind::Pawl
        | ForceKind::Spring(_) => None,
    }
}

/// Where an end of the hand line is a named point, moving it turns the chord, and holding the
/// handle angle then turns the handle the other way.
fn add_chord(tool: &Tool, line: &HandLine, moment: f64, sums: &mut [Vec<Vec2>]) {
    let Some(part) = tool.part(line.part) else {
        return;
    };
    let place = |p: Option<&Place>| match *p? {
        Place::At(at) => Some((Vec2::from(at), None)),
        Place::Point(k) => Some((part.points.get(k)?.at.into(), Some(k))),
    };
    let ends = (place(line.points.first()), place(line.points.last()));
    let (Some(first), Some(last)) = ends else {
        return;
    };
    let chord = last.0 - first.0;
    let square = chord[0] * chord[0] + chord[1] * chord[1];
    if !(square > 0.0) {
        return;
    }
    for (end, sign) in [(first, -1.0), (last, 1.0)] {
        let sum = end
            .1
            .and_then(|k| sums.get_mut(line.part.index()).and_then(|p| p.get_mut(k)));
        if let Some(sum) = sum {
            sum[0] -= sign * moment * chord[1] / square;
            sum[1] += sign * moment * chord[0] / square;
        }
    }
}
