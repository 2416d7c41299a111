//! What a stop carries: the tool with the faces of the stop for its jaw, the work at the real one being a load
//! like any other.
//!
//! What the hand gives beyond what the work needs goes through the stop. Its force follows by both routes, as
//! that of a jaw does, with friction and springs.

use super::answer::Answer;
use super::rig::{Mounted, Rig};
use super::sheet::Sheet;
use super::stand::Absent;
use crate::mechanism::Linkage;
use crate::model::{Direction, GripId, Jaw, JawId, StopEnd, StopId, Tool};
use crate::motion::MotionError;
use std::sync::Arc;

/// What presses on a stop; N.
#[derive(Debug, Clone, PartialEq)]
pub struct OnStop {
    /// Force on the stop, along its axis.
    pub stop: f64,
    /// Every force on every part.
    pub sheet: Sheet,
    /// Greatest difference of the two routes to that force, relative.
    pub virtual_work: f64,
    /// Greatest residual of any part, relative.
    pub free_body: f64,
}

/// Faces nearer than this (over the tool's size) meet.
const MEETS: f64 = 1e-8;

impl Tool {
    /// The same tool with the faces of a stop for its first jaw; its own jaws follow.
    fn with_stop_in_view(&self, stop: StopId) -> Option<Self> {
        let faces = self.stop(stop)?;
        let mut tool = self.clone();
        tool.jaws.push(Jaw {
            name: faces.name.clone(),
            on: faces.on,
            against: faces.against,
            axis: faces.axis,
            closed: faces.closed,
            work: None,
        });
        tool.face(JawId::new(self.jaws.len()));
        Some(tool)
    }
}

impl Rig<'_> {
    /// The pace at which the stroke comes to a stop, at one of its ends; and why it does not. The rig is left
    /// somewhere on the stroke.
    ///
    /// # Errors
    /// When a position cannot be solved.
    pub fn pace_at_stop(&mut self, stop: StopId) -> Result<Result<f64, Absent>, MotionError> {
        let near = MEETS * self.solver().linkage.size;
        let Some(ends) = self.tool().stop(stop).map(|stop| stop.ends) else {
            return Ok(Err(Absent::NoStop));
        };
        let at = match ends {
            StopEnd::Open => 0.0,
            StopEnd::Shut => self.pace(),
        };
        self.go_to(at)?;
        if self.here().apart(stop).is_some_and(|gap| gap.abs() <= near) {
            return Ok(Ok(at));
        }
        if ends == StopEnd::Shut {
            // Dies may meet before it.
            self.go_to(self.whole())?;
            let here = self.here();
            if let (Some(ended), Some(gap)) = (here.ended(), here.apart(stop))
                && gap <= near
            {
                return Ok(Err(ended));
            }
        }
        Ok(Err(Absent::NoStop))
    }

    /// What presses on a stop where the stroke comes to it, for a hand force (N) at a grip and a force that
    /// the first jaw takes (N). A stop at the open end is pressed by what opens the tool, against friction.
    ///
    /// # Errors
    /// When a position cannot be solved.
    pub fn on_stop(
        &mut self,
        stop: StopId,
        (grip, hand): (GripId, f64),
        jaw_force: f64,
    ) -> Result<Result<OnStop, Absent>, MotionError> {
        let pace = match self.pace_at_stop(stop)? {
            Ok(pace) => pace,
            Err(why) => return Ok(Err(why)),
        };
        let Some(tool) = self.tool().with_stop_in_view(stop) else {
            return Ok(Err(Absent::NoStop));
        };
        let direction = match self.tool().stop(stop).map(|stop| stop.ends) {
            Some(StopEnd::Open) => Direction::Opening,
            _ => Direction::Closing,
        };
        // The faces of a stop are points of the tool, which has been mounted.
        let Ok(linkage) = Linkage::new(&tool) else {
            return Ok(Err(Absent::NoStop));
        };
        let mounted = Mounted {
            linkage: Arc::new(linkage),
            survey: Arc::clone(self.shared_survey()),
            meeting: None,
            stop: None,
        };
        let mut rig = Rig::new(&tool, &mounted, direction)?;
        rig.hold((JawId::new(1), jaw_force));
        rig.go_to(pace)?;
        let sheet = match rig.here().answer(grip, JawId::FIRST, hand) {
            Ok(Answer::Moves { .. }) => rig.sheet(grip, hand),
            Ok(_) => return Ok(Err(Absent::NotAtStop)),
            Err(why) => return Ok(Err(why)),
        };
        Ok(match sheet {
            Some((sheet, force)) => Ok(OnStop {
                stop: force,
                sheet: sheet.with_stop(stop),
                virtual_work: rig.forces().virtual_work,
                free_body: rig.forces().free_body,
            }),
            None => Err(Absent::NotAtStop),
        })
    }
}
