//! What can only be seen with all parts at hand: pins that join nothing, parts that hang on
//! nothing, dimensions that nobody can measure.

use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::Reader;
use super::parts::MOST_JOINTS;
use super::spelling;
use crate::model::{Joint, PartId, Place, PointKind, PointRef, Shape};
use crate::units::UnitSystem;

impl Reader<'_> {
    /// `others`: the joints that are no pins.
    pub(super) fn check_joints(&mut self, draft: &Draft, others: &[Joint<'_>]) {
        let count = draft.joints.len() + others.len();
        if count > MOST_JOINTS {
            self.report(
                Diagnostic::error(
                    code::TOO_MANY,
                    draft.spans.first().map_or(0..0, |spans| spans.name.clone()),
                    format!("{count} joints are more than the {MOST_JOINTS} that are taken"),
                )
                .help("leave out what does not move, or split the tool"),
            );
        }
        self.lonely_pins(draft, others);
        self.loose_parts(draft, others);
    }

    fn lonely_pins(&mut self, draft: &Draft, others: &[Joint<'_>]) {
        let joined = |at: PointRef| {
            others.iter().any(|joint| {
                let mut ends = joint.parts().into_iter().zip(joint.places());
                ends.any(|end| end == (at.part, Place::Point(at.point)))
            })
        };
        let pins = draft.pin_names();
        for pin in &pins {
            let on = draft.on_pin(pin);
            let [only] = on.as_slice() else { continue };
            if joined(*only) {
                continue;
            }
            let part = draft
                .parts
                .get(only.part.index())
                .map_or("", |part| part.name.as_str());
            let span = draft
                .spans
                .get(only.part.index())
                .and_then(|s| s.points.get(only.point))
                .cloned();
            let mut problem = Diagnostic::error(
                code::PIN_ALONE,
                span.unwrap_or(0..0),
                format!("pin `{pin}` is on one part only"),
            )
            .label(format!("only `{part}` has it"));
            let others = pins.iter().copied().filter(|other| {
                // A pin of the same part cannot be meant.
                draft
                    .parts
                    .get(only.part.index())
                    .is_some_and(|p| p.point_index(other).is_none())
            });
            let near = (self.few(code::PIN_ALONE))
                .then(|| spelling::nearest(pin, others))
                .flatten();
            problem = match near {
                Some(near) => {
                    let there = draft.on_pin(near).first().copied();
                    let there = there.and_then(|at| {
                        draft
                            .spans
                            .get(at.part.index())?
                            .points
                            .get(at.point)
                            .cloned()
                    });
                    let problem = problem.help(format!("did you mean `{near}`?"));
                    match there {
                        Some(span) => problem.also(span, "this one is near in spelling"),
                        None => problem,
                    }
                }
                None => problem,
            };
            self.report(
                problem
                    .help("give a second part a pin of that name, or list the point under `marks`"),
            );
        }
    }

    fn loose_parts(&mut self, draft: &Draft, others: &[Joint<'_>]) {
        let Some(fixed) = draft.fixed else { return };
        let mut links: Vec<[PartId; 2]> = draft
            .joints
            .iter()
            .map(|joint| [joint.carrier, joint.part])
            .collect();
        links.extend(others.iter().map(|joint| joint.parts()));
        let mut held = vec![false; draft.parts.len()];
        if let Some(first) = held.get_mut(fixed.index()) {
            *first = true;
        }
        // Each round reaches one joint further.
        for _ in 0..draft.parts.len() {
            for &[a, b] in &links {
                let either =
                    held.get(a.index()) == Some(&true) || held.get(b.index()) == Some(&true);
                for part in [a, b] {
                    if let Some(held) = held.get_mut(part.index()) {
                        *held |= either;
                    }
                }
            }
        }
        for (part, held) in held.iter().enumerate() {
            if *held {
                continue;
            }
            let (Some(of), Some(spans)) = (draft.parts.get(part), draft.spans.get(part)) else {
                continue;
            };
            let lonely = of
                .points
                .iter()
                .any(|point| point.kind == PointKind::Pin && draft.on_pin(&point.name).len() < 2);
            let mut problem = Diagnostic::error(
                code::PART_LOOSE,
                spans.name.clone(),
                format!("nothing joins part `{}` to the fixed part", of.name),
            )
            .help("give it a pin that another part has, or let it ride in a slot");
            if lonely {
                problem = problem.note("it has a pin that no other part has");
            }
            if let Some(spans) = draft.spans.get(fixed.index()) {
                problem = problem.also(spans.name.clone(), "the fixed part");
            }
            self.report(problem);
        }
    }

    /// One piece of advice for all dimensions that are finer than calipers read.
    pub(super) fn check_fineness(&mut self, draft: &Draft) {
        let mut fine = Vec::new();
        for (part, of) in PartId::each(&draft.parts) {
            for (point, p) in of.points.iter().enumerate() {
                let at = PointRef { part, point };
                if !draft.listed(at) && p.at.iter().any(|&v| v.is_finite() && !readable(v)) {
                    let length = of.shape == Shape::Length && point == 1;
                    let path = format!("{}.length", of.name);
                    let span = match self.spans.get(&path).filter(|_| length) {
                        Some(span) => Some(span.clone()),
                        None => draft
                            .spans
                            .get(part.index())
                            .and_then(|s| s.points.get(point))
                            .cloned(),
                    };
                    let name = if length { path } else { draft.label(at) };
                    fine.extend(span.map(|span| (span, name)));
                }
            }
        }
        let Some((first, _)) = fine.first() else {
            return;
        };
        let names: Vec<&str> = fine.iter().map(|(_, name)| name.as_str()).collect();
        let message = format!("finer than calipers read: {}", spelling::list(&names));
        let mut problem = Diagnostic::advice(code::FINE, first.clone(), message)
            .help("0.01 mm or 0.001 in is what can be measured; finer digits are kept as given");
        for (span, _) in fine.iter().skip(1).take(4) {
            problem = problem.also(span.clone(), "and this");
        }
        self.report(problem);
    }
}

/// Whether calipers of either system can read a length, mm.
fn readable(value: f64) -> bool {
    let on_grid = |step: f64| {
        let count = value / step;
        (count - count.round()).abs() <= 1e-6 * count.abs().max(1.0)
    };
    [UnitSystem::MmN, UnitSystem::InLbf]
        .into_iter()
        .any(|units| on_grid(units.caliper_step()))
}
