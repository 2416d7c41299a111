//! Strength over the whole stroke: the rig's free-body sheets, position by position and grip by
//! grip, through the checks.

use crate::analysis::{Direction, Failure};
use crate::model::Tool;
use crate::statics::{Answer, Mounted, Rig};
use crate::strength::{Case, Checks, Strength, hand_forces};

/// Most intervals of the stroke at whose ends the factors are looked for: they change little from
/// one position to the next, and both ends of the stroke are always among them.
const MOST_INTERVALS: usize = 60;

/// The factors of a tool: along the stroke and at every grip, under the larger of the hand's limit
/// there (or the tool's hand force, where it has no limit) and what the work needs there.
/// Positions at a toggle have no sheet.
///
/// # Errors
/// [`Failure`]: what the linkage cannot do.
pub fn strength(tool: &Tool, direction: Direction) -> Result<Strength, Failure> {
    let mounted = Mounted::new(tool)?;
    let mut rig = Rig::new(tool, &mounted, direction == Direction::Opening)?;
    let mut checks = Checks::new(tool);
    let steps = tool.stroke.steps;
    let stride = steps.div_ceil(MOST_INTERVALS).max(1);
    let positions = (0..steps).step_by(stride).chain(std::iter::once(steps));
    for position in positions {
        rig.go_to_step(position, steps)?;
        rig.solve();
        for grip in 0..tool.hand.grips.len() {
            let needed = match rig.forces().needed.get(grip) {
                Some(Answer::Moves { force, .. }) if rig.work().is_some() => Some(*force),
                _ => None,
            };
            let larger =
                hand_forces(tool, rig.span(grip), needed).max_by(|a, b| a.1.total_cmp(&b.1));
            if let Some((load, hand_force)) = larger
                && let Some((sheet, _)) = rig.sheet(grip, hand_force)
            {
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
    Ok(checks.finish())
}
