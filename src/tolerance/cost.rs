//! What one sample of a study costs, roughly.

use super::sweep::Sweep;
use super::target::{Kind, Target};
use super::worker::Setup;
use crate::model::amount::Cost;

/// Positions at which a peak of a sample is looked for between two nodes, at a corner.
const REFINED: usize = 16;

/// Positions at which a toggle beyond shut is looked for.
const FOLLOWED: usize = 6;
/// What a sheet and the factors off it cost, ns.
const STRAINED: f64 = 9e3;

/// What it costs to cut a plate, and to look at all its cuts once, ns.
const CUT: f64 = 3e6;
const CUTS: f64 = 2e5;

/// What one sample costs, ns, in which so many Newton steps of contact forces are taken.
pub(super) fn cost(setup: &Setup, newton_steps: u64) -> f64 {
    let one = Cost::of(setup.tool);
    let nodes = |s: &Sweep| s.nodes.len();
    let stations = setup.stations.len();
    let visits = stations + setup.sweeps.iter().map(nodes).sum::<usize>();
    let swept = setup.sweeps.iter().map(|s| nodes(s) * s.measures.len());
    let peak = |t: &&Target| matches!(t.kind, Kind::Sweep { .. });
    let refined = REFINED * setup.targets.iter().filter(peak).count();
    let (rows, integrated) = (setup.areas.iter()).fold((0, 0), |(rows, places), area| {
        let [more_rows, more_places] = area.visits();
        (rows + more_rows, places + more_places)
    });
    let strained = setup
        .targets
        .iter()
        .map(|target| target.among.len())
        .sum::<usize>();
    let margin = |t: &&Target| matches!(t.kind, Kind::Margin { .. });
    let followed = FOLLOWED * setup.targets.iter().filter(margin).count();
    let visits = visits + followed + refined + rows + integrated;
    let readings = setup.targets.len() + swept.sum::<usize>() + refined + integrated;
    visits as f64 * (4.5 * one.stand + 300.0)
        + readings as f64 * (one.friction + 500.0)
        + strained as f64 * STRAINED
        + setup.safeties.cut_anew() as f64 * (CUT + strained as f64 * CUTS)
        + newton_steps as f64 * one.newton
        + (stations * setup.targets.len()) as f64
}
