//! Room to move and places where fingers are caught, for the terminal.

use crate::output::sentences::room::room as said;
use crate::output::text::wrap;
use crate::report::CheckReport;

/// The block of `check`; nothing where no plates are held against each other.
pub(super) fn room(report: &CheckReport, width: usize) -> Vec<String> {
    let Some(room) = &report.room else {
        return Vec::new();
    };
    let mut lines = vec!["Room to move, open to shut".to_owned()];
    for sentence in said(room, &report.units) {
        lines.extend(wrap("  ", &sentence, width, 4));
    }
    lines
}
