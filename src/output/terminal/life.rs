//! How long a tool lasts, for the terminal.

use crate::output::sentences::life::{life_formula, life_title, place_words};
use crate::output::text::wrap;
use crate::report::LifeReport;

/// Every place, the one that breaks first at the head.
pub(super) fn life(life: &LifeReport, width: usize) -> Vec<String> {
    let mut lines = wrap("", &life_title(life), width, 2);
    for line in &life.places {
        let (factor, words) = place_words(life, line);
        lines.extend(wrap(&format!("  {factor:>6}  "), &words, width, 10));
    }
    if !life.places.is_empty() {
        lines.extend(wrap("          ", &life_formula(life), width, 10));
    }
    for note in &life.notes {
        lines.extend(wrap("  ", note, width, 4));
    }
    lines
}
