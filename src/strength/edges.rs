//! Stress along the edges of a plate, for pictures.

use super::holes::Plates;
use super::knots::{balanced, knots};
use crate::geometry::Vec2;
use crate::model::{PartId, Tool};
use crate::statics::Sheet;

/// The stress at a place of a plate's border, in the part's own axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeStress {
    /// Where, mm.
    pub at: Vec2,
    /// Out of the plate, along the cut: a unit vector.
    pub out: Vec2,
    /// MPa, tension positive.
    pub stress: f64,
}

/// Stress along the border of a part under these forces, in the order of the border, eyes left out; empty where no
/// outline tells its section, or its forces do not add up.
#[must_use]
pub fn edge_stresses(tool: &Tool, part: PartId, sheet: &Sheet) -> Vec<EdgeStress> {
    let section = tool.sections.iter().find(|section| section.part == part);
    let plates = section.and_then(|section| Plates::new(tool, section));
    let Some(throats) = plates.and_then(|plates| plates.throats) else {
        return Vec::new();
    };
    let knots = knots(part, sheet);
    if !balanced(&knots) {
        return Vec::new();
    }
    let forces = throats.place(&knots);
    let clear = throats.all.iter().filter(|throat| !throat.in_eye);
    let edge = |throat: &super::throats::Throat| {
        let [at, far] = throat.ends;
        let out = at - far;
        EdgeStress {
            at,
            out: out / out.length(),
            stress: throat
                .section
                .stress(throat.carried(&forces), throat.section.edges[0]),
        }
    };
    let all = clear.map(edge);
    all.filter(|edge| edge.stress.is_finite() && edge.out.is_finite())
        .collect()
}
