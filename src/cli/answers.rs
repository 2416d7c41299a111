//! What is asked of a loaded tool: the answer, or the end of the run.

use super::loaded::Loaded;
use super::locate::stop;
use super::stop::Stop;
use crate::analysis::{Direction, Heights, Judge, LifeSeen, Solved};
use crate::statics::Rig;
use crate::strength::{SpringFound, Strength};

impl Loaded {
    /// Finds the motion, once.
    pub(super) fn motion(&self) -> Result<(), Stop> {
        let motion = self.analysis.motion();
        motion.map(|_| ()).map_err(|e| stop(e.into(), self))
    }

    /// The stroke, found once.
    pub(super) fn stroke(&self, direction: Direction) -> Result<&Solved, Stop> {
        let solved = self.analysis.stroke(direction);
        solved.map_err(|e| stop(e, self))
    }

    /// The tool set up at the open end of its stroke.
    pub(super) fn rig(&self, direction: Direction) -> Result<Rig<'_>, Stop> {
        let rig = self.analysis.rig(direction);
        rig.map_err(|e| stop(e.into(), self))
    }

    /// The strength factors of the whole stroke, found once.
    pub(super) fn strength(&self, direction: Direction) -> Result<&Strength, Stop> {
        let strength = self.analysis.strength(direction);
        strength.map_err(|e| stop(e, self))
    }

    /// What comes of each spring of wire over the stroke.
    pub(super) fn wound_springs(&self) -> Result<Vec<(usize, SpringFound)>, Stop> {
        let found = self.analysis.wound_springs();
        found.map_err(|e| stop(e, self))
    }

    /// How long the tool lasts, where the file asks.
    pub(super) fn heights(&self) -> Result<Heights, Stop> {
        self.analysis.heights().map_err(|e| stop(e, self))
    }

    pub(super) fn life(&self) -> Result<Option<LifeSeen>, Stop> {
        self.analysis.life().map_err(|e| stop(e, self))
    }

    /// Hands the tool, set up at every grip that it names, to `ask`.
    pub(super) fn judge<'f, T>(
        &'f self,
        direction: Direction,
        ask: impl for<'r> FnOnce(&mut Judge<'f, 'r>) -> T,
    ) -> Result<T, Stop> {
        let judged = self.analysis.judge(direction, ask);
        judged.map_err(|e| stop(e, self))
    }
}
