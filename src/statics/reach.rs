//! Changes of single dimensions that bring a target within reach.

use super::rig::{MountError, Mounted};
use crate::model::Tool;
use crate::motion::{Change, MotionError, changes};

/// The smallest changes of one dimension each that bring the target of `error` within reach, on a
/// stroke that the hand closes; empty where there is none, or where `error` is another one.
#[must_use]
pub fn reaching(tool: &Tool, error: &MotionError) -> Vec<Change> {
    changes(tool, error, &|changed| match Mounted::new(changed) {
        Ok(_) => Ok(()),
        Err(MountError::Motion(error)) => Err(error),
        // A length that the model does not have.
        Err(MountError::Model(_)) => Err(MotionError::NoStroke),
    })
}
