//! What to change so that a target comes within reach.

use super::error::MotionError;
use super::extremes::{Extreme, extremes, near_extreme};
use crate::mechanism::Linkage;
use crate::model::dimension::{Dimension, dimensions};
use crate::model::{Fixed, FixedBy, Target, Tool};
use crate::numeric::angle::wrapped;
use crate::units::UnitSystem;
use std::sync::Arc;

/// A change of one dimension that brings a target within reach: the stroke was looked for with it,
/// and is there.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// The dimension as it is now.
    pub dimension: Dimension,
    /// What to add to it, mm.
    pub by: f64,
}

/// Changes proposed at most.
const MOST: usize = 3;
/// Dimensions tried at most, the likeliest first.
const TRIED: usize = 8;
/// Changes above this part of the tool's size make another tool of it.
const LARGEST: f64 = 0.25;
/// Work allowed, in positions times the cube of the coordinates: some tenths of a second.
const WORK: f64 = 3e7;

/// What keeps a tool from its stroke, if anything does.
type Solves<'s> = &'s dyn Fn(&Tool) -> Result<(), MotionError>;

/// The smallest changes of one dimension each that bring the target of `error` within reach; empty
/// where there is none, or where `error` is another one. `solves` says of a changed tool what still
/// keeps it from its stroke.
#[must_use]
pub fn changes(tool: &Tool, error: &MotionError, solves: Solves) -> Vec<Change> {
    let MotionError::Unreachable {
        end, passing: None, ..
    } = error
    else {
        return Vec::new();
    };
    let target = if *end == "open" {
        tool.stroke.open
    } else {
        tool.stroke.shut
    };
    let Ok(linkage) = Linkage::new(tool).map(Arc::new) else {
        return Vec::new();
    };
    let (ends, positions) = extremes(&linkage, target);
    let Some((extreme, short)) = shortfall(&ends, target) else {
        return Vec::new();
    };
    let step = 1e-4 * linkage.size;
    let mut likely: Vec<(Dimension, f64)> = dimensions(tool)
        .into_iter()
        .filter(|dimension| tool.tie(dimension.slot).is_none())
        .filter_map(|dimension| {
            let at = |by: f64| near_extreme(&changed(tool, &dimension, by)?, target, extreme);
            let slope = (at(step)? - at(-step)?) / (2.0 * step);
            let by = short / slope;
            (by.abs() <= LARGEST * linkage.size).then_some((dimension, by))
        })
        .collect();
    likely.sort_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    let one = positions as f64 * (linkage.coordinates as f64).powi(3);
    let mut trials = (WORK / one.max(1.0)) as usize;
    let mut found = Vec::new();
    for (dimension, by) in likely.into_iter().take(TRIED) {
        if found.len() == MOST {
            break;
        }
        found.extend(proved(
            tool,
            target,
            dimension,
            by,
            (short, extreme.value),
            (solves, &mut trials),
        ));
    }
    found.sort_by(|a: &Change, b| a.by.abs().total_cmp(&b.by.abs()));
    found
}

/// The extreme that the target lies beyond, and how far it would have to move, mm or rad.
fn shortfall(ends: &[Option<Extreme>; 2], target: Target) -> Option<(&Extreme, f64)> {
    let Fixed { by, value } = target.fixed();
    let short = |e: &Extreme| match by {
        FixedBy::Handle => wrapped(value - e.value),
        _ => value - e.value,
    };
    let [low, high] = ends;
    let below = low
        .as_ref()
        .map(|e| (e, short(e)))
        .filter(|(_, s)| *s < 0.0);
    let above = high
        .as_ref()
        .map(|e| (e, short(e)))
        .filter(|(_, s)| *s > 0.0);
    below
        .into_iter()
        .chain(above)
        .min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
}

/// The linkage with one dimension changed.
fn changed(tool: &Tool, dimension: &Dimension, by: f64) -> Option<Arc<Linkage>> {
    Linkage::new(&with(tool, dimension, by)?).ok().map(Arc::new)
}

fn with(tool: &Tool, dimension: &Dimension, by: f64) -> Option<Tool> {
    let mut other = tool.clone();
    let value = dimension.value + by;
    let slot = dimension.slot;
    (slot.allows(value) && slot.set(&mut other, value)).then(|| {
        other.follow_ties();
        other
    })
}

/// A change of about `by` with which the stroke is really there. The extreme is not linear in the
/// dimension, so it is read again at each trial (secant).
fn proved(
    tool: &Tool,
    target: Target,
    dimension: Dimension,
    by: f64,
    (short, extreme): (f64, f64),
    (solves, trials): (Solves, &mut usize),
) -> Option<Change> {
    let mut by = by;
    for _ in 0..4 {
        *trials = trials.checked_sub(1)?;
        let rounded = round_out(by, tool.units);
        let other = with(tool, &dimension, rounded)?;
        let linkage = Arc::new(Linkage::new(&other).ok()?);
        match solves(&other) {
            Ok(_) => {
                return Some(Change {
                    dimension,
                    by: rounded,
                });
            }
            Err(MotionError::Unreachable { .. }) => {}
            Err(_) => return None,
        }
        let (ends, _) = extremes(&linkage, target);
        let moved = ends[usize::from(short > 0.0)].as_ref()?.value - extreme;
        let next = rounded * short / moved;
        by = if next.is_finite() && next / rounded > 1.0 {
            next
        } else {
            rounded * 1.2
        };
        if by.abs() > LARGEST * linkage.size {
            return None;
        }
    }
    None
}

/// Rounded away from zero to two figures in the tool's units.
fn round_out(by: f64, units: UnitSystem) -> f64 {
    let unit = match units {
        UnitSystem::MmN => 1.0,
        UnitSystem::InLbf => crate::units::MM_PER_IN,
    };
    let shown = (by / unit).abs();
    let step = 10f64.powf(shown.log10().floor() - 1.0).max(1e-3);
    (shown / step - 1e-6).ceil() * step * unit * by.signum()
}
