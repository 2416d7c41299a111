//! Room to move: which plates run into each other, how near they come, where fingers may be caught.
//!
//! Plates that share a layer may hit each other, but where they share a pin: there they lie on each other, each
//! cut away, inside the larger of their two eyes. Places in mm, in the fixed part's axes.

mod approach;
mod contact;
mod pinch;

pub use approach::{Approach, Near};
pub use contact::{Contact, contacts};
pub use pinch::{Pinch, pinches};

use crate::geometry::{Frame, Vec2};
use crate::model::{PartId, Tool};
use crate::motion::{Beyond, MotionError, Solver};
use crate::outline::{Edges, Overlap, Shape, overlap};
use crate::statics::Rig;
use approach::Way;
use std::sync::Arc;

/// A plate, or several of one part.
#[derive(Debug, Clone, Copy)]
pub struct Body<'a> {
    /// The part.
    pub part: PartId,
    /// Its outline, in the part's axes.
    pub shape: &'a Shape,
    /// Which sheets of the stack it runs in.
    pub layers: &'a [u32],
}

/// Two parts with plates in one layer, on the way from open to shut and beyond open.
#[derive(Debug, Clone, PartialEq)]
pub struct Meeting {
    /// The parts, in the tool's order.
    pub parts: [PartId; 2],
    /// A layer that both have a plate in.
    pub layer: u32,
    /// What they do from open to shut.
    pub approach: Approach,
    /// Handle angle where they are nearest or touch first, rad.
    pub handle: f64,
    /// Material that both claim with the tool open: no such tool can be put together.
    pub at_rest: Option<Overlap>,
    /// Where they touch when the tool is opened farther than open.
    pub beyond: Option<Stop>,
}

/// Where plates stop a tool that is opened farther than open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// Where; its `pace` is a share of the way that the linkage opens.
    pub near: Near,
    /// Handle angle from open to there, rad, positive; 0 for a handle that slides.
    pub opened: f64,
}

/// Less area than this is no overlap at rest, mm²: plates that lie against each other, by numbers with two or
/// three decimals (common practice, no source).
const AT_REST: f64 = 0.05;

/// How near those bodies come to each other that share a layer, over the whole stroke of a rig and beyond its open
/// end; `apart`: how far (mm) round a common eye they are taken to be cut away.
///
/// # Errors
/// What the linkage cannot do.
pub fn meetings(
    rig: &mut Rig<'_>,
    bodies: &[Body<'_>],
    apart: f64,
) -> Result<Vec<Meeting>, MotionError> {
    let mut found = Vec::new();
    for (first, second, layer) in in_one_layer(bodies) {
        found.extend(meeting(rig, [first, second], layer, apart)?);
    }
    Ok(found)
}

/// Every two bodies that share a layer, and the nearest such layer.
fn in_one_layer<'b, 'a>(
    bodies: &'b [Body<'a>],
) -> impl Iterator<Item = (&'b Body<'a>, &'b Body<'a>, u32)> {
    let pairs = bodies.iter().enumerate();
    pairs.flat_map(move |(k, first)| {
        bodies[k + 1..].iter().filter_map(move |second| {
            let both = first
                .layers
                .iter()
                .filter(|layer| second.layers.contains(layer));
            Some((first, second, *both.min()?))
        })
    })
}

fn meeting(
    rig: &mut Rig<'_>,
    [first, second]: [&Body<'_>; 2],
    layer: u32,
    apart: f64,
) -> Result<Option<Meeting>, MotionError> {
    let discs = common_eyes(rig.tool(), first, second, apart);
    let Some([one, other]) = edges([first, second], &discs) else {
        return Ok(None);
    };
    let parts = [first.part, second.part];
    let whole = rig.whole();
    let reach = other.farthest(Vec2::ZERO);
    let mut frames = |pace: f64| -> Result<[Frame; 2], MotionError> {
        rig.go_to(pace)?;
        Ok(parts.map(|part| rig.frame(part)))
    };
    let mut way = Way {
        edges: [&one, &other],
        frames: &mut frames,
        reach,
        looks: 0,
    };
    let approach = way.approach(whole)?;
    rig.go_to(0.0)?;
    let [own, there] = parts.map(|part| rig.frame(part));
    let seen: Vec<(Vec2, f64)> = discs
        .iter()
        .map(|(at, radius)| (own.place(at[0]), *radius))
        .collect();
    let at_rest = overlap((first.shape, &own), (second.shape, &there), &seen);
    let at_rest = at_rest.filter(|overlap| overlap.area > AT_REST);
    let open = rig.stance().handle;
    let touches_open = at_rest.is_some() || approach.touch.is_some_and(|touch| touch.pace <= 0.0);
    let beyond = if touches_open {
        None
    } else {
        opened(rig, parts, [&one, &other], reach, open)
    };
    rig.go_to(approach.nearest.pace)?;
    Ok(Some(Meeting {
        parts,
        layer,
        approach,
        handle: rig.stance().handle,
        at_rest,
        beyond,
    }))
}

/// Where two parts touch when the tool opens farther than open, where its `handle` angle is known.
fn opened(
    rig: &Rig<'_>,
    parts: [PartId; 2],
    edges: [&Edges; 2],
    reach: f64,
    handle: f64,
) -> Option<Stop> {
    let mut solver = Solver::new(Arc::clone(&rig.solver().linkage));
    let beyond: Beyond<'_> = rig.survey().beyond(&mut solver, rig.tool().stroke.lead);
    if !beyond.is_some() {
        return None;
    }
    // A place that cannot be solved ends the way: what lies beyond it is not reached.
    let mut frames = |share: f64| -> Result<[Frame; 2], ()> {
        beyond.stand(&mut solver, share).ok_or(())?;
        Ok(parts.map(|part| solver.frame(part)))
    };
    let mut way = Way {
        edges,
        frames: &mut frames,
        reach,
        looks: 0,
    };
    let near = way.touch(1.0).ok().flatten()?;
    let there = beyond.stand(&mut solver, near.pace)?;
    Some(Stop {
        near,
        opened: if rig.turns() {
            (there - handle).abs()
        } else {
            0.0
        },
    })
}

/// The borders of two bodies outside the eyes that they share.
fn edges(bodies: [&Body<'_>; 2], discs: &[([Vec2; 2], f64)]) -> Option<[Edges; 2]> {
    let outside = |k: usize| {
        let own: Vec<(Vec2, f64)> = discs.iter().map(|(at, radius)| (at[k], *radius)).collect();
        Edges::outside(bodies[k].shape, &own)
    };
    Some([outside(0)?, outside(1)?])
}

/// The pins that two bodies share: its place on each, and how far round it they are cut away, mm.
fn common_eyes(
    tool: &Tool,
    first: &Body<'_>,
    second: &Body<'_>,
    apart: f64,
) -> Vec<([Vec2; 2], f64)> {
    let eyes = tool.joints.iter().filter_map(|joint| {
        let ends = joint.ends();
        let on = |body: &Body<'_>| {
            let end = ends.iter().find(|end| end.part == body.part)?;
            let at: Vec2 = tool.part(end.part)?.points.get(end.point)?.at.into();
            Some((at, body.shape.to_outer(at)))
        };
        let ((a, one), (b, other)) = (on(first)?, on(second)?);
        Some(([a, b], one.max(other) + apart))
    });
    eyes.collect()
}
