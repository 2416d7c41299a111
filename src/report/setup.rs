//! What the setter's adjusters do: the answer of `setup`.

use super::show::Source;
use super::stroke::UnitNames;
use crate::analysis::{AtEnd, Setting, at_end, settings};
use crate::model::{Adjuster, Adjusts, JawId, Target, Tool};
use crate::units::{Quantity, UnitSystem, trimmed};
use serde::Serialize;

/// What every adjuster does at the end of the stroke.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SetupReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The file as it was named.
    pub file: String,
    /// SHA-256 of the file's bytes.
    pub sha256: String,
    /// Units of lengths, forces and angles.
    pub units: UnitNames,
    /// Unit of torques.
    pub torque_unit: &'static str,
    /// The grip at which the tool is held.
    pub grip: f64,
    /// Hand force that jaw force and torque are for.
    pub hand_force: f64,
    /// The end of the stroke is a gap of the first jaw, which no adjuster changes.
    pub shut_by_gap: bool,
    /// Every adjuster.
    pub adjusters: Vec<AdjusterReport>,
}

/// One adjuster.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AdjusterReport {
    /// Its name.
    pub name: String,
    /// What it moves: `pin post in frame`, `frame.anvil.y`.
    pub moves: String,
    /// Unit of its settings.
    pub unit: &'static str,
    /// The setting that the tool has.
    pub now: f64,
    /// Whether the settings are notches.
    pub notches: bool,
    /// From the least setting to the greatest.
    pub settings: Vec<SettingReport>,
    /// Least and greatest gap over the settings.
    pub gap_range: Option<[f64; 2]>,
    /// Greatest change of the gap from one setting to the next.
    pub step: Option<f64>,
    /// Change of the gap with a turn of the screw, over the whole range.
    pub per_turn: Option<f64>,
    /// How far the gap can be made smaller and greater than it is now.
    pub room: Option<[f64; 2]>,
    /// Worst case of the gap at shut within the tolerances, and whether there is that much room both ways.
    pub tolerance: Option<Covered>,
}

/// The worst case of the gap, either way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Covered {
    /// Worst case.
    pub worst: f64,
    /// Whether the adjuster takes it up.
    pub covered: bool,
}

/// One setting. What has no value there is null.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SettingReport {
    /// The setting.
    pub at: f64,
    /// Turns of the screw from where it is now.
    pub turns: Option<f64>,
    /// Gap of the first jaw at the end of the stroke.
    pub gap: Option<f64>,
    /// Handle angle there.
    pub handle: Option<f64>,
    /// Jaw force per hand force.
    pub ratio: Option<f64>,
    /// Jaw force at the hand force.
    pub jaw_force: Option<f64>,
    /// Hand force for the work.
    pub work_force: Option<f64>,
    /// What would turn an eccentric pin at the hand force, counter-clockwise positive.
    pub torque: Option<f64>,
    /// What friction at the pin's radius holds against it; null where the pin has no friction.
    pub friction_torque: Option<f64>,
    /// Why the tool does not work so.
    pub problem: Option<String>,
}

/// The report of what the adjusters of `tool` do. `worst`: worst case of the gap at shut, mm, where it is known.
#[must_use]
pub fn setup_report(
    tool: &Tool,
    source: &Source,
    units: UnitSystem,
    worst: Option<f64>,
) -> SetupReport {
    let all = tool.adjusters.iter().enumerate();
    SetupReport {
        format: 1,
        tool: tool.name.clone(),
        file: source.file.clone(),
        sha256: source.sha256.clone(),
        units: UnitNames::of(units),
        torque_unit: units.symbol(Quantity::Torque),
        grip: units.show(
            tool.hand.grips.first().copied().unwrap_or(0.0),
            Quantity::Length,
        ),
        hand_force: units.show(tool.hand.force, Quantity::Force),
        shut_by_gap: matches!(tool.stroke.shut, Target::Gap(_, JawId::FIRST)),
        adjusters: all
            .map(|(k, adjuster)| of_one(tool, k, adjuster, units, worst))
            .collect(),
    }
}

