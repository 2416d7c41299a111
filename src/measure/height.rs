//! How high the work comes out: what the jaws leave of it, and what it springs back.

use crate::give::give;
use crate::model::{Back, GripId, JawId, Tool};
use crate::motion::MotionError;
use crate::statics::{Absent, Rig};

/// How the work at a jaw comes out of a full stroke. Heights are distances of the jaws' faces, mm: the gap and
/// what the closed jaw leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Height {
    /// The gap at shut, of a tool that does not give.
    pub gap: f64,
    /// Force of the work there, under which the tool gives, N.
    pub force: f64,
    /// What the jaws spread under it; `None` where nothing of the tool is known to give.
    pub spread: Option<f64>,
    /// Height under load.
    pub loaded: f64,
    /// What the work springs back.
    pub back: f64,
    /// Height afterwards.
    pub after: f64,
    /// Gap at shut of a tool that does not give, at which the work comes out as wanted; `None` where nothing is wanted
    /// or no gap does.
    pub set: Option<f64>,
    /// The closing jaw has come to the work: what it never touches does not come out of it.
    pub touched: bool,
}

impl Height {
    /// The same, of work that the jaw has come to: what is not touched has no height from the tool.
    ///
    /// # Errors
    /// [`Absent::Untouched`].
    pub fn of_touched(self) -> Result<Self, Absent> {
        self.touched.then_some(self).ok_or(Absent::Untouched)
    }
}

/// How the work at the jaw in view comes out, the hand holding the tool at a grip. The rig is left at shut.
///
/// # Errors
/// When a position cannot be solved.
pub fn height(rig: &mut Rig, grip: GripId) -> Result<Result<Height, Absent>, MotionError> {
    rig.go_to(rig.pace())?;
    let Some(gap) = rig.here().gap(JawId::FIRST) else {
        return Ok(Err(Absent::Toggle));
    };
    let gives = spreads(rig, grip);
    Ok(finished(rig.tool(), gap, gives).ok_or(Absent::NoWork))
}

/// What the jaws spread under a jaw force of 1 N where the rig stands, mm/N; 0 where nothing is known to give.
pub fn spreads(rig: &mut Rig, grip: GripId) -> f64 {
    give(rig, grip).map_or(0.0, |give| give.linkage())
}

/// How the work comes out of a tool whose gap at shut is this without load, and whose jaws spread so much under 1 N.
/// `None` without work.
///
/// The gap under load is where the work and the tool, a spring in line with it, hold each other; the work then springs
/// back by what the file says.
#[must_use]
pub fn finished(tool: &Tool, gap: f64, gives: f64) -> Option<Height> {
    let (jaw, work) = (tool.jaw(JawId::FIRST)?, tool.work()?);
    let [under, force] = work.settles(-gives, gap)?;
    let back = work.finish.map_or(Back::By(0.0), |finish| finish.back);
    // An untouched piece does not spring.
    let springs = if force > 0.0 { back.from(force) } else { 0.0 };
    let loaded = jaw.closed + under;
    let set = work.finish.and_then(|finish| {
        let (length, per_force) = match back {
            Back::By(length) => (length, 0.0),
            Back::Stiff(rate) => (0.0, 1.0 / rate),
        };
        let [under, force] = work.comes_to(per_force, finish.wanted? - jaw.closed - length)?;
        (force > 0.0).then_some(under - gives * force)
    });
    Some(Height {
        gap,
        force,
        spread: (gives > 0.0).then_some(under - gap),
        loaded,
        back: springs,
        after: loaded + springs,
        set,
        touched: work.is_touched_before(under),
    })
}
