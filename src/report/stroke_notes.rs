//! What a reader of a stroke should know beside its numbers.

use super::contacts::{meeting_cure, opened_by_hand, touch_text};
use super::entered::entered;
use super::show::number;
use crate::analysis::{Direction, Position, Solved};
use crate::limits::{CAUTION, GRIP_SPANS, PINCH_SPANS, covers};
use crate::model::Tool;
use crate::statics::Answer;
use crate::units::{Quantity, UnitSystem};
use crate::words::as_near;

/// The notes on a solved stroke.
pub(super) fn notes(tool: &Tool, solved: &Solved, units: UnitSystem) -> Vec<String> {
    Notes { tool, units }.notes(solved)
}

struct Notes<'a> {
    tool: &'a Tool,
    units: UnitSystem,
}

impl Notes<'_> {
    fn length(&self, mm: f64) -> f64 {
        self.units.show(mm, Quantity::Length)
    }

    fn force(&self, newtons: f64) -> f64 {
        self.units.show(newtons, Quantity::Force)
    }

    fn notes(&self, solved: &Solved) -> Vec<String> {
        let mut notes: Vec<String> = as_near(&solved.survey, self.units).into_iter().collect();
        if !solved.turns {
            notes.push("the handle slides and does not turn: positions are equal steps of the first grip's way".to_owned());
        }
        notes.extend(meeting_cure(self.tool, solved, self.units));
        notes.extend(touch_text(self.tool, solved, self.units));
        notes.extend(opened_by_hand(self.tool, solved, self.units));
        notes.extend(entered(self.tool, solved, self.units));
        self.span_notes(solved, &mut notes);
        notes.extend(self.closing_springs(solved));
        notes
    }

    /// Springs that shut the tool, as one does that is entered the wrong way round. The springs'
    /// share of the jaw force is what they add to the ratio times the hand force, without friction.
    fn closing_springs(&self, solved: &Solved) -> Option<String> {
        if self.tool.springs.is_empty() || solved.direction == Direction::Opening {
            return None;
        }
        let share = |p: &Position| {
            let grip = p.grips.first()?;
            let by_hand = grip.ratio.first().copied().flatten()? * self.tool.hand.force;
            match grip.answer.first().copied().flatten()? {
                Answer::Moves { without, .. } if without > by_hand * (1.0 + 1e-6) => {
                    Some((p.gap.first().copied()?, without - by_hand))
                }
                _ => None,
            }
        };
        let shares: Vec<(f64, f64)> = solved.positions.iter().filter_map(share).collect();
        let ((first, _), (last, _)) = (shares.first()?, shares.last()?);
        let most = shares.iter().fold(0.0_f64, |most, s| most.max(s.1));
        let (length, force) = (Quantity::Length, Quantity::Force);
        Some(format!(
            "the springs alone close the tool from gap {} to {} {}, with up to {} {} at the jaw: \
             they do not open it there",
            number(self.length(*first)),
            number(self.length(*last)),
            self.units.symbol(length),
            number(self.force(most)),
            self.units.symbol(force)
        ))
    }

    /// Spans that the recommended range does not hold, and a limit that is asked for spans it was
    /// not given for.
    fn span_notes(&self, solved: &Solved, notes: &mut Vec<String>) {
        let (Some(first), Some(last)) = (solved.positions.first(), solved.positions.last()) else {
            return;
        };
        let unit = self.units.symbol(Quantity::Length);
        let range = &GRIP_SPANS;
        // The range and its source are said once, whatever the number of grips.
        let mut outside = Vec::new();
        for (g, &at) in self.tool.hand.grips.iter().enumerate() {
            let span = |p: &Position| p.grips.get(g).and_then(|g| g.span);
            let (Some(open), Some(shut)) = (span(first), span(last)) else {
                continue;
            };
            if !range.holds(open, shut) {
                let precise = match PINCH_SPANS.holds(open, shut) {
                    true => " (within those for precision work)",
                    false => "",
                };
                outside.push(format!(
                    "grip {} {unit} from {} to {} {unit}{precise}",
                    number(self.length(at)),
                    number(self.length(open)),
                    number(self.length(shut)),
                ));
            }
            if let Some(limit) = &self.tool.hand.limit
                && !(covers(limit, open) && covers(limit, shut))
            {
                notes.push(format!(
                    "grip {} {unit}: the limit's table does not cover all spans of the stroke; outside it the \
                     nearest row is held",
                    number(self.length(at))
                ));
            }
        }
        if !outside.is_empty() {
            notes.push(format!(
                "spans outside the recommended {} to {} {unit}, open to shut: {} ({})",
                number(self.length(range.shut)),
                number(self.length(range.open)),
                outside.join("; "),
                range.source
            ));
        }
        if self.tool.hand.limit.is_some() || self.tool.job.is_some() {
            notes.push(CAUTION.split_whitespace().collect::<Vec<_>>().join(" "));
        }
    }
}
