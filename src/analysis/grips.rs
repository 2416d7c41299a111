//! The grips at which a tool is judged: the same for every caller.

use crate::measure::Measure;
use crate::model::{At, Tool};

/// The tool with every grip that its demands and its aim name. Grips of its own keep their places.
#[must_use]
pub fn with_grips(tool: &Tool) -> Tool {
    let mut whole = tool.clone();
    let demands = tool.demands.iter().filter_map(|d| d.grip);
    for grip in demands.chain(tool.aim.iter().filter_map(|a| a.grip)) {
        if !whole.hand.grips.contains(&grip) {
            whole.hand.grips.push(grip);
        }
    }
    whole
}

/// The grips at which a measure is read one by one: that which is `named`, or each of a tool's `own`.
/// One `None` where no grip changes it, or all of them together give one number, as `safety` does.
#[must_use]
pub fn grips_of(
    tool: &Tool,
    measure: &Measure,
    at: Option<At>,
    named: Option<f64>,
    own: &[f64],
) -> Vec<Option<f64>> {
    let moves = match measure {
        Measure::Gap | Measure::Handle | Measure::Travel | Measure::Offset => {
            matches!(at, Some(At::Span(_)))
        }
        Measure::JawWork => tool.work().is_none(),
        Measure::ToggleMargin | Measure::ToggleMarginGap | Measure::Yield => false,
        _ => true,
    };
    match named {
        Some(grip) if moves => vec![Some(grip)],
        None if measure.per_grip() => own.iter().copied().map(Some).collect(),
        _ => vec![None],
    }
}
