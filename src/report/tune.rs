//! What tuning changed: the answer of `tune`.

use super::show::position_text;
use super::stroke::UnitNames;
use super::verdict::VerdictReport;
use crate::analysis::Outcome;
use crate::model::dimension::{DimensionSlot, find};
use crate::model::{Measure, Tool};
use crate::statics::Absent;
use crate::tune::{Tuned, breach, step_of};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// Before and after.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TuneReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// Units of every number below.
    pub units: UnitNames,
    /// What a reader wants to know first of the new tool.
    pub verdict: VerdictReport,
    /// Every dimension of `[[tune]]`.
    pub dimensions: Vec<Change>,
    /// The unit of each of them; empty for plain numbers.
    pub dimension_units: Vec<&'static str>,
    /// The aim.
    pub aim: Change,
    /// Where the aim is read; null for a measure of the whole stroke.
    pub aim_at: Option<String>,
    /// At which grip the aim is read, if it depends on it.
    pub aim_grip: Option<f64>,
    /// Unit of the aim; empty for plain numbers.
    pub aim_unit: String,
    /// Dimensions that came out at an end of their range.
    pub at_end: Vec<String>,
    /// Every demand.
    pub demands: Vec<DemandChange>,
    /// All demands are met after.
    pub met: bool,
    /// The demand that is most in the way, if not all are met.
    pub in_the_way: Option<String>,
    /// Points of the ranges that were solved or tried.
    pub judged: usize,
}

/// A number before and after.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Change {
    /// What it is.
    pub name: String,
    /// As it was.
    pub before: Option<f64>,
    /// As it is now.
    pub after: Option<f64>,
}

/// A demand before and after.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DemandChange {
    /// Name of the measure.
    pub measure: String,
    /// Where it is read; null for a measure of the whole stroke.
    pub at: Option<String>,
    /// Grip, if it depends on it.
    pub grip: Option<f64>,
    /// Its unit; empty for plain numbers.
    pub unit: String,
    /// Value before.
    pub before: Option<f64>,
    /// Value after.
    pub after: Option<f64>,
    /// Why there is no value after.
    pub why: Option<&'static str>,
    /// Least value that is good enough.
    pub min: Option<f64>,
    /// Greatest value that is good enough.
    pub max: Option<f64>,
    /// Met before and after.
    pub met: [bool; 2],
}

/// The report of a tuning.
#[must_use]
pub fn tune_report(tool: &Tool, tuned: &Tuned, units: UnitSystem) -> TuneReport {
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let quantity = |measure: &Measure| measure.kind().quantity;
    let shown = |measure: &Measure, v: f64| quantity(measure).map_or(v, |q| units.show(v, q));
    let unit = |measure: &Measure| quantity(measure).map_or("", |q| units.symbol(q)).to_owned();
    let [before, after] = &tuned.demands;
    let demand = |now: &Outcome| {
        let then = before
            .iter()
            .find(|b| b.demand == now.demand && b.grip == now.grip);
        let demand = tool.demands.get(now.demand)?;
        let m = &demand.measure;
        Some(DemandChange {
            measure: m.name_of(tool, demand.jaw),
            at: demand.at.map(|at| position_text(tool, at, units)),
            grip: now.grip.map(length),
            unit: unit(m),
            before: then.and_then(Outcome::value).map(|v| shown(m, v)),
            after: now.value().map(|v| shown(m, v)),
            why: now.why().map(Absent::words),
            min: demand.bound.min.map(|v| shown(m, v)),
            max: demand.bound.max.map(|v| shown(m, v)),
            met: [then.is_some_and(|b| b.met), now.met],
        })
    };
    let worst = after
        .iter()
        .filter(|d| !d.met)
        .max_by(|a, b| breach(tool, a).total_cmp(&breach(tool, b)));
    let aim = tool.aim.as_ref();
    let aimed = aim.map(|a| &a.measure);
    let aim_shown = |v: f64| aimed.map_or(v, |m| shown(m, v));
    // Rounding to what calipers read stops up to one step short of an end.
    let measured = |name: &str| find(tool, name).and_then(DimensionSlot::quantity);
    let at_end = tuned.dimensions.iter().filter(|(name, _, after)| {
        let step = step_of(measured(name), tool.units);
        let near = |end: f64| (after - end).abs() <= 1.01 * step;
        let mut ranges = tool.tunes.iter().filter(|t| t.dimension == *name);
        ranges.any(|t| near(t.from) || near(t.to))
    });
    TuneReport {
        verdict: VerdictReport::default(),
        format: 1,
        tool: tool.name.clone(),
        units: UnitNames::of(units),
        dimensions: tuned
            .dimensions
            .iter()
            .map(|(n, a, b)| Change {
                name: n.clone(),
                before: Some(units.shown(*a, measured(n))),
                after: Some(units.shown(*b, measured(n))),
            })
            .collect(),
        dimension_units: (tuned.dimensions.iter())
            .map(|(n, ..)| units.unit(measured(n)))
            .collect(),
        aim: Change {
            name: aim
                .map(|a| a.measure.name_of(tool, a.jaw))
                .unwrap_or_default(),
            before: tuned.aim[0].map(aim_shown),
            after: tuned.aim[1].map(aim_shown),
        },
        aim_at: aim
            .and_then(|a| a.at)
            .map(|at| position_text(tool, at, units)),
        // Where [aim] names none, the first grip is meant.
        aim_grip: aim
            .and_then(|a| a.grip.or(tool.hand.grips.first().copied()))
            .filter(|_| aimed.is_some_and(Measure::per_grip))
            .map(length),
        aim_unit: aimed.map(unit).unwrap_or_default(),
        at_end: at_end.map(|d| d.0.clone()).collect(),
        demands: after.iter().filter_map(demand).collect(),
        met: tuned.met,
        in_the_way: worst
            .and_then(|d| tool.demands.get(d.demand))
            .map(|d| d.measure.name_of(tool, d.jaw)),
        judged: tuned.judged,
    }
}
