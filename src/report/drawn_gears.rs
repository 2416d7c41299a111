//! Tooth sectors in drawings: pitch circles, and teeth as trapezia.

use crate::geometry::{Frame, Vec2};
use crate::model::{Gears, Mesh, Tool};
use serde::Serialize;
use std::f64::consts::{PI, TAU};

/// A pair of tooth sectors.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnGears {
    /// Its name.
    pub name: String,
    /// The two toothed parts.
    pub sides: [DrawnRim; 2],
}

/// The teeth of one part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawnRim {
    /// The part.
    pub part: String,
    /// The pitch circle or line as far as it is cut, as points; `[x, y]`, mm.
    pub pitch: Vec<[f64; 2]>,
    /// The teeth, schematic: corners of feet and tips in order; `[x, y]`, mm.
    pub teeth: Vec<[f64; 2]>,
}

/// Pitches that are drawn where the file does not say how much is cut.
const PITCHES: f64 = 5.0;

/// Corners of a tooth: share of a pitch from its middle, and whether it is at the tip.
const CORNERS: [(f64, bool); 4] = [(-0.38, false), (-0.12, true), (0.12, true), (0.38, false)];

/// Tip and foot of a full-depth tooth, modules from the pitch circle.
const TIP: f64 = 1.0;
const FOOT: f64 = -1.25;

/// Most a step of a drawn circle turns, rad.
const STEP: f64 = PI / 60.0;

/// A pair where its parts stand.
pub(super) fn drawn(
    tool: &Tool,
    index: usize,
    gears: &Gears,
    frames: &[Frame],
) -> Option<DrawnGears> {
    Some(DrawnGears {
        name: gears.label(index),
        sides: [rim(tool, gears, 0, frames)?, rim(tool, gears, 1, frames)?],
    })
}

fn rim(tool: &Tool, gears: &Gears, side: usize, frames: &[Frame]) -> Option<DrawnRim> {
    let part = tool.part(gears.parts[side])?;
    let frame = frames.get(gears.parts[side].index())?;
    let own = |point: usize| part.points.get(point).map(|p| Vec2::from(p.at));
    let mark = own(gears.marks[side])?;
    let way = match gears.mesh {
        Mesh::Rack { slot } if side == 1 => straight(tool, gears, slot, mark)?,
        _ => round(gears, side, own(gears.about[side])?, mark),
    };
    // A tooth of the first stands at its mark, a gap of the second.
    let first = if side == 0 { 0.0 } else { 0.5 };
    let half = 0.5 * way.pitches;
    let (low, high) = ((-half - first).ceil(), (half - first).floor());
    let count = if high >= low {
        (high - low) as usize + 1
    } else {
        0
    };
    let teeth = (0..count.min(2000)).flat_map(|k| {
        let middle = low + k as f64 + first;
        CORNERS.map(|(by, tip)| way.at(middle + by, if tip { TIP } else { FOOT }))
    });
    let steps = way.steps();
    let pitch = (0..=steps).map(|k| way.at(half * (2.0 * k as f64 / steps as f64 - 1.0), 0.0));
    let placed = |p: Vec2| frame.place(p).xy();
    Some(DrawnRim {
        part: part.name.clone(),
        teeth: teeth.map(placed).collect(),
        pitch: pitch.map(placed).collect(),
    })
}

/// A pitch circle or line, in the part's axes.
struct Rim {
    /// Centre and radius; `None` for a rack.
    circle: Option<(Vec2, f64)>,
    /// The mark on it.
    mark: Vec2,
    /// Along it at the mark, one pitch, and out of the teeth, one module.
    pitch: Vec2,
    out: Vec2,
    /// How many pitches are drawn.
    pitches: f64,
}

impl Rim {
    /// The place so many pitches from the mark, so many modules out.
    fn at(&self, pitches: f64, out: f64) -> Vec2 {
        match self.circle {
            None => self.mark + self.pitch * pitches + self.out * out,
            Some((centre, radius)) => {
                let turn = Vec2::unit(self.pitch.length() * pitches / radius);
                centre + (self.mark + self.out * out - centre).turned(turn)
            }
        }
    }

    fn steps(&self) -> usize {
        match self.circle {
            None => 1,
            Some((_, radius)) => {
                let turn = self.pitch.length() * self.pitches / radius;
                ((turn / STEP).ceil() as usize).clamp(1, 200)
            }
        }
    }
}

fn round(gears: &Gears, side: usize, centre: Vec2, mark: Vec2) -> Rim {
    let arm = mark - centre;
    let radius = arm.length();
    let teeth = f64::from(gears.teeth[side].max(1));
    let ring = gears.mesh == Mesh::Internal && gears.teeth[side] > gears.teeth[1 - side];
    let module = 2.0 / teeth;
    let cut = gears.sector[side].map_or(PITCHES, |cut| cut * teeth / TAU);
    Rim {
        circle: Some((centre, radius)),
        mark,
        pitch: Vec2::new(-arm[1], arm[0]) * (PI * module),
        out: arm * if ring { -module } else { module },
        pitches: cut.min(teeth),
    }
}

fn straight(tool: &Tool, gears: &Gears, slot: usize, mark: Vec2) -> Option<Rim> {
    let slot = tool.slots.get(slot)?;
    let turn = Vec2::unit(slot.keyed?);
    let pinion = tool.part(gears.parts[0])?;
    let at = |point: usize| pinion.points.get(point).map(|p| Vec2::from(p.at));
    let module = 2.0 * (at(gears.marks[0])? - at(gears.about[0])?).length()
        / f64::from(gears.teeth[0].max(1));
    let along = Vec2::unit(slot.line.angle()?).turned_back(turn);
    let carrier = tool.part(slot.on)?;
    let pin = Vec2::from(carrier.points.get(gears.centres[0])?.at);
    let rack = tool.part(gears.parts[1])?;
    let rider = Vec2::from(rack.points.get(slot.rider.point)?.at);
    let through = Vec2::from(carrier.place(slot.line.place())?);
    let pin = rider + (pin - through).turned_back(turn);
    let square = Vec2::new(-along[1], along[0]);
    let side = if square.dot(pin - mark) < 0.0 {
        -1.0
    } else {
        1.0
    };
    let pitch = PI * module;
    Some(Rim {
        circle: None,
        mark,
        pitch: along * pitch,
        out: square * (side * module),
        pitches: gears.sector[1].map_or(PITCHES, |cut| cut / pitch),
    })
}
