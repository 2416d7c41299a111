//! The sheet to fill in on the bench.

use crate::output::text::{clean, figures, fixed, joined, length, wrap};
use crate::report::TrialSheet;

/// What to measure, and the lines of a CSV file to write it into; sentences at most `width` columns wide.
#[must_use]
pub fn trial_sheet_text(sheet: &TrialSheet, width: usize) -> String {
    let units = &sheet.units;
    let mut lines = Vec::new();
    let say = |lines: &mut Vec<String>, text: &str| {
        let wrapped = wrap("", text, width.saturating_sub(2).max(20), 2);
        lines.extend(wrapped.into_iter().map(|line| format!("# {line}")));
    };
    say(
        &mut lines,
        &format!("Trial of {} ({})", clean(&sheet.tool), clean(&sheet.file)),
    );
    for text in [
        "Behind a guard, with the tool held in a vice by its fixed handle. A load cell between the jaws, a spring \
         balance or a second cell at the grip, square to the handle as the file has it.",
        "At every gap: pull to the hand force from the open side and read (closing); then past it, let back to the \
         same hand force and read (opening). The gap is read under load.",
        "Write down what is read, not what was wanted; lines may be added and left out. Then: jawforce trial FILE \
         this.csv",
    ] {
        say(&mut lines, text);
    }
    say(
        &mut lines,
        &format!(
            "gap and grip in {}, forces in {}; predicted jaw forces beside each line for a first look",
            units.length, units.force
        ),
    );
    lines.push("gap,jaw_force,hand_force,direction,grip".to_owned());
    for row in &sheet.rows {
        let predicted = row.predicted.map_or_else(String::new, |force| {
            format!("   predicted {}", figures(force))
        });
        lines.push(format!("# run {}, {}{predicted}", row.run, row.direction));
        lines.push(format!(
            "{},,{},{},{}",
            length(row.gap, units),
            fixed(row.hand_force, 1),
            row.direction,
            length(row.grip, units)
        ));
    }
    joined(&lines)
}
