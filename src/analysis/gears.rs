//! Tooth sectors over the stroke: how far each turns past where the marks meet, and whether enough of it
//! is cut.

use crate::geometry::{Rim, Vec2, contact_ratios, mesh_loss};
use crate::model::{Gears, Mesh, PartId, Tool};
use crate::numeric::angle::wrapped;
use std::f64::consts::PI;

/// A pair of tooth sectors over the stroke. Lengths in mm, angles in rad.
#[derive(Debug, Clone, PartialEq)]
pub struct GearsSeen {
    /// Index into [`Tool::gears`].
    pub index: usize,
    /// Pitch radii; of a rack and pinion the second is 0.
    pub radii: [f64; 2],
    /// Distance of the two pins; of a rack and pinion from the pin to the pitch line.
    pub apart: f64,
    /// Pitch circle over number of teeth.
    pub module: f64,
    /// Contact ratio of full-depth teeth: how many pairs of teeth touch on average.
    pub contact: f64,
    /// Share of the work that gets through the teeth.
    pub efficiency: f64,
    /// For each part, the least and the greatest that it has turned past where the marks meet; of a rack mm.
    pub turned: [[f64; 2]; 2],
    /// For each part, how much must be cut, middle at the mark: the travel and half an arc of contact at
    /// either side; of a rack mm.
    pub needed: [f64; 2],
    /// For each part: it has fewer teeth than can be cut at full depth by a hob without being cut away at
    /// the foot, 2 / sin² α (Khurmi and Gupta, *Theory of Machines*, sec. 12.22).
    pub undercut: [bool; 2],
}

impl GearsSeen {
    /// Whether less of a part is cut than the stroke needs; `None` where the file does not say.
    #[must_use]
    pub fn too_short(&self, tool: &Tool, side: usize) -> Option<bool> {
        let cut = tool.gears.get(self.index)?.sector[side]?;
        let whole = tool.gears[self.index].teeth[side] > 0 && cut >= 2.0 * PI * (1.0 - 1e-9);
        Some(!whole && cut < self.needed[side] * (1.0 - 1e-9))
    }
}

/// Every point of every part at a position.
type Points = Vec<Vec<[f64; 2]>>;

/// All pairs of the tool, over these positions of its stroke.
pub(super) fn gears_seen(tool: &Tool, positions: &[&Points]) -> Vec<GearsSeen> {
    let all = tool.gears.iter().enumerate();
    all.filter_map(|(index, gears)| see(tool, positions, index, gears))
        .collect()
}

fn see(tool: &Tool, positions: &[&Points], index: usize, gears: &Gears) -> Option<GearsSeen> {
    let own = |part: PartId, point: usize| {
        let point = tool.part(part)?.points.get(point)?;
        Some(Vec2::from(point.at))
    };
    let arm = |side: usize| {
        let part = gears.parts[side];
        Some(own(part, gears.marks[side])? - own(part, gears.about[side])?)
    };
    let teeth = gears.teeth.map(f64::from);
    let ring = gears.mesh == Mesh::Internal;
    let rack = matches!(gears.mesh, Mesh::Rack { .. });
    let (apart, radii) = if rack {
        let radius = arm(0)?.length();
        (radius, [radius, 0.0])
    } else {
        let centre = |side: usize| own(gears.on, gears.centres[side]);
        let apart = (centre(1)? - centre(0)?).length();
        let sum = if ring {
            (teeth[0] - teeth[1]).abs()
        } else {
            teeth[0] + teeth[1]
        };
        (apart, teeth.map(|z| apart * z / sum))
    };
    let module = 2.0 * radii[0] / teeth[0];
    let rims = [0, 1].map(|side: usize| {
        let straight = rack && side == 1;
        let inside = ring && teeth[side] > teeth[1 - side];
        Rim::full_depth((!straight).then_some(teeth[side]), inside)
    });
    let contact: f64 = contact_ratios(rims, 1.0, gears.angle).iter().sum();
    let mut turned = [[f64::INFINITY, f64::NEG_INFINITY]; 2];
    let mut last = [0.0; 2];
    for position in positions {
        let now = at(gears, position, tool)?;
        for side in 0..2 {
            // A rack's way is a length; a wheel may turn more than half a turn on its stroke.
            last[side] = if rack && side == 1 {
                now[side]
            } else {
                last[side] + wrapped(now[side] - last[side])
            };
            turned[side][0] = turned[side][0].min(last[side]);
            turned[side][1] = turned[side][1].max(last[side]);
        }
    }
    if positions.is_empty() {
        turned = [[0.0; 2]; 2];
    }
    let arc = contact * PI * module;
    let needed = [0, 1].map(|side: usize| {
        let [low, high] = turned[side];
        let half = low.abs().max(high.abs());
        let radius = radii[side];
        2.0 * half + if radius > 0.0 { arc / radius } else { arc }
    });
    let least = 2.0 / gears.angle.sin().powi(2);
    let undercut = [0, 1].map(|side: usize| {
        let outside = teeth[side] > 0.0 && !(ring && teeth[side] > teeth[1 - side]);
        outside && teeth[side] < least
    });
    Some(GearsSeen {
        index,
        radii,
        apart,
        module,
        contact,
        efficiency: 1.0 - gears.friction * mesh_loss(rims, gears.angle),
        turned,
        needed,
        undercut,
    })
}

