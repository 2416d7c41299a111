//! Where every part stands at single positions, and the forces there: what a drawing shows.

use crate::analysis::{CaseLoads, LoadsError, loads_at, tooth_angles};
use crate::geometry::{Frame, Vec2};
use crate::model::{At, GripId, Joint, Look, PartId, Place, Tool, WayLine};
use crate::statics::{Rig, locate};

/// One position of the tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// The position as it was asked for.
    pub at: At,
    /// Handle angle, rad.
    pub handle: f64,
    /// Handle angle travelled since open, rad.
    pub travel: f64,
    /// Gap of every jaw, mm.
    pub gaps: Vec<f64>,
    /// Grip span at the grip asked for, mm; `None` without a second handle.
    pub span: Option<f64>,
    /// Where every part stands, in the tool's order.
    pub frames: Vec<Frame>,
    /// The same at places before this one, from open on, evenly spaced; none at open.
    pub earlier: Vec<Vec<Frame>>,
    /// The dies of a jaw meet before it: the tool does not come here.
    pub ended: bool,
    /// The forces for the tool's hand force at the grip; `None` where there are none (toggle,
    /// locked by friction, held by springs, beyond where dies meet).
    pub loads: Option<CaseLoads>,
}

/// Some positions of one tool, at one grip.
#[derive(Debug, Clone, PartialEq)]
pub struct Scenes {
    /// Index of the grip.
    pub grip: GripId,
    /// The positions, in the order asked for.
    pub scenes: Vec<Scene>,
    /// For each joint: how far its rider goes along its way over the whole stroke, `[least, greatest]`: along a
    /// straight one in mm from the place that its centre line is said to pass, along an arc in rad about its
    /// centre from the slotted part's x axis; without meaning where nothing rides.
    pub reaches: Vec<[f64; 2]>,
    /// Angles at which the teeth of the ratchet stand, see [`tooth_angles`]; none without one.
    pub teeth: Vec<f64>,
}

/// Earlier places shown for each position.
const EARLIER: usize = 4;
/// Places of the stroke at which riders are looked up.
const LOOKS: usize = 24;

/// The rig's tool at the positions asked for, with the forces of its hand force at a grip (index).
/// The rig is left somewhere on the stroke.
///
/// # Errors
/// [`LoadsError`]: what the linkage cannot do, or the position that is not on its stroke; never
/// [`LoadsError::NoForces`] or [`LoadsError::DiesMet`].
pub fn scenes(rig: &mut Rig, positions: &[At], grip: GripId) -> Result<Scenes, LoadsError> {
    let tool = rig.tool();
    let mut scenes = Vec::with_capacity(positions.len());
    for &at in positions {
        let pace = locate(rig, at, grip).map_err(LoadsError::Locate)?;
        let mut earlier = Vec::new();
        if pace > 1e-6 * rig.whole() {
            for k in 0..EARLIER {
                rig.go_to(pace * k as f64 / EARLIER as f64)?;
                earlier.push(frames(rig));
            }
        }
        rig.go_to(pace)?;
        let mut scene = Scene {
            at,
            handle: rig.stance().handle,
            travel: rig.stance().travel,
            gaps: rig.forces().gap.clone(),
            span: rig.span(grip),
            frames: frames(rig),
            earlier,
            ended: rig.ended(),
            loads: None,
        };
        // The loads go their own way along the stroke, so they come last.
        scene.loads = match loads_at(rig, at, grip, tool.hand.force) {
            Ok(loads) => Some(loads),
            Err(LoadsError::NoForces | LoadsError::DiesMet) => None,
            Err(other) => return Err(other),
        };
        scenes.push(scene);
    }
    let mut reaches: Vec<[f64; 2]> = (tool.all_joints())
        .map(|_| [f64::INFINITY, f64::NEG_INFINITY])
        .collect();
    if (tool.all_joints()).any(|joint| matches!(joint.look(tool), Some(Look::Way(_)))) {
        for k in 0..=LOOKS {
            rig.go_to(rig.whole() * k as f64 / LOOKS as f64)?;
            let frames = frames(rig);
            for (reach, joint) in reaches.iter_mut().zip(tool.all_joints()) {
                let near = if reach[0].is_finite() { reach[0] } else { 0.0 };
                if let Some(along) = ridden(tool, joint, &frames, near) {
                    *reach = [reach[0].min(along), reach[1].max(along)];
                }
            }
        }
    }
    Ok(Scenes {
        teeth: tooth_angles(rig)?,
        grip,
        scenes,
        reaches,
    })
}

/// The tool as it was sketched, without forces: what a picture of it shows, not a place of its stroke.
#[must_use]
pub fn sketched(tool: &Tool) -> Scenes {
    let scene = Scene {
        at: At::Open,
        handle: 0.0,
        travel: 0.0,
        gaps: Vec::new(),
        span: None,
        frames: tool
            .parts
            .iter()
            .map(|part| Frame::at(part.sketch))
            .collect(),
        earlier: Vec::new(),
        ended: false,
        loads: None,
    };
    Scenes {
        grip: GripId::FIRST,
        scenes: vec![scene],
        reaches: Vec::new(),
        teeth: Vec::new(),
    }
}

/// Where every part stands at these paces from open, see [`Rig::go_to`]; in their order.
///
/// # Errors
/// [`LoadsError`] when the loops cannot be closed there.
pub fn poses(
    rig: &mut Rig,
    paces: impl IntoIterator<Item = f64>,
) -> Result<Vec<Vec<Frame>>, LoadsError> {
    let mut poses = Vec::new();
    for pace in paces {
        rig.go_to(pace)?;
        poses.push(frames(rig));
    }
    Ok(poses)
}

fn frames(rig: &Rig) -> Vec<Frame> {
    PartId::ids(rig.tool().parts.len())
        .map(|part| rig.frame(part))
        .collect()
}

/// How far a rider stands along the centre line of its way: from the place that a straight one passes, mm;
/// about the centre of an arc from the slotted part's x axis, rad, within half a turn of `near`.
fn ridden(tool: &Tool, joint: Joint<'_>, frames: &[Frame], near: f64) -> Option<f64> {
    let Some(Look::Way(way)) = joint.look(tool) else {
        return None;
    };
    let rider = (tool.part(way.rider.part)?.points).get(way.rider.point)?;
    let on = frames.get(way.on.index())?;
    let at = on.own_place(frames.get(way.rider.part.index())?.place(rider.at.into()));
    Some(match way.line {
        WayLine::Straight { through, along } => (at - Vec2::from(through)).dot(along.into()),
        WayLine::Arc { centre, .. } => {
            let spoke = at - Vec2::from(centre);
            near + spoke.turned_back(Vec2::unit(near)).angle()
        }
    })
}

/// A place of a part in the part's axes, mm; `None` for a point that the part does not have.
#[must_use]
pub fn place(tool: &Tool, part: PartId, place: Place) -> Option<[f64; 2]> {
    tool.part(part)?.place(place)
}
