//! From the outlines of a tool to shapes that can be measured: places by name become coordinates, pins get
//! their holes; and what the plates weigh.
//!
//! Lengths in mm, masses in kg, in the part's own axes. What is wrong is a [`Flaw`], as data.

mod bore;
mod trace;
mod weight;

pub use bore::HoleOf;
pub use weight::{Centre, Weighed, Weight, weigh};

use crate::geometry::Vec2;
use crate::model::{Outline, PartId, Place, PointKind, Tool};
use crate::outline::{Fault, Hole, Shape};

/// What is wrong with an outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Flaw {
    /// Part whose outline it is: that of a mirror image may be another's.
    pub part: PartId,
    /// What.
    pub why: Why,
}

/// Why an outline gives no shape.
#[derive(Debug, Clone, PartialEq)]
pub enum Why {
    /// The border; entries are legs of the path, the one that closes it counting as one more.
    Border(Fault),
    /// A hole; those that the fault counts are these.
    Holes(Fault, Vec<HoleOf>),
    /// A pin of the part (index of its point) lies outside.
    PinOutside(usize),
    /// It is the mirror image of itself, or of a part without an outline.
    NoImage,
}

/// The shape of a part with its holes; `None` where it has no outline.
#[must_use]
pub fn shape(tool: &Tool, part: PartId) -> Option<Result<Shape, Flaw>> {
    Some(drawn(tool, outline(tool, part)?))
}

/// Whether every outline of a tool gives a shape.
#[must_use]
pub fn are_sound(tool: &Tool) -> bool {
    tool.outlines
        .iter()
        .all(|outline| drawn(tool, outline).is_ok())
}

/// The outline of a part.
#[must_use]
pub fn outline(tool: &Tool, part: PartId) -> Option<&Outline> {
    tool.outlines.iter().find(|outline| outline.part == part)
}

/// Farther off its border than this a mark lies outside of a plate, mm: tips are marked on the border.
const ON_BORDER: f64 = 0.01;

/// Marks of a part (indices of its points) that lie off its plate; those in a hole do not.
#[must_use]
pub fn marks_outside(tool: &Tool, part: PartId, shape: &Shape) -> Vec<usize> {
    let points = tool.part(part).map_or(&[][..], |part| &part.points);
    let outer = shape.pieces().get(shape.border(0)).unwrap_or(&[]).to_vec();
    let Ok(whole) = Shape::new(outer, Vec::new(), &[]) else {
        return Vec::new();
    };
    // The witness marks of gears stand on the pitch circle, among the teeth, which no outline shows.
    let is_witness = |mark: usize| {
        let mut marks = tool
            .gears
            .iter()
            .flat_map(|gears| [0, 1].map(|side| gears.mark(side)));
        marks.any(|at| at.part == part && at.point == mark)
    };
    let off = |at: Vec2| !whole.holds(at) && whole.nearest(at).distance > ON_BORDER;
    let marks = points.iter().enumerate();
    marks
        .filter(|(_, point)| point.kind == PointKind::Mark && off(point.at.into()))
        .filter(|&(k, _)| !is_witness(k))
        .map(|(k, _)| k)
        .collect()
}

/// Two holes with centres nearer than this are one, mm.
const SAME: f64 = 1e-6;

fn drawn(tool: &Tool, outline: &Outline) -> Result<Shape, Flaw> {
    let flaw = |why| Flaw {
        part: outline.part,
        why,
    };
    let traced = trace::trace(tool, outline, tool.parts.len())?;
    let plain = Shape::new(traced.outer.clone(), traced.windows.clone(), &[]);
    let plain = plain.map_err(|fault| Flaw {
        part: traced.owner,
        why: Why::Border(fault),
    })?;
    let points = tool.part(outline.part).map_or(&[][..], |part| &part.points);
    for (k, point) in points.iter().enumerate() {
        if point.kind == PointKind::Pin && !plain.holds(point.at.into()) {
            return Err(flaw(Why::PinOutside(k)));
        }
    }
    let is_free = |at: Vec2| {
        let here = |hole: &Hole| matches!(hole, Hole::Round { at: middle, .. } if (*middle - at).length() < SAME);
        plain.holds(at) && !traced.holes.iter().any(|(hole, _)| here(hole))
    };
    let mut bores = bore::pins(tool, outline, is_free);
    bores.extend(traced.holes);
    if bores.is_empty() {
        return Ok(plain);
    }
    let (holes, owners): (Vec<_>, Vec<_>) = bores.into_iter().unzip();
    Shape::new(traced.outer, traced.windows, &holes)
        .map_err(|fault| flaw(Why::Holes(fault, owners)))
}

/// A place on a part; one that it does not have is no number, which the shape refuses.
fn at(tool: &Tool, part: PartId, place: Place) -> Vec2 {
    let at = tool.part(part).and_then(|part| part.place(place));
    at.map_or(Vec2::new(f64::NAN, f64::NAN), Vec2::from)
}

#[cfg(test)]
mod tests;
