//! Room to move: which plates run into each other, how near they come, where fingers may be caught.
//!
//! Plates that share a layer may hit each other, but where they share a pin: there they lie on each other, each
//! cut away, inside the larger of their two eyes. Places in mm, in the fixed part's axes.

mod approach;
mod pinch;

pub use approach::{Approach, Near};
pub use pinch::{Pinch, pinches};

use crate::geometry::{Frame, Vec2};
use crate::model::{PartId, Tool};
use crate::motion::MotionError;
use crate::outline::{Edges, Shape};
use crate::statics::Rig;
use approach::Way;

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

/// Two parts with plates in one layer, on the way from open to shut.
#[derive(Debug, Clone, PartialEq)]
pub struct Meeting {
    /// The parts, in the tool's order.
    pub parts: [PartId; 2],
    /// What they do.
    pub approach: Approach,
}

/// How near those bodies come to each other that share a layer, over the whole stroke of a rig; `apart`: how far
/// (mm) round a common eye they are taken to be cut away.
///
/// # Errors
/// What the linkage cannot do.
pub fn meetings(
    rig: &mut Rig<'_>,
    bodies: &[Body<'_>],
    apart: f64,
) -> Result<Vec<Meeting>, MotionError> {
    let mut found = Vec::new();
    for (k, first) in bodies.iter().enumerate() {
        for second in &bodies[k + 1..] {
            if !first
                .layers
                .iter()
                .any(|layer| second.layers.contains(layer))
            {
                continue;
            }
            if let Some(approach) = meeting(rig, first, second, apart)? {
                found.push(Meeting {
                    parts: [first.part, second.part],
                    approach,
                });
            }
        }
    }
    Ok(found)
}

fn meeting(
    rig: &mut Rig<'_>,
    first: &Body<'_>,
    second: &Body<'_>,
    apart: f64,
) -> Result<Option<Approach>, MotionError> {
    let discs = common_eyes(rig.tool(), first, second, apart);
    let outside = |body: &Body<'_>, k: usize| {
        let own: Vec<(Vec2, f64)> = discs.iter().map(|(at, radius)| (at[k], *radius)).collect();
        Edges::outside(body.shape, &own)
    };
    let (Some(one), Some(other)) = (outside(first, 0), outside(second, 1)) else {
        return Ok(None);
    };
    let whole = rig.whole();
    let reach = other.farthest(Vec2::ZERO);
    let mut frames = |pace: f64| -> Result<[Frame; 2], MotionError> {
        rig.go_to(pace)?;
        Ok([rig.frame(first.part), rig.frame(second.part)])
    };
    let mut way = Way {
        edges: [&one, &other],
        frames: &mut frames,
        reach,
        looks: 0,
    };
    way.approach(whole).map(Some)
}

/// The pins that two bodies share: its place on each, and how far round it they are cut away, mm.
fn common_eyes(
    tool: &Tool,
    first: &Body<'_>,
    second: &Body<'_>,
    apart: f64,
) -> Vec<([Vec2; 2], f64)> {
    let eyes = tool.joints.iter().filter_map(|joint| {
        let ends = [
            (joint.carrier, joint.carrier_point),
            (joint.part, joint.part_point),
        ];
        let on = |body: &Body<'_>| {
            let (part, point) = *ends.iter().find(|(part, _)| *part == body.part)?;
            let at: Vec2 = tool.part(part)?.points.get(point)?.at.into();
            Some((at, body.shape.to_outer(at)))
        };
        let ((a, one), (b, other)) = (on(first)?, on(second)?);
        Some(([a, b], one.max(other) + apart))
    });
    eyes.collect()
}
