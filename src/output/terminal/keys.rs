//! `keys` for the terminal: every key with what it means, what it takes, what holds without it, an example.

use crate::output::text::{columns, joined, left, wrap};
use crate::report::{KeyLine, KeysReport, TableKeys};

/// The keys, at most `width` columns wide where words allow it.
#[must_use]
pub fn keys_text(report: &KeysReport, width: usize) -> String {
    let rules = report.rules.iter();
    let mut lines: Vec<String> = rules.flat_map(|rule| wrap("", rule, width, 0)).collect();
    for table in &report.tables {
        if !lines.is_empty() {
            lines.push(String::new());
        }
        lines.extend(one_table(table, width));
    }
    joined(&lines)
}

fn one_table(table: &TableKeys, width: usize) -> Vec<String> {
    let needed = if table.required { "" } else { " Optional." };
    let about = format!("{}{needed}", table.meaning);
    let mut lines = wrap(&format!("{}  ", table.header), &about, width, 4);
    let longest = table.keys.iter().map(|key| columns(&key.key)).max();
    // Long names are rare: they stand on a line of their own.
    let column = longest.unwrap_or(0).min(14);
    for key in &table.keys {
        let first = format!("  {}  ", left(&key.key, column));
        if columns(&key.key) > column {
            lines.push(first.clone());
            lines.extend(wrap(
                &" ".repeat(column + 4),
                &key.meaning,
                width,
                column + 4,
            ));
        } else {
            lines.extend(wrap(&first, &key.meaning, width, column + 4));
        }
        lines.extend(takes(key, width, column + 4));
    }
    lines
}

/// What a key takes, in which unit, what holds without it; and an example, which is not broken.
fn takes(key: &KeyLine, width: usize, indent: usize) -> Vec<String> {
    let (metric, inch) = (key.units.metric.join(", "), key.units.inch.join(", "));
    let units = match (metric.is_empty(), metric == inch) {
        (true, _) => String::new(),
        (_, true) => format!(" ({metric})"),
        _ => format!(" ({metric} or {inch})"),
    };
    let without = match (&key.default, &key.needed, &key.absent) {
        (Some(value), _, _) => format!("default {value}"),
        (_, Some(words), _) => format!("needed: {words}"),
        (_, _, Some(words)) => format!("left out: {words}"),
        _ if key.required => "required".to_owned(),
        _ => "optional".to_owned(),
    };
    let margin = " ".repeat(indent);
    let mut lines = wrap(
        &margin,
        &format!("{}{units}; {without}.", key.kind),
        width,
        indent,
    );
    let example = format!("Example: {}", key.example);
    match lines.last_mut() {
        Some(last) if columns(last) + 1 + columns(&example) <= width => {
            last.push(' ');
            last.push_str(&example);
        }
        _ => lines.extend(wrap(&margin, &example, width, indent + 2)),
    }
    lines
}
