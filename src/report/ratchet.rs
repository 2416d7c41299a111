//! A ratchet on the stroke, as reports show it.

use crate::analysis::{RatchetSeen, Solved, ToothSeen};
use crate::measure::NoTeeth;
use crate::model::Tool;
use crate::units::{Quantity, UnitSystem, trimmed};
use serde::Serialize;

/// A ratchet on the stroke.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RatchetLine {
    /// Why its teeth have no places on the stroke; null where they have.
    pub problem: Option<String>,
    /// The teeth, from the first to the last, after which the pawl is free.
    pub teeth: Vec<ToothLine>,
    /// Greatest gap that the tool opens by when the hand lets go between two teeth.
    pub step: Option<f64>,
    /// Number of the tooth after which it does, from 1.
    pub step_after: Option<usize>,
    /// Gap at which the pawl is free.
    pub free_gap: Option<f64>,
    /// Gap at the end of the stroke.
    pub shut_gap: Option<f64>,
    /// Angle of the part with the teeth from letting go to the end of the stroke.
    pub left: Option<f64>,
    /// Angle that the pawl needs to turn over.
    pub needed: f64,
    /// Whether it can; null where the teeth have no places.
    pub turns_over: Option<bool>,
    /// The flank pulls the pawl in against friction.
    pub engages_itself: Option<bool>,
    /// Angle of the flank to the radius.
    pub flank: f64,
    /// Coefficient of friction of pawl and tooth.
    pub friction: f64,
    /// Mean moment of the pawl on the part with the teeth.
    pub drag: Option<f64>,
    /// Unit of that moment.
    pub torque_unit: &'static str,
    /// Bending and shear stress at the root of a tooth.
    pub tooth_stress: Option<[f64; 2]>,
    /// Unit of stresses.
    pub stress_unit: &'static str,
    /// Yield strength over these, the shear by the criterion of von Mises: the lesser; null without material.
    pub tooth_factor: Option<f64>,
}

/// A tooth.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToothLine {
    /// Handle angle.
    pub handle: f64,
    /// Gap of the first jaw.
    pub gap: f64,
    /// What the gap opens by if the hand lets go just before the next tooth; null at the last.
    pub step: Option<f64>,
    /// Force on the pawl if the hand lets go there.
    pub pawl: f64,
    /// Hand force for the work at each grip, with the drag of the pawl.
    pub hand_force: Vec<Option<f64>>,
    /// What the drag adds at each grip.
    pub drag: Vec<Option<f64>>,
}

/// The ratchet of a solved stroke.
pub(super) fn ratchet_line(tool: &Tool, solved: &Solved, units: UnitSystem) -> Option<RatchetLine> {
    let ratchet = tool.ratchet.as_ref()?;
    let angle = |v: f64| units.show(v, Quantity::Angle);
    let mut line = RatchetLine {
        problem: None,
        teeth: Vec::new(),
        step: None,
        step_after: None,
        free_gap: None,
        shut_gap: None,
        left: None,
        needed: angle(ratchet.over_travel),
        turns_over: None,
        engages_itself: None,
        flank: angle(ratchet.flank),
        friction: ratchet.friction,
        drag: None,
        torque_unit: units.symbol(Quantity::Torque),
        tooth_stress: None,
        stress_unit: units.symbol(Quantity::Stress),
        tooth_factor: None,
    };
    match solved.ratchet.as_ref()? {
        Err(why) => line.problem = Some(problem(why, tool, units)),
        Ok(seen) => fill(&mut line, tool, seen, units),
    }
    Some(line)
}

fn fill(line: &mut RatchetLine, tool: &Tool, seen: &RatchetSeen, units: UnitSystem) {
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let steps = seen.teeth.iter().enumerate();
    let steps = steps.filter_map(|(k, tooth)| Some((k, tooth.step?)));
    let step = steps.max_by(|a, b| a.1.total_cmp(&b.1));
    line.step = step.map(|(_, step)| length(step));
    line.step_after = step.map(|(k, _)| k + 1);
    line.free_gap = seen.teeth.last().map(|tooth| length(tooth.tooth.gap));
    line.shut_gap = Some(length(seen.shut)).filter(|gap| gap.is_finite());
    line.left = Some(units.show(seen.left, Quantity::Angle));
    line.engages_itself = Some(seen.engages_itself);
    line.drag = seen.drag.map(|moment| units.show(moment, Quantity::Torque));
    line.tooth_stress = (seen.tooth).map(|both| both.map(|mpa| units.show(mpa, Quantity::Stress)));
    let ratchet = tool.ratchet.as_ref();
    line.turns_over = ratchet.map(|ratchet| seen.turns_over(ratchet));
    let material = ratchet.and_then(|r| tool.materials.get(r.material?));
    line.tooth_factor = material
        .zip(seen.tooth)
        .and_then(|(material, [bending, shear])| {
            let worst = bending.max(3.0_f64.sqrt() * shear);
            Some(material.yield_strength / worst).filter(|factor| factor.is_finite())
        });
    line.teeth = seen
        .teeth
        .iter()
        .map(|tooth| tooth_line(tooth, units))
        .collect();
}

fn tooth_line(tooth: &ToothSeen, units: UnitSystem) -> ToothLine {
    let force = |newtons: f64| units.show(newtons, Quantity::Force);
    ToothLine {
        handle: units.show(tooth.handle, Quantity::Angle),
        gap: units.show(tooth.tooth.gap, Quantity::Length),
        step: tooth.step.map(|mm| units.show(mm, Quantity::Length)),
        pawl: force(tooth.pawl),
        hand_force: tooth.hand.iter().map(|hand| hand.ok().map(force)).collect(),
        drag: tooth.drag.iter().map(|drag| drag.map(force)).collect(),
    }
}

/// Why the teeth have no places on the stroke, and what to do.
fn problem(why: &NoTeeth, tool: &Tool, units: UnitSystem) -> String {
    match why {
        NoTeeth::NoRatchet => "the tool has no ratchet".to_owned(),
        NoTeeth::Off(word, error) => {
            format!("`{word}` is not on the stroke: {}", error.text(tool, units))
        }
        NoTeeth::FreesFirst => {
            "it lets go before it engages: `engages` is the first place on the way from open to shut, `frees` the \
             second"
                .to_owned()
        }
        NoTeeth::LessThanATooth(turned) => {
            let show = |v: f64| trimmed(units.show(v, Quantity::Angle), 3);
            let pitch = tool.ratchet.as_ref().map_or(0.0, |ratchet| ratchet.pitch);
            format!(
                "from engaging to letting go the teeth turn by {} deg only, less than their pitch of {} deg: a finer \
                 pitch, or more way between",
                show(*turned),
                show(pitch)
            )
        }
        NoTeeth::TurnsBack => {
            "the part with the teeth turns back on the way from engaging to letting go: put them on a part that \
             turns one way"
                .to_owned()
        }
    }
}
