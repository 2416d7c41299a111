//! Strength over the whole stroke: the rig's free-body sheets, position by position and grip by
//! grip, through the checks.

use crate::analysis::{Direction, Failure};
use crate::model::Tool;
use crate::statics::{Answer, Mounted, Rig};
use crate::strength::{Case, Checks, Strength, hand_forces};

/// The factors of a tool: at every position and grip, under the hand's limit (or the tool's hand
/// force) and under what the work needs there. Positions at a toggle have no sheet.
///
/// # Errors
/// [`Failure`]: what the linkage cannot do.
pub fn strength(tool: &Tool, direction: Direction) -> Result<Strength, Failure> {
    let mounted = Mounted::new(tool)?;
    let mut rig = Rig::new(tool, &mounted, direction == Direction::Opening)?;
    let mut checks = Checks::new(tool);
    let steps = tool.stroke.steps;
    for position in 0..=steps {
        rig.go_to_step(position, steps)?;
        rig.solve();
        for grip in 0..tool.hand.grips.len() {
            let needed = match rig.forces().needed.get(grip) {
                Some(Answer::Moves { force, .. }) if rig.work().is_some() => Some(*force),
                _ => None,
            };
            for (load, hand_force) in hand_forces(tool, rig.span(grip), needed) {
                if let Some((sheet, _)) = rig.sheet(grip, hand_force) {
                    checks.add(&Case {
                        position,
                        grip,
                        hand_force,
                        load,
                        sheet: &sheet,
                    });
                }
            }
        }
    }
    Ok(checks.finish())
}
