//! Where fingers round a handle may be caught: places on its border from which another part is farther off than
//! a finger is thick with the tool open, and nearer with it shut.

use super::Body;
use crate::geometry::{Frame, Vec2};
use crate::model::{HandLine, PartId, Tool};
use crate::motion::MotionError;
use crate::numeric::Curve;
use crate::outline::Shape;
use crate::statics::Rig;

/// A place where fingers may be caught.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pinch {
    /// The handle, and what comes near it.
    pub parts: [PartId; 2],
    /// Clear width there with the tool shut, mm.
    pub shut: f64,
    /// The same with the tool open, mm.
    pub open: f64,
    /// The place on the handle, in its own axes, mm.
    pub at: Vec2,
    /// Pace from open at which the width falls through that of a finger; none where it stays above.
    pub through: Option<f64>,
}

/// Places looked at along a border are so far apart, mm.
const APART: f64 = 2.0;
/// Half the breadth of a hand beyond the first and last grip, mm: fingers reach so far along the handle (common
/// practice, no source).
const HALF_HAND: f64 = 50.0;
/// Borders farther than this off the hand line are not in its reach, mm.
const BESIDE: f64 = 30.0;
/// Halvings that find where the width falls through that of a finger.
const HALVINGS: usize = 40;

/// For each handle and each other body that comes near it: the narrowest place with the tool shut, among those
/// that are wider than a `finger` (mm) with it open.
///
/// # Errors
/// What the linkage cannot do.
pub fn pinches(
    rig: &mut Rig<'_>,
    bodies: &[Body<'_>],
    finger: f64,
) -> Result<Vec<Pinch>, MotionError> {
    let mut found = Vec::new();
    let hand = &rig.tool().hand;
    let lines = std::iter::once(&hand.handle).chain(&hand.against);
    for line in lines {
        let Some(own) = bodies.iter().find(|body| body.part == line.part) else {
            continue;
        };
        let places = in_reach(rig.tool(), line, own.shape);
        for other in bodies.iter().filter(|other| other.part != own.part) {
            let pinch = narrowest(rig, own, other, &places, finger)?;
            found.extend(pinch);
        }
    }
    Ok(found)
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
    let mut places = Vec::new();
    for piece in &shape.pieces()[shape.border(0)] {
        let count = (piece.length() / APART).ceil().max(1.0) as usize;
        for k in 0..count {
            let at = piece.point((k as f64 + 0.5) / count as f64);
            let near = |on: &Vec2| (*on - at).length() <= BESIDE;
            if on_line.iter().any(near) {
                places.push(at);
            }
        }
    }
    places
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
        at: places[k],
        through,
    }))
}
