//! Whether the hand closes the tool.
//!
//! The ratio of a jaw is the power of the hand over the rate at which the jaw closes. It passes zero
//! where the push does nothing, and may have both signs on a stroke, as where a grip goes round a
//! point while the direction of the push stays: there the hand closes the jaw on a part of the stroke
//! and opens it on the other, where it has no jaw force. That is shown as it is, with a note. Where
//! the ratio of the jaw that closes on the stroke is above zero nowhere, the tool is not described as it is meant.

use super::rates::closing_senses;
use crate::mechanism::{Linkage, Rates};
use crate::model::GripId;
use crate::motion::{MotionError, PushedOpen, Solver, Spread, Survey, outwards, spots};
use std::sync::Arc;

/// A push of the hand whose rate is below this (over the length of the tangent and the tool's size)
/// does nothing there.
const NO_POWER: f64 = 1e-6;

/// Refuses a stroke on which the hand closes its jaw nowhere, at some grip.
///
/// # Errors
/// [`MotionError::PushedOpen`].
pub(super) fn hand_closes(linkage: &Arc<Linkage>, survey: &Survey) -> Result<(), MotionError> {
    let mut solver = Solver::new(Arc::clone(linkage));
    if let Some(node) = survey.path.nodes.get(survey.path.start) {
        solver.choose_rows(&node.q);
    }
    let sides = closing_senses(&mut solver, survey);
    let forth = survey.open.before(survey.shut);
    let sense = if forth { 1.0 } else { -1.0 };
    let mut rates = Rates::new(linkage);
    // For each grip: a ratio above zero, or else the first one below.
    let mut found: Vec<Option<f64>> = vec![None; linkage.hand.held];
    for spot in spots(survey) {
        if survey.path.stand(&mut solver, spot).is_none() {
            continue;
        }
        rates.read(&solver, sense);
        let (_, closing) = rates.jaw(linkage, &solver.pose, linkage.lead);
        if rates.stands_still(linkage, closing) {
            continue;
        }
        let each = GripId::ids(found.len()).zip(&mut found);
        for ((grip, found), side) in each.zip(&sides) {
            let power = rates.hand_power(&solver.pose, &linkage.push(&solver.pose, grip, *side));
            let ratio = power / closing;
            if power.abs() > NO_POWER * linkage.size * rates.length()
                && found.is_none_or(|known| known < 0.0 && ratio > 0.0)
            {
                *found = Some(ratio);
            }
        }
        if found.iter().all(|ratio| ratio.is_some_and(|r| r > 0.0)) {
            return Ok(());
        }
    }
    let known = GripId::each(&found).filter_map(|(grip, ratio)| Some((grip, (*ratio)?)));
    let Some((grip, ratio)) = known.into_iter().find(|&(_, ratio)| ratio < 0.0) else {
        return Ok(());
    };
    let jaw = linkage.jaws.get(linkage.lead.index());
    let gap = [survey.open, survey.shut].map(|spot| {
        survey.path.stand_or_pass(&mut solver, spot);
        jaw.map_or(f64::NAN, |jaw| linkage.gap(&solver.pose, jaw))
    });
    let mut open = PushedOpen {
        grip,
        other_grip: found.iter().flatten().any(|r| *r > 0.0),
        gap,
        span: [None; 2],
        ratio,
        // The hand drives the jaw to the open end.
        spread: Spread {
            outwards: None,
            apart: gap[0] + jaw.map_or(0.0, |jaw| jaw.closed),
            way: gap[0] - gap[1],
        },
    };
    for (k, spot) in [survey.shut, survey.open].into_iter().enumerate() {
        if survey.path.stand(&mut solver, spot).is_some() {
            open.span[1 - k] = linkage.span(&solver.pose, grip);
            open.spread.outwards = outwards(linkage, &solver.pose);
        }
    }
    Err(MotionError::PushedOpen(Box::new(open)))
}