/// How far each of the two has turned past where the marks meet, within half a turn; of a rack how far its
/// mark is past the pinion.
fn at(gears: &Gears, position: &Points, tool: &Tool) -> Option<[f64; 2]> {
    let place = |part: PartId, point: usize| {
        let points = position.get(part.index())?;
        points.get(point).map(|&at| Vec2::from(at))
    };
    let ends = |side: usize| {
        let part = gears.parts[side];
        Some([
            place(part, gears.about[side])?,
            place(part, gears.marks[side])?,
        ])
    };
    let [first, mark] = ends(0)?;
    let [second, other] = ends(1)?;
    let from = |towards: Vec2, centre: Vec2, mark: Vec2| {
        wrapped((mark - centre).angle() - towards.angle())
    };
    if let Mesh::Rack { slot } = gears.mesh {
        // The pitch line is as long as the part's own axes say: square to the way from the pinion.
        let slot = tool.slots.get(slot)?;
        let turn = slot.keyed?;
        let part = tool.part(gears.parts[1])?;
        let own = Vec2::from(part.points.get(gears.marks[1])?.at)
            - Vec2::from(part.points.get(gears.about[1])?.at);
        let along = Vec2::unit(slot.line.angle()? - turn);
        // The rack's axes by two of its points, or those of its carrier where they are one.
        let axes = axes_of(gears, position, tool, (second, other, own))?;
        let along = along.turned(axes);
        let gone = along.dot(other - first);
        let square = (other - first) - along * gone;
        let way = if along.cross(square) < 0.0 {
            gone
        } else {
            -gone
        };
        return Some([from(square, first, mark), way]);
    }
    let line = second - first;
    let ring = gears.mesh == Mesh::Internal;
    let first_is_ring = ring && gears.teeth[0] > gears.teeth[1];
    let towards = [
        if ring && !first_is_ring { -line } else { line },
        if first_is_ring { line } else { -line },
    ];
    Some([
        from(towards[0], first, mark),
        from(towards[1], second, other),
    ])
}

/// Turn of the rack: by its mark as seen from its guide, or by its carrier, on which it keeps its turn.
fn axes_of(
    gears: &Gears,
    position: &Points,
    tool: &Tool,
    (guide, mark, own): (Vec2, Vec2, Vec2),
) -> Option<Vec2> {
    let seen = mark - guide;
    if own.length() > 0.0 && seen.length() > 0.0 {
        return Some(Vec2::unit(seen.angle() - own.angle()));
    }
    let Mesh::Rack { slot } = gears.mesh else {
        return None;
    };
    let turn = tool.slots.get(slot)?.keyed?;
    let points = position.get(gears.on.index())?;
    let part = tool.part(gears.on)?;
    let mut pairs = points.iter().zip(&part.points);
    let (first, own) = pairs.next()?;
    let (other, far) = pairs.find(|(_, point)| point.at != own.at)?;
    let seen = Vec2::from(*other) - Vec2::from(*first);
    let drawn = Vec2::from(far.at) - Vec2::from(own.at);
    Some(Vec2::unit(seen.angle() - drawn.angle() + turn))
}
