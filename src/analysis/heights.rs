//! How the work at each jaw comes out, where the file says how it springs back or what is wanted.

use super::Analysis;
use super::failure::Failure;
use crate::measure::{Height, height};
use crate::model::{Direction, GripId, JawId};
use crate::statics::Absent;

/// Heights, jaw by jaw.
pub type Heights = Vec<(JawId, Result<Height, Absent>)>;

impl Analysis {
    /// How the work comes out at each jaw of whose finish the file says something, the hand at the first grip.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn heights(&self) -> Result<Heights, Failure> {
        let finished = JawId::each(&self.tool().jaws).filter(|(_, jaw)| {
            let work = jaw.work.as_ref();
            work.is_some_and(|work| work.finish.is_some())
        });
        let one = |(jaw, _)| {
            let mut rig = self.facing(jaw).rig(Direction::Closing)?;
            Ok((jaw, height(&mut rig, GripId::FIRST)?))
        };
        finished.map(one).collect()
    }
}
