//! What touches within the stroke, and what the hand opens: sentences that several reports share.

use super::show::number;
use crate::analysis::Solved;
use crate::model::{Met, Tool};
use crate::units::{Quantity, UnitSystem};

/// What to write where the dies of a jaw or a stop meet before the stroke is at its end.
pub(super) fn meeting_cure(tool: &Tool, solved: &Solved, units: UnitSystem) -> Option<String> {
    let meets = solved.meets?;
    let at = solved.positions.get(meets.position)?;
    let jaw_met = match meets.what {
        Met::Dies(jaw) => jaw,
        Met::Face(cam) => {
            let name = tool.cams.get(cam)?.label(cam);
            return Some(format!(
                "the face of cam `{name}` ends before the stroke is shut: carry its `points` on, or end the stroke \
                 before it"
            ));
        }
        Met::Stop(stop) => {
            let name = &tool.stop(stop)?.name;
            return Some(format!(
                "stop `{name}` is met before the stroke is shut; to end it there, write `shut = {{ stop = \"{name}\" }}`"
            ));
        }
    };
    let jaw = tool.jaw(jaw_met)?;
    let last = solved.positions.last()?.gap.get(jaw_met.index()).copied();
    // Rounding leaves a tiny gap, of either sign.
    let gap = at
        .gap
        .get(tool.stroke.lead.index())
        .filter(|_| jaw_met != tool.stroke.lead)
        .copied()
        .unwrap_or(0.0);
    let length = |v: f64| number(units.show(v, Quantity::Length));
    let beyond = last.filter(|gap| *gap < 0.0).map(|gap| {
        format!(
            "; dies that are to pass each other, as shears do, count their gap from where they stop: `closed = {}` \
             in [[jaw]]",
            length(gap + jaw.closed)
        )
    });
    Some(format!(
        "the dies of jaw `{}` meet before the stroke is shut; to end it there, write `shut = {{ gap = {} }}`{}",
        jaw.name,
        length(gap),
        beyond.unwrap_or_default()
    ))
}

/// Where the handles touch.
pub(super) fn touch_text(tool: &Tool, solved: &Solved, units: UnitSystem) -> Option<String> {
    let touch = solved.touch?;
    let show = |v: f64, quantity| number(units.show(v, quantity));
    let length = units.symbol(Quantity::Length);
    let from = if touch.at_open {
        "at open already"
    } else {
        "on the way"
    };
    let thickness = tool.hand.thickness;
    let why = if touch.cross {
        "their centre lines cross, so that they would go through each other".to_owned()
    } else {
        format!(
            "their centre lines come nearer than their thickness of {} {length}",
            show(thickness, Quantity::Length)
        )
    };
    Some(format!(
        "the handles touch {from}, at handle {} deg, gap {} {length}, {} {length} along the hand line: {why}; the \
         forces are calculated as if they did not. End the stroke before it, or move the hand lines apart",
        show(touch.handle, Quantity::Angle),
        show(touch.gap, Quantity::Length),
        show(touch.along, Quantity::Length),
    ))
}

/// For each jaw and grip, from where to where the hand opens the jaw: its ratio is below zero there.
pub(super) fn opened_by_hand(tool: &Tool, solved: &Solved, units: UnitSystem) -> Vec<String> {
    let mut out = Vec::new();
    let show = |v: f64| number(units.show(v, Quantity::Length));
    let length = units.symbol(Quantity::Length);
    for (j, jaw) in tool.jaws.iter().enumerate() {
        for (g, &grip) in tool.hand.grips.iter().enumerate() {
            let opens = |k: usize| {
                let ratio = solved
                    .positions
                    .get(k)
                    .and_then(|p| p.grips.get(g)?.ratio.get(j).copied()?);
                ratio.is_some_and(|r| r < 0.0)
            };
            let gap = |k: usize| {
                let gap = solved.positions.get(k).and_then(|p| p.gap.get(j).copied());
                gap.map_or(String::new(), show)
            };
            let rows: Vec<usize> = (0..solved.positions.len()).filter(|&k| opens(k)).collect();
            for run in rows.chunk_by(|a, b| a + 1 == *b) {
                if let (Some(&first), Some(&last)) = (run.first(), run.last()) {
                    out.push(format!(
                        "the hand at grip {} {length} opens jaw `{}` from gap {} to {} {length} (ratio below zero): \
                         it has no jaw force there",
                        show(grip),
                        jaw.name,
                        gap(first),
                        gap(last)
                    ));
                }
            }
        }
    }
    out
}
