//! What plates are like: area, mass, where they balance; a chapter of `check`.

use crate::geometry::{Frame, Vec2};
use crate::model::{HandLine, PartId, Tool};
use crate::numeric::Curve;
use crate::plates::{Centre, weigh};
use crate::scene::Scenes;
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// See [`WeightLine::advised`], kg.
const ONE_HAND: f64 = 1.4;

/// Standard acceleration of free fall, m/s² (3rd General Conference on Weights and Measures, 1901): N per kg.
const GRAVITY: f64 = 9.806_65;

/// Every part with an outline.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlatesReport {
    /// Unit of areas.
    pub area_unit: &'static str,
    /// Unit of masses.
    pub mass_unit: &'static str,
    /// One entry for each part with an outline, in the file's order.
    pub parts: Vec<PlateLine>,
    /// All of them together, with their pins; null where nothing has a mass.
    pub together: Option<WeightLine>,
}

/// The plates of a part in one line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlateLine {
    /// The part.
    pub part: String,
    /// How many plates it has; null without a table in `[sections]`.
    pub plates: Option<u32>,
    /// Thickness of one; null without a table in `[sections]`.
    pub thickness: Option<f64>,
    /// The sheets of the stack that they are; empty where the file states none.
    pub layers: Vec<u32>,
    /// Area of one, holes taken off.
    pub area: f64,
    /// Middle of the area, `[x, y]` in the part's own axes.
    pub centre: [f64; 2],
    /// Mass of all of them; null without thickness and density.
    pub mass: Option<f64>,
}

/// What all that is weighed comes to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WeightLine {
    /// Mass.
    pub mass: f64,
    /// How much of that are pins.
    pub pins: f64,
    /// Centre of mass with the tool open, `[x, y]` in the fixed part's axes.
    pub open: [f64; 2],
    /// The same with the tool shut.
    pub shut: [f64; 2],
    /// Middle of the grip with the tool open: between both handles, or on the one, at the mean of the grips; null where
    /// a hand line is none.
    pub grip: Option<[f64; 2]>,
    /// Moment of the weight about the middle of the grip where the way to the centre of mass lies level, with the tool
    /// open and shut; null as before.
    pub grip_moments: Option<[f64; 2]>,
    /// Unit of those moments.
    pub moment_unit: &'static str,
    /// The most that is advised for a tool of one hand. Canadian Centre for Occupational Health and Safety, "Hand tool
    /// ergonomics: tool design": 1.4 kg with one hand near the body.
    pub advised: f64,
    /// Parts that have no weight here: no outline, thickness or density.
    pub left_out: Vec<String>,
}

/// What the plates of a tool are like; `ends`: the tool open and shut, if it can be. `None` without an outline.
#[must_use]
pub fn plates_report(
    tool: &Tool,
    ends: Option<&Scenes>,
    units: UnitSystem,
) -> Option<PlatesReport> {
    let weight = weigh(tool);
    if weight.plates.is_empty() {
        return None;
    }
    let length = |v: f64| units.show(v, Quantity::Length);
    let name = |part: PartId| tool.part(part).map_or(String::new(), |p| p.name.clone());
    let line = |plate: &crate::plates::Weighed| {
        let section = tool.sections.iter().find(|s| s.part == plate.part);
        PlateLine {
            part: name(plate.part),
            plates: section.map(|s| s.plates),
            thickness: section.map(|s| length(s.thickness)),
            layers: section.map_or_else(Vec::new, |s| s.layers.clone()),
            area: units.show(plate.area, Quantity::Area),
            centre: plate.middle.xy().map(length),
            mass: plate.mass.map(|mass| units.show(mass, Quantity::Mass)),
        }
    };
    let together = |frames: &[Frame]| weight.together(frames);
    let both = ends.and_then(|ends| match ends.scenes.as_slice() {
        [open, shut] => together(&open.frames).zip(together(&shut.frames)),
        _ => None,
    });
    let grips = ends.and_then(|ends| match ends.scenes.as_slice() {
        [open, shut] => {
            let [open, shut] = [open, shut].map(|scene| middle_of_grip(tool, &scene.frames));
            Some([open?, shut?])
        }
        _ => None,
    });
    Some(PlatesReport {
        area_unit: units.symbol(Quantity::Area),
        mass_unit: units.symbol(Quantity::Mass),
        parts: weight.plates.iter().map(line).collect(),
        together: both.map(|(open, shut)| WeightLine {
            mass: units.show(open.mass, Quantity::Mass),
            pins: units.show(
                weight.pins.iter().map(|(_, pin)| pin.mass).sum(),
                Quantity::Mass,
            ),
            open: open.at.xy().map(length),
            shut: shut.at.xy().map(length),
            grip: grips.map(|[open, _]| open.xy().map(length)),
            grip_moments: grips.map(|[at_open, at_shut]| {
                let moment = |centre: &Centre, grip: Vec2| {
                    let moment = centre.mass * GRAVITY * (centre.at - grip).length();
                    units.show(moment, Quantity::Torque)
                };
                [moment(&open, at_open), moment(&shut, at_shut)]
            }),
            moment_unit: units.symbol(Quantity::Torque),
            advised: units.show(ONE_HAND, Quantity::Mass),
            left_out: weight.unweighed.iter().map(|&part| name(part)).collect(),
        }),
    })
}

/// The middle of the grip: the mean of the grips, midway between the hand lines of both handles, or on the only one.
fn middle_of_grip(tool: &Tool, frames: &[Frame]) -> Option<Vec2> {
    let grips = &tool.hand.grips;
    let along = grips.iter().sum::<f64>() / grips.len() as f64;
    let on = |line: &HandLine| -> Option<Vec2> {
        let part = tool.part(line.part)?;
        let points: Option<Vec<_>> = line.points.iter().map(|&at| part.place(at)).collect();
        let curve = Curve::through(&points?, line.smooth)?;
        let frame = frames.get(line.part.index())?;
        Some(frame.place(curve.point(along.min(curve.length())).into()))
    };
    let own = on(&tool.hand.handle)?;
    let middle = match &tool.hand.against {
        Some(other) => (own + on(other)?) * 0.5,
        None => own,
    };
    middle.is_finite().then_some(middle)
}