/// Every adjuster in a line: what it moves, its range and its setting.
pub(super) fn adjuster_lines(tool: &Tool, units: UnitSystem) -> Vec<String> {
    let line = |adjuster: &Adjuster| {
        let (quantity, (moves, _)) = (adjuster.quantity(), moves(tool, adjuster));
        let show = |v: f64| trimmed(units.show(v, quantity), 4);
        let notches = adjuster.notches.map(|count| format!(", {count} notches"));
        format!(
            "{}: {moves}, {} to {} {}{}, now {}",
            adjuster.name,
            show(adjuster.from),
            show(adjuster.to),
            units.symbol(quantity),
            notches.unwrap_or_default(),
            show(adjuster.now)
        )
    };
    tool.adjusters.iter().map(line).collect()
}

/// What an adjuster moves, and the pitch of its screw.
fn moves(tool: &Tool, adjuster: &Adjuster) -> (String, Option<f64>) {
    match &adjuster.moves {
        Adjusts::Eccentric { pin, .. } => {
            let part = tool.part(pin.part);
            let point = part.and_then(|part| part.points.get(pin.point));
            let names = part
                .zip(point)
                .map(|(part, point)| (&part.name, &point.name));
            let text = names.map(|(part, pin)| format!("pin {pin} in {part}"));
            (text.unwrap_or_default(), None)
        }
        Adjusts::Number {
            dimension, pitch, ..
        } => (dimension.clone(), *pitch),
    }
}

fn of_one(
    tool: &Tool,
    place: usize,
    adjuster: &Adjuster,
    units: UnitSystem,
    worst: Option<f64>,
) -> AdjusterReport {
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let (quantity, (moves, pitch)) = (adjuster.quantity(), moves(tool, adjuster));
    let found = settings(tool, place);
    let gaps: Vec<Option<f64>> = found.iter().map(|s| gap(s.end.as_ref().ok())).collect();
    let known = || gaps.iter().copied().flatten();
    let range = known().next().map(|_| {
        [
            known().fold(f64::INFINITY, f64::min),
            known().fold(f64::NEG_INFINITY, f64::max),
        ]
    });
    let steps = gaps
        .windows(2)
        .filter_map(|pair| Some((pair[1]? - pair[0]?).abs()));
    let now = gap(at_end(tool, place).ok().as_ref());
    let room = now
        .zip(range)
        .map(|(now, [low, high])| [now - low, high - now]);
    let ends = gaps
        .first()
        .copied()
        .flatten()
        .zip(gaps.last().copied().flatten());
    let per_turn = ends
        .zip(pitch)
        .map(|((first, last), pitch)| (last - first) / (adjuster.to - adjuster.from) * pitch);
    AdjusterReport {
        name: adjuster.name.clone(),
        moves,
        unit: units.symbol(quantity),
        now: units.show(adjuster.now, quantity),
        notches: adjuster.notches.is_some(),
        settings: found
            .iter()
            .map(|setting| one(tool, setting, (adjuster.now, quantity, pitch), units))
            .collect(),
        gap_range: range.map(|range| range.map(length)),
        step: steps.reduce(f64::max).map(length),
        per_turn: per_turn.map(length),
        room: room.map(|room| room.map(length)),
        tolerance: room.zip(worst).map(|(room, worst)| Covered {
            worst: length(worst),
            covered: room.iter().all(|room| *room >= worst),
        }),
    }
}

fn gap(end: Option<&AtEnd>) -> Option<f64> {
    end.map(|end| end.gap).filter(|gap| gap.is_finite())
}

fn one(
    tool: &Tool,
    setting: &Setting,
    (now, quantity, pitch): (f64, Quantity, Option<f64>),
    units: UnitSystem,
) -> SettingReport {
    let end = setting.end.as_ref().ok();
    let force = |newtons: f64| units.show(newtons, Quantity::Force);
    let turning = end.and_then(|end| end.turning?.ok());
    let torque = |nmm: f64| units.show(nmm, Quantity::Torque);
    SettingReport {
        at: units.show(setting.at, quantity),
        turns: pitch.map(|pitch| (setting.at - now) / pitch),
        gap: gap(end).map(|mm| units.show(mm, Quantity::Length)),
        handle: end.map(|end| units.show(end.handle, Quantity::Angle)),
        ratio: end.and_then(|end| end.ratio.ok()),
        jaw_force: end.and_then(|end| end.jaw.ok()).map(force),
        work_force: end.and_then(|end| end.hand.ok()).map(force),
        torque: turning.map(|turning| torque(turning.torque)),
        friction_torque: turning.and_then(|turning| turning.friction.map(torque)),
        problem: setting.end.as_ref().err().map(|failure| failure.text(tool)),
    }
}
