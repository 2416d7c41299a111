//! Where fingers may be caught: places on the border of a handle, or of any part, from which another part is
//! farther off than a finger is thick with the tool open, and nearer with it shut.

use super::Body;
use crate::geometry::{Frame, Vec2};
use crate::model::{HandLine, PartId, Reach, Room, Tool};
use crate::motion::MotionError;
use crate::numeric::Curve;
use crate::outline::{Piece, Shape};
use crate::statics::Rig;

/// A place where fingers may be caught.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pinch {
    /// The handle, and what comes near it; elsewhere two parts in the tool's order.
    pub parts: [PartId; 2],
    /// Clear width there with the tool shut, mm.
    pub shut: f64,
    /// The same with the tool open, mm.
    pub open: f64,
    /// It is the border of a handle that was looked along.
    pub beside_handle: bool,
    /// The place on the first of the parts, in its own axes, mm.
    pub at: Vec2,
    /// Pace from open at which the width falls through that of a finger; none where it stays above.
    pub through: Option<f64>,
}

/// Places looked at along a border are so far apart, mm.
const APART: f64 = 2.0;
/// Most places along one border.
const MOST: f64 = 1000.0;
/// Half the breadth of a hand beyond the first and last grip, mm: fingers reach so far along the handle (common
/// practice, no source).
const HALF_HAND: f64 = 50.0;
/// Borders farther than this off the hand line are not in its reach, mm.
const BESIDE: f64 = 30.0;
/// Halvings that find where the width falls through that of a finger.
const HALVINGS: usize = 40;

/// For each handle and each other body that comes near it, and where the `room` asks for all for every two bodies:
/// the narrowest place with the tool shut, among those that are wider than a finger with it open.
///
/// # Errors
/// What the linkage cannot do.
pub fn pinches(
    rig: &mut Rig<'_>,
    bodies: &[Body<'_>],
    room: &Room,
) -> Result<Vec<Pinch>, MotionError> {
    let mut found = Vec::new();
    let hand = &rig.tool().hand;
    let lines: Vec<&HandLine> = std::iter::once(&hand.handle).chain(&hand.against).collect();
    for line in &lines {
        let Some(own) = bodies.iter().find(|body| body.part == line.part) else {
            continue;
        };
        let places = in_reach(rig.tool(), line, own.shape);
        for other in bodies.iter().filter(|other| other.part != own.part) {
            let pinch = narrowest(rig, own, other, &places, room.finger())?;
            found.extend(pinch);
        }
    }
    if room.reach == Reach::All {
        for (k, own) in bodies.iter().enumerate() {
            let places = along(own.shape);
            for other in &bodies[k + 1..] {
                // What was found beside a handle is not told again for being the narrowest of all.
                let known = |pinch: &Pinch| {
                    pinch.parts.contains(&own.part) && pinch.parts.contains(&other.part)
                };
                let least = (found.iter())
                    .filter(|p| known(p))
                    .map(|p| p.shut)
                    .reduce(f64::min);
                let pinch = narrowest(rig, own, other, &places, room.finger())?;
                let pinch = pinch.filter(|p| least.is_none_or(|least| p.shut < least - APART));
                found.extend(pinch.map(|pinch| Pinch {
                    beside_handle: false,
                    ..pinch
                }));
            }
        }
    }
    Ok(found)
}

/// Places along the outer border of a shape.
fn along(shape: &Shape) -> Vec<Vec2> {
    let outer = &shape.pieces()[shape.border(0)];
    let whole: f64 = outer.iter().map(Piece::length).sum();
    let apart = APART.max(whole / MOST);
    let on = |piece: &Piece| {
        let count = (piece.length() / apart).ceil().max(1.0) as usize;
        let piece = *piece;
        (0..count).map(move |k| piece.point((k as f64 + 0.5) / count as f64))
    };
    outer.iter().flat_map(on).collect()
}

/// Places of a border that a hand on the line may touch, in the part's axes.
fn in_reach(tool: &Tool, line: &HandLine, shape: &Shape) -> Vec<Vec2> {
    let points = tool.part(line.part).and_then(|part| {
        let each = line.points.iter().map(|&place| part.place(place));
        each.collect::<Option<Vec<_>>>()
    });
    let curve = points.and_then(|points| Curve::through(&points, line.smooth));
    let Some(curve) = curve else {
        return Vec::new();
    };
    let grips = &tool.hand.grips;
    let least = grips.iter().copied().fold(f64::INFINITY, f64::min) - HALF_HAND;
    let most = grips.iter().copied().fold(0.0, f64::max) + HALF_HAND;
    let steps = (curve.length() / APART).ceil().max(1.0) as usize;
    let on_line: Vec<Vec2> = (0..=steps)
        .map(|k| curve.length() * k as f64 / steps as f64)
        .filter(|along| (least..=most).contains(along))
        .map(|along| curve.point(along).into())
        .collect();
    let near = |at: &Vec2| on_line.iter().any(|on| (*on - *at).length() <= BESIDE);
    along(shape).into_iter().filter(near).collect()
}

/// Distance from a place to a body, mm: 0 inside it.
fn width(at: Vec2, own: &Frame, other: &Shape, there: &Frame) -> f64 {
    let seen = there.own_place(own.place(at));
    if other.holds(seen) {
        return 0.0;
    }
    other.nearest(seen).distance
}

fn narrowest(
    rig: &mut Rig<'_>,
    own: &Body<'_>,
    other: &Body<'_>,
    places: &[Vec2],
    finger: f64,
) -> Result<Option<Pinch>, MotionError> {
    let whole = rig.whole();
    let mut widths = |at: &[Vec2], pace: f64| -> Result<Vec<f64>, MotionError> {
        rig.go_to(pace)?;
        let (here, there) = (rig.frame(own.part), rig.frame(other.part));
        let each = at.iter().map(|&at| width(at, &here, other.shape, &there));
        Ok(each.collect())
    };
    let open = widths(places, 0.0)?;
    let shut = widths(places, whole)?;
    let wide = (0..places.len()).filter(|&k| open[k] >= finger);
    let Some(k) = wide.min_by(|&a, &b| shut[a].total_cmp(&shut[b])) else {
        return Ok(None);
    };
    let mut through = None;
    if shut[k] < finger {
        let (mut low, mut high) = (0.0, whole);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            let still = widths(&places[k..=k], middle)?[0] >= finger;
            if still { low = middle } else { high = middle }
        }
        through = Some(high);
    }
    Ok(Some(Pinch {
        parts: [own.part, other.part],
        shut: shut[k],
        open: open[k],
        beside_handle: true,
        at: places[k],
        through,
    }))
}
