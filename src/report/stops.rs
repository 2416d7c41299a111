//! Stops on the motion, as reports show them.

use crate::analysis::{Solved, StopSeen};
use crate::model::{StopEnd, Tool};
use crate::statics::Absent;
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// A stop on the motion.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StopLine {
    /// Its name.
    pub name: String,
    /// The end of the stroke that it is for: `"open"` or `"shut"`.
    pub ends: &'static str,
    /// The stroke ends there.
    pub met: bool,
    /// Handle angle where it is met; null where the motion never comes to it.
    pub handle: Option<f64>,
    /// Gap of the first jaw there.
    pub gap: Option<f64>,
    /// Handle angle from its end of the stroke on to it: over-travel; below zero where it is met before.
    pub left: Option<f64>,
    /// Handle angle from it on to where the dies of the first jaw meet; below zero where they meet before, null
    /// where they never do.
    pub dies: Option<f64>,
    /// What it carries, for each grip.
    pub loads: Vec<StopLoadLine>,
}

/// What a stop carries.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StopLoadLine {
    /// Distance along the hand line.
    pub grip: f64,
    /// Force on the stop.
    pub stop: Option<f64>,
    /// What the work at the first jaw takes.
    pub jaw: Option<f64>,
    /// The hand force that it is for.
    pub hand: Option<f64>,
    /// Why there is none, if there is none.
    pub why: Option<&'static str>,
    /// Where lug and pad give: how it is then.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shared: Option<SharedLine>,
}

/// What goes on into the jaw since lug and pad of a stop give.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SharedLine {
    /// The share of the hand's surplus that does.
    pub share: f64,
    /// Force at the first jaw.
    pub jaw: f64,
    /// Force on the stop.
    pub stop: f64,
}

/// Every stop of a solved stroke.
pub(super) fn stop_lines(tool: &Tool, solved: &Solved, units: UnitSystem) -> Vec<StopLine> {
    let lines = solved
        .stops
        .iter()
        .filter_map(|seen| line(tool, seen, units));
    lines.collect()
}

fn line(tool: &Tool, seen: &StopSeen, units: UnitSystem) -> Option<StopLine> {
    let stop = tool.stop(seen.stop)?;
    let angle = |v: f64| units.show(v, Quantity::Angle);
    let force = |v: f64| units.show(v, Quantity::Force);
    // What a stop does not carry since the stroke does not end there is no finding.
    let met = (seen.loads.iter()).any(|load| {
        !matches!(
            load,
            Err(Absent::NoStop | Absent::DiesMeet | Absent::StopMet | Absent::FaceEnds)
        )
    });
    let loads = tool.hand.grips.iter().zip(&seen.loads).enumerate();
    let loads = loads.map(|(k, (&grip, load))| StopLoadLine {
        grip: units.show(grip, Quantity::Length),
        stop: load.as_ref().ok().map(|load| force(load.on.stop)),
        jaw: load.as_ref().ok().map(|load| force(load.jaw)),
        hand: load.as_ref().ok().map(|load| force(load.hand)),
        why: load.as_ref().err().map(|why| why.words()),
        shared: (seen.shared.get(k).copied().flatten()).map(|of| SharedLine {
            share: of.share,
            jaw: force(of.jaw),
            stop: force(of.stop),
        }),
    });
    Some(StopLine {
        name: stop.name.clone(),
        ends: match stop.ends {
            StopEnd::Open => "open",
            StopEnd::Shut => "shut",
        },
        met,
        handle: seen.place.map(|place| angle(place.handle)),
        gap: seen
            .place
            .map(|place| units.show(place.gap, Quantity::Length)),
        left: seen.place.map(|place| angle(place.left)),
        dies: seen.dies.map(angle),
        loads: loads.collect(),
    })
}

/// Stops as they are met from open on; those that the motion never comes to last.
pub(super) fn in_order(
    mut stops: Vec<StopLine>,
    solved: &Solved,
    units: UnitSystem,
) -> Vec<StopLine> {
    let open = solved.positions.first().map_or(0.0, |at| at.handle);
    let way = |stop: &StopLine| {
        let handle = stop.handle?;
        Some((handle - units.show(open, Quantity::Angle)).abs())
    };
    stops.sort_by(|a, b| {
        let [a, b] = [a, b].map(|stop| way(stop).unwrap_or(f64::INFINITY));
        a.total_cmp(&b)
    });
    stops
}
