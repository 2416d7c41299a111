//! Springs of wire for the terminal.

use crate::output::sentences::springs::{check_words, room_words, spring_sentence, unconfirmed};
use crate::output::text::wrap;
use crate::report::{UnitNames, WoundReport};

/// All springs of wire: what is bought, its factors, its room.
pub(super) fn wound(springs: &[WoundReport], units: &UnitNames, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for spring in springs {
        lines.extend(wrap("", &spring_sentence(spring, units), width, 2));
        for check in &spring.checks {
            let (factor, words) = check_words(spring, check);
            lines.extend(wrap(&format!("  {factor:>6}  "), &words, width, 10));
        }
        for words in room_words(spring, units) {
            lines.extend(wrap("  ", &words, width, 4));
        }
    }
    if let Some(text) = unconfirmed(springs) {
        lines.extend(wrap("  ", text, width, 2));
    }
    lines
}
