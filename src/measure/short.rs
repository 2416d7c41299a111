//! Whether the stroke ends before the work is done.

use crate::model::JawId;
use crate::motion::MotionError;
use crate::statics::Rig;

/// A stroke that dies, a stop or the end of a cam's face cut short, though the work asks for more on the way to shut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Short {
    /// Gap at which the stroke ends, mm.
    pub gap: f64,
    /// What the work takes there, N.
    pub force: f64,
    /// The most that it asks for from there to shut, N.
    pub most: f64,
}

/// A gap within this of another, over the tool's size, is the same: dies that meet where the work ends have done it.
const SAME_GAP: f64 = 1e-9;

/// Whether the stroke ends before the jaw in view has done its work. The rig is left somewhere on the stroke.
pub(super) fn short(rig: &mut Rig) -> Result<Option<Short>, MotionError> {
    let (tool, end, whole) = (rig.tool(), rig.pace(), rig.whole());
    let Some(work) = tool.work().filter(|_| rig.meets().is_some()) else {
        return Ok(None);
    };
    let gap = |rig: &mut Rig, pace: f64| Ok(rig.at(pace)?.gap(JawId::FIRST));
    let ends: Result<_, MotionError> = Ok((gap(rig, end)?, gap(rig, whole)?));
    let (Some(at), Some(shut)) = ends? else {
        return Ok(None);
    };
    let size = rig.solver().linkage.size;
    let most = work.left(at, shut, SAME_GAP * size);
    Ok((most > 0.0).then(|| Short {
        gap: at,
        force: work.at(at, size),
        most,
    }))
}
