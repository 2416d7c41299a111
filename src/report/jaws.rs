//! Each jaw of a tool in a line: what it opens, how hard it presses at shut, what its work asks of the hand.

use super::show::pressed;
use crate::analysis::{HandCase, Position, Solved, hand_cases};
use crate::measure::HandPeak;
use crate::model::{JawId, Target, Tool};
use crate::statics::Answer;
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// A jaw over the whole stroke.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JawSummary {
    /// Its name.
    pub jaw: String,
    /// Its gap at open and at shut.
    pub gap: [f64; 2],
    /// It stands still at shut: no ratio, no force.
    pub toggle: bool,
    /// The dies of a jaw have met before shut: no ratio, no force.
    pub beyond: bool,
    /// One entry for each of the report's grips.
    pub grips: Vec<JawAtGrip>,
}

/// A jaw for a hand at one grip, as if it alone held the work.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct JawAtGrip {
    /// Distance along the hand line.
    pub at: f64,
    /// At shut, jaw force per unit hand force, without friction and springs.
    pub ratio: Option<f64>,
    /// At shut, at the report's hand force, with friction and springs.
    pub jaw_force: Option<f64>,
    /// Friction lets nothing through at shut.
    pub locked: bool,
    /// The greatest hand force that its work needs over the stroke; null without work, and where friction
    /// locks the tool on the way.
    pub peak: Option<f64>,
    /// Whether a hand can do its work; null where that was not judged or cannot be told.
    pub can: Option<bool>,
}

/// Where an end of the stroke is.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EndOfStroke {
    /// By what it is given: `"gap"`, `"span"`, `"handle"` or `"stop"`.
    pub by: &'static str,
    /// The value given.
    pub value: f64,
    /// The jaw whose gap is meant; null where it is no gap.
    pub jaw: Option<String>,
    /// The stop that is meant.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stop: Option<String>,
}

/// Both ends of the stroke as they are given: open, shut.
pub(super) fn ends_of_stroke(tool: &Tool, units: UnitSystem) -> [EndOfStroke; 2] {
    [tool.stroke.open, tool.stroke.shut].map(|target| {
        let (by, value, quantity, jaw) = match target {
            Target::Gap(mm, jaw) => ("gap", mm, Quantity::Length, tool.jaw(jaw)),
            Target::Span(mm, _) => ("span", mm, Quantity::Length, None),
            Target::Stop(_) => ("stop", 0.0, Quantity::Length, None),
            Target::Handle(angle) => ("handle", angle, Quantity::Angle, None),
        };
        let stop = match target {
            Target::Stop(stop) => tool.stop(stop),
            _ => None,
        };
        EndOfStroke {
            stop: stop.map(|stop| stop.name.clone()),
            by,
            value: units.show(value, quantity),
            jaw: jaw.map(|jaw| jaw.name.clone()),
        }
    })
}

/// Every jaw of a solved stroke, the one in view first.
pub(super) fn all_jaws(tool: &Tool, solved: &Solved, units: UnitSystem) -> Vec<JawSummary> {
    let (Some(open), Some(shut)) = (solved.positions.first(), solved.positions.last()) else {
        return Vec::new();
    };
    let cases = hand_cases(tool, solved).unwrap_or_default();
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let force = |newtons: f64| units.show(newtons, Quantity::Force);
    let each = JawId::each(&tool.jaws).map(|(id, jaw)| {
        let gap = |at: &Position| at.gap.get(id.index()).map_or(0.0, |&mm| length(mm));
        let grips = tool.hand.grips.iter().enumerate();
        JawSummary {
            jaw: jaw.name.clone(),
            gap: [gap(open), gap(shut)],
            toggle: shut.toggle.get(id.index()).copied().unwrap_or(false),
            beyond: shut.ended,
            grips: grips
                .map(|(grip, &at)| {
                    let held = shut.grips.get(grip);
                    let answer =
                        held.and_then(|held| held.answer.get(id.index()).copied().flatten());
                    let peak = peaks(solved, id).get(grip).and_then(|peak| peak.force.ok());
                    let case = cases.iter().find(|case| case.jaw == id && case.grip == at);
                    JawAtGrip {
                        at: length(at),
                        ratio: held.and_then(|held| held.ratio.get(id.index()).copied().flatten()),
                        jaw_force: pressed(answer).map(force),
                        locked: answer == Some(Answer::Locked),
                        peak: peak.filter(|newtons| newtons.is_finite()).map(force),
                        can: case.and_then(HandCase::can),
                    }
                })
                .collect(),
        }
    });
    each.collect()
}

/// For each grip, the greatest hand force that the work of a jaw needs; empty without work.
fn peaks(solved: &Solved, jaw: JawId) -> &[HandPeak] {
    if jaw == JawId::FIRST {
        return &solved.peaks;
    }
    let other = solved.elsewhere.iter().find(|other| other.jaw == jaw);
    other.map_or(&[], |other| &other.peaks)
}
