//! A ratchet in sentences: its teeth, where it lets go, what the pawl carries.

use super::emphasis::{Sentence, Tone};
use crate::output::text::{figures, fixed, length};
use crate::report::{RatchetLine, UnitNames};

/// What is to be said of a ratchet, one sentence each.
pub(in crate::output) fn ratchet_sentences(line: &RatchetLine, units: &UnitNames) -> Vec<Sentence> {
    let mm = |v: f64| format!("{} {}", length(v, units), units.length);
    let deg = |v: f64| format!("{} deg", fixed(v, 2));
    if let Some(problem) = &line.problem {
        return vec![Sentence::toned(Tone::Warning, "RATCHET").and(format!(": {problem}."))];
    }
    let mut out = Vec::new();
    let (Some(first), Some(last)) = (line.teeth.first(), line.teeth.last()) else {
        return out;
    };
    let mut text = format!(
        "Ratchet: {} teeth from gap {} to {}",
        line.teeth.len(),
        mm(first.gap),
        mm(last.gap)
    );
    if let (Some(step), Some(after)) = (line.step, line.step_after) {
        text.push_str(&format!(
            "; if the hand lets go, the gap opens by {} at most, before tooth {}",
            mm(step),
            after + 1
        ));
    }
    out.push(Sentence::from(format!("{text}.")));
    let (free, left) = (line.free_gap.unwrap_or(last.gap), line.left.unwrap_or(0.0));
    let mut text = format!(
        "The ratchet lets go at gap {}, handle {}",
        mm(free),
        deg(last.handle)
    );
    if let Some(hand) = last.hand_force.first().copied().flatten() {
        text.push_str(&format!(
            ", hand force there {} {}",
            figures(hand),
            units.force
        ));
    }
    text.push_str(&format!(
        "; to the end of the stroke its teeth turn on by {}, the pawl needs {}",
        deg(left),
        deg(line.needed)
    ));
    if line.turns_over == Some(false) {
        let warning = Sentence::toned(Tone::Warning, "RATCHET");
        out.push(warning.and(format!(
            ": the pawl cannot turn over. {text}: the tool stays held; let it go earlier, or move the end of the stroke on."
        )));
    } else {
        out.push(Sentence::from(format!("{text}.")));
    }
    let most = line.teeth.iter().enumerate();
    let most = most.max_by(|a, b| a.1.pawl.total_cmp(&b.1.pawl));
    if let Some((k, tooth)) = most.filter(|(_, tooth)| tooth.pawl > 0.0) {
        let engages = match line.engages_itself {
            Some(true) => "pull it in",
            _ => "do NOT pull it in: only its spring holds it",
        };
        out.push(Sentence::from(format!(
            "If the hand lets go, the pawl carries {} {} at most, at tooth {}; flanks of {} against friction {} {engages}.",
            figures(tooth.pawl),
            units.force,
            k + 1,
            deg(line.flank),
            figures(line.friction)
        )));
    }
    if let Some([bending, shear]) = line.tooth_stress {
        let factor = match line.tooth_factor {
            Some(factor) => format!("strength factor {}", fixed(factor, 2)),
            None => "no material is stated, so it is not checked".to_owned(),
        };
        out.push(Sentence::from(format!(
            "A tooth bends under that with {} {unit} at its root (6 F h / (b a\u{b2}), a = pitch \u{d7} radius) and shears \
             with {} {unit}: {factor}.",
            figures(bending),
            figures(shear),
            unit = line.stress_unit
        )));
    }
    let worst = |values: &[Option<f64>]| values.iter().copied().flatten().reduce(f64::max);
    let added = line.teeth.iter().filter_map(|tooth| worst(&tooth.drag));
    match (line.drag, added.reduce(f64::max)) {
        (Some(drag), Some(force)) => out.push(Sentence::from(format!(
            "Its drag of {} {} on the teeth takes {} {} of the hand force at most; it is in the curves.",
            figures(drag),
            line.torque_unit,
            figures(force),
            units.force
        ))),
        _ => out.push(Sentence::from(
            "The drag of its pawl is not known without the `height` of the teeth; the curves are without it."
                .to_owned(),
        )),
    }
    out
}
