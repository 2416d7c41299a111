//! Cams over the stroke, as reports show them.

use crate::analysis::Solved;
use crate::model::{Follower, Tool};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// A cam over the stroke.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CamLine {
    /// Its name, or its number in the file, from 1.
    pub name: String,
    /// The part that has the face.
    pub part: String,
    /// The part that it pushes.
    pub pushes: String,
    /// It pushes a roller; else a flat.
    pub roller: bool,
    /// Greatest angle between its push and the way of the point that it pushes; null where that stands still.
    pub pressure_angle: Option<f64>,
    /// Gap of the first jaw there.
    pub pressure_gap: Option<f64>,
    /// Gaps of the first and the last position at which it lifts off; null where it does not.
    pub lifts_off: Option<[f64; 2]>,
    /// The least that is left of a curved face to the nearer of its ends; null for a disc.
    pub face_left: Option<f64>,
    /// Radius of a hollow of the face that is narrower than the roller; null where there is none.
    pub hollow: Option<f64>,
    /// Radius of the roller; null for a flat.
    pub roller_radius: Option<f64>,
}

/// Every cam of a solved stroke.
pub(super) fn cam_lines(tool: &Tool, solved: &Solved, units: UnitSystem) -> Vec<CamLine> {
    let length = |v: f64| units.show(v, Quantity::Length);
    let name = |part| {
        tool.part(part)
            .map_or_else(String::new, |part| part.name.clone())
    };
    let lines = solved.cams.iter().filter_map(|seen| {
        let cam = tool.cams.get(seen.index)?;
        let roller = match cam.follower {
            Follower::Roller(roller) => Some(length(0.5 * roller.diameter)),
            Follower::Flat { .. } => None,
        };
        Some(CamLine {
            name: cam.label(seen.index),
            part: name(cam.part),
            pushes: name(cam.pushes.part),
            roller: roller.is_some(),
            pressure_angle: seen
                .pressure
                .map(|[angle, _]| units.show(angle, Quantity::Angle)),
            pressure_gap: seen.pressure.map(|[_, gap]| length(gap)),
            lifts_off: seen.lifts.map(|gaps| gaps.map(length)),
            face_left: seen.left.map(length),
            hollow: seen.hollow.map(length),
            roller_radius: roller,
        })
    });
    lines.collect()
}
