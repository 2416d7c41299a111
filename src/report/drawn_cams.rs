//! Cams as they are drawn.

use super::drawing::DrawnCam;
use crate::geometry::{Frame, Vec2};
use crate::model::{Cam, CamFace, Follower, Tool};
use crate::numeric::Face;
use crate::scene::place;

/// A cam with its parts at these places; `None` where its points are not there.
pub(super) fn drawn(tool: &Tool, index: usize, cam: &Cam, frames: &[Frame]) -> Option<DrawnCam> {
    let on = frames.get(cam.part.index())?;
    let pushed = {
        let part = tool.part(cam.pushes.part)?;
        let own = part.points.get(cam.pushes.point)?.at;
        frames.get(cam.pushes.part.index())?.place(own.into())
    };
    // Out of a flat, away from the cam.
    let off = |angle: f64, side: f64| {
        let frame = frames.get(cam.pushes.part.index())?;
        let along = frame.direction(Vec2::unit(angle) * side);
        Some(Vec2::new(along[1], -along[0]))
    };
    let roller = match cam.follower {
        Follower::Roller(roller) => Some(roller),
        Follower::Flat { .. } => None,
    };
    let (centre, radius, curve, touches) = match &cam.face {
        CamFace::Disc { centre, radius } => {
            let own = place(tool, cam.part, *centre)?;
            let centre = on.place(own.into());
            let towards = match cam.follower {
                Follower::Roller(_) => pushed - centre,
                Follower::Flat { angle, side } => off(angle, side)?,
            };
            let touches = centre + towards * (radius / towards.length());
            (Some(centre.xy()), Some(*radius), Vec::new(), touches)
        }
        CamFace::Curve(points) => {
            let face = Face::through(points)?;
            let touch = match cam.follower {
                Follower::Roller(_) => face.nearest(on.own_place(pushed).xy()),
                Follower::Flat { angle, side } => {
                    face.foremost((-on.own_direction(off(angle, side)?)).xy())
                }
            };
            let curve = face.outline().map(|at| on.place(at.into()).xy());
            (None, None, curve.collect(), on.place(touch.at.into()))
        }
    };
    Some(DrawnCam {
        cam: cam.label(index),
        centre,
        radius,
        curve,
        touches: touches.xy(),
        roller: roller.map(|_| pushed.xy()),
        roller_radius: roller.map(|roller| 0.5 * roller.diameter),
    })
}
