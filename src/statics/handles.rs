//! Where the two handles touch: their centre lines cross, or come nearer than the handles are thick.
//!
//! The lines are looked at from the first grip outwards: nearer to the pivot the parts lie over one
//! another as they are made to.

use super::rig::Rig;
use crate::geometry::Vec2;
use crate::mechanism::{Linkage, Pose, hand_curve};
use crate::model::{HandLine, PartId, Tool};
use crate::motion::MotionError;
use crate::numeric::scan::{border, even, first_border};
use crate::numeric::segments::nearest;

/// The handles touch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Touch {
    /// Handle angle there, rad.
    pub handle: f64,
    /// Gap of the first jaw there, mm.
    pub gap: f64,
    /// Where along the hand line, mm.
    pub along: f64,
    /// They touch at open already; otherwise from here on.
    pub at_open: bool,
    /// The lines cross somewhere on the stroke, so that the handles would go through each other.
    pub cross: bool,
}

/// Places of the stroke that are looked at.
const LOOKS: usize = 60;
/// Straight pieces that a hand line is cut into.
const PIECES: usize = 24;
/// Lines that are nearer than the thickness by less than this, over the tool's size, only meet.
const MEETS: f64 = 1e-9;

/// Where the handles touch first, from open to where the stroke ends for the forces. The rig is left
/// somewhere on the stroke.
///
/// # Errors
/// When a position cannot be solved.
pub fn handles_touch(rig: &mut Rig) -> Result<Option<Touch>, MotionError> {
    let tool = rig.tool();
    let Some(lines) = Lines::of(tool) else {
        return Ok(None);
    };
    let nearest_at = |rig: &mut Rig, pace: f64| {
        rig.go_to(pace)?;
        let solver = rig.solver();
        Ok::<_, MotionError>(lines.nearest(&solver.linkage, &solver.pose))
    };
    let thickness = tool.hand.thickness;
    let spare = MEETS * rig.solver().linkage.size;
    let clear = |near: &Near, spare: f64| near.distance > 0.0 && near.distance >= thickness - spare;
    let whole = rig.pace();
    let places = even([0.0, whole], LOOKS);
    let mut cross = false;
    for pace in places.clone() {
        cross |= nearest_at(rig, pace)?.distance == 0.0;
    }
    let holds = |pace| Ok::<_, MotionError>(clear(&nearest_at(rig, pace)?, spare));
    let Some([low, high]) = first_border(holds, places)? else {
        return Ok(None);
    };
    let holds = |pace| Ok::<_, MotionError>(clear(&nearest_at(rig, pace)?, 0.0));
    let at = if high > 0.0 {
        border(holds, low, high)?[1]
    } else {
        0.0
    };
    let near = nearest_at(rig, at)?;
    Ok(Some(Touch {
        handle: rig.stance().handle,
        gap: rig.forces().gap.first().copied().unwrap_or(f64::NAN),
        along: near.along,
        at_open: high == 0.0,
        cross,
    }))
}

/// How near the lines come, mm, and where along the pushed one.
struct Near {
    distance: f64,
    along: f64,
}

/// Both hand lines as straight pieces: distance along the line (mm) and place in the part's axes.
struct Lines {
    own: (PartId, Vec<(f64, Vec2)>),
    other: (PartId, Vec<(f64, Vec2)>),
}

impl Lines {
    fn of(tool: &Tool) -> Option<Self> {
        let hand = &tool.hand;
        let from = hand.grips.iter().copied().fold(f64::INFINITY, f64::min);
        let cut = |line: &HandLine| {
            let curve = hand_curve(tool, line).ok()?;
            let (length, from) = (curve.length(), from.clamp(0.0, curve.length()));
            let even = (0..=PIECES).map(|k| from + (length - from) * k as f64 / PIECES as f64);
            let corners = curve.stations().filter(|s| *s > from && *s < length);
            let mut at: Vec<f64> = even.chain(corners).collect();
            at.sort_by(f64::total_cmp);
            let points = at.into_iter().map(|s| (s, curve.point(s).into()));
            Some((line.part, points.collect()))
        };
        Some(Self {
            own: cut(&hand.handle)?,
            other: cut(hand.against.as_ref()?)?,
        })
    }

    /// How near they come at a position.
    fn nearest(&self, linkage: &Linkage, pose: &Pose) -> Near {
        let placed = |(part, points): &(PartId, Vec<(f64, Vec2)>)| -> Vec<(f64, Vec2)> {
            let place = |&(s, at)| (s, pose.place(linkage.spot(*part, at)));
            points.iter().map(place).collect()
        };
        let (own, other) = (placed(&self.own), placed(&self.other));
        let mut best = Near {
            distance: f64::INFINITY,
            along: 0.0,
        };
        for a in own.windows(2) {
            let &[(from, p), (to, q)] = a else { continue };
            for b in other.windows(2) {
                let &[(_, r), (_, s)] = b else { continue };
                let near = nearest([p, q], [r, s]);
                if near.distance < best.distance {
                    best = Near {
                        distance: near.distance,
                        along: from + near.share * (to - from),
                    };
                }
            }
        }
        best
    }
}
