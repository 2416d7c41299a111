//! The border of a plate: places by name become coordinates, arcs through a place arcs by radius, mirror images
//! pieces of their own.

use super::bore::{self, HoleOf};
use super::{Flaw, Why, at};
use crate::geometry::Vec2;
use crate::model::{Border, By, Leg, Outline, PartId, Place, Tool};
use crate::outline::{Disc, Fault, Hole, Piece, Step, Way, belts, path};

/// A border before its shape is checked, and the holes that stand in no relation to pins.
pub(super) struct Traced {
    /// Part whose outline gives the border: of a mirror image, the original.
    pub(super) owner: PartId,
    pub(super) outer: Vec<Piece>,
    pub(super) windows: Vec<Vec<Piece>>,
    pub(super) holes: Vec<(Hole, HoleOf)>,
}

/// The border of an outline; `images` is how many mirror images may still follow each other.
pub(super) fn trace(tool: &Tool, outline: &Outline, images: usize) -> Result<Traced, Flaw> {
    let flaw = |why| Flaw {
        part: outline.part,
        why,
    };
    let fault = |fault| flaw(Why::Border(fault));
    let mut holes = bore::listed(tool, outline);
    let mut owner = outline.part;
    let (outer, windows) = match &outline.border {
        Border::Mirror { of, about } => {
            let of = super::outline(tool, *of).filter(|_| images > 0);
            let of = trace(tool, of.ok_or(flaw(Why::NoImage))?, images - 1)?;
            let [first, second] = about.map(|place| at(tool, outline.part, place));
            let way = second - first;
            let length = way.length();
            if !(length > 1e-6 && length.is_finite()) {
                return Err(fault(Fault::MirrorWithoutLine));
            }
            let along = way / length;
            let image = |border: Vec<Piece>| -> Vec<Piece> {
                let pieces = border.iter().rev();
                pieces
                    .map(|piece| piece.mirrored(first, along).reversed())
                    .collect()
            };
            let point = |p| Piece::line(p, p).mirrored(first, along).from;
            owner = of.owner;
            holes.extend(of.holes.into_iter().map(|hole| bore::mirrored(hole, point)));
            (image(of.outer), of.windows.into_iter().map(image).collect())
        }
        Border::Round {
            discs,
            belts: around,
            throat,
        } => {
            let disc = |&(point, radius): &(usize, f64)| Disc {
                at: at(tool, outline.part, Place::Point(point)),
                radius,
            };
            let discs: Vec<Disc> = discs.iter().map(disc).collect();
            belts(&discs, around, throat.unwrap_or(0.0)).map_err(fault)?
        }
        Border::Path { start, legs } => {
            let pieces = walked(tool, outline.part, *start, legs);
            (pieces.map_err(fault)?, Vec::new())
        }
    };
    Ok(Traced {
        owner,
        outer,
        windows,
        holes,
    })
}

/// The pieces of a path.
fn walked(tool: &Tool, part: PartId, start: Place, legs: &[Leg]) -> Result<Vec<Piece>, Fault> {
    let at = |place| at(tool, part, place);
    let start = at(start);
    let mut steps: Vec<Step> = Vec::with_capacity(legs.len());
    let mut owners = Vec::with_capacity(legs.len());
    let mut from = start;
    for (k, leg) in legs.iter().enumerate() {
        let to = at(leg.to);
        let round = leg.round.unwrap_or(0.0);
        let mut step = |to, way, round| {
            steps.push(Step { to, way, round });
            owners.push(k);
        };
        match &leg.by {
            By::Line => step(to, Way::Straight, round),
            By::Arc(radius) => step(to, Way::Arc(*radius), round),
            By::Through(place) => match through(from, at(*place), to) {
                None => step(to, Way::Straight, round),
                Some((radius, between)) => {
                    for middle in between {
                        step(middle, Way::Arc(radius), 0.0);
                    }
                    step(to, Way::Arc(radius), round);
                }
            },
            By::Smooth { through, tangent } => {
                let way = Way::Smooth {
                    through: through.iter().map(|&place| at(place)).collect(),
                    tangent: *tangent,
                };
                step(to, way, round);
            }
        }
        from = to;
    }
    let leg = |entry: usize| owners.get(entry).copied().unwrap_or(legs.len());
    let pieces = path(start, &steps).map_err(|fault| fault.with_entries(leg))?;
    let named = |piece: Piece| piece.of_entry(leg(piece.entry));
    Ok(pieces.into_iter().map(named).collect())
}

/// The arc from one place through a second to a third: its radius (positive turns left), and two places on the way
/// that part it in three, each shorter than half a circle. `None` where they lie on a line.
fn through(from: Vec2, by: Vec2, to: Vec2) -> Option<(f64, [Vec2; 2])> {
    let (a, b) = (by - from, to - from);
    let cross = a.cross(b);
    // From the places' own equations: |c - from| = |c - by| = |c - to|.
    let way = Vec2::new(b.y(), -b.x()) * a.dot(a) - Vec2::new(a.y(), -a.x()) * b.dot(b);
    let centre = from + way / (2.0 * cross);
    let radius = (from - centre).length();
    if !(cross.abs() > 1e-9 * a.length() * b.length() && radius.is_finite()) {
        return None;
    }
    let out = from - centre;
    let turn = |p: Vec2| {
        let turn = out.cross(p - centre).atan2(out.dot(p - centre));
        let round = std::f64::consts::TAU;
        if cross > 0.0 {
            turn.rem_euclid(round)
        } else {
            -(-turn).rem_euclid(round)
        }
    };
    let whole = turn(to);
    let place = |share: f64| centre + out.turned(Vec2::unit(share * whole));
    Some((radius.copysign(cross), [1.0 / 3.0, 2.0 / 3.0].map(place)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: the unit circle from (1, 0) through (0, -1) to (0, 1) goes the long way round, to the right.
    #[test]
    fn an_arc_through_a_third_place() {
        let at = |x, y| Vec2::new(x, y);
        let (radius, [first, second]) = through(at(1.0, 0.0), at(0.0, -1.0), at(0.0, 1.0)).unwrap();
        assert!((radius + 1.0).abs() < 1e-12);
        assert!((first - at(0.0, -1.0)).length() < 1e-12);
        assert!((second - at(-1.0, 0.0)).length() < 1e-12);
        let (radius, _) = through(at(0.0, 0.0), at(2.0, 1.0), at(4.0, 0.0)).unwrap();
        assert!((radius + 2.5).abs() < 1e-12, "{radius}");
        assert_eq!(through(at(0.0, 0.0), at(1.0, 1.0), at(2.0, 2.0)), None);
    }
}
