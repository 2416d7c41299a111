//! TOML text to a tree of values with places, and its syntax errors in our own words.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::code;
use super::diagnostic::{Diagnostic, floor};

/// The tree of a text, and what is wrong with its syntax.
pub(super) fn parse(text: &str) -> (Spanned<DeTable<'_>>, Vec<Diagnostic>) {
    let (tree, errors) = DeTable::parse_recoverable(text);
    let mut keys = Vec::new();
    if errors.iter().any(|e| e.message() == "duplicate key") {
        all_keys(tree.get_ref(), &mut Vec::new(), &mut keys);
    }
    let problems = errors
        .iter()
        .map(|error| {
            let span = error.span().unwrap_or(0..0);
            if error.message() == "duplicate key" {
                twice(text, span, &keys)
            } else {
                Diagnostic::error(code::SYNTAX, span.clone(), error.message().trim())
                    .help(syntax_help(text, &span))
            }
        })
        .collect();
    (tree, problems)
}

/// A key of the tree, with the names that lead to it.
struct Key {
    path: Vec<String>,
    span: Range<usize>,
}

fn all_keys(table: &DeTable<'_>, path: &mut Vec<String>, keys: &mut Vec<Key>) {
    for (key, value) in table {
        path.push(key.get_ref().to_string());
        keys.push(Key {
            path: path.clone(),
            span: key.span(),
        });
        match value.get_ref() {
            DeValue::Table(inner) => all_keys(inner, path, keys),
            DeValue::Array(items) => {
                for item in items.iter() {
                    if let DeValue::Table(inner) = item.get_ref() {
                        all_keys(inner, path, keys);
                    }
                }
            }
            _ => {}
        }
        path.pop();
    }
}

/// A key given twice: the parser knows the second place, we look for the first.
fn twice(text: &str, second: Range<usize>, keys: &[Key]) -> Diagnostic {
    let name = text
        .get(second.clone())
        .unwrap_or("")
        .trim_matches(['"', '\'']);
    let line = text.get(..floor(text, second.start)).unwrap_or("");
    let line_start = line.rfind('\n').map_or(0, |at| at + 1);
    let head = text
        .get(line_start..floor(text, second.start))
        .unwrap_or("")
        .trim_start();
    let before = |key: &&Key| {
        key.span.start < second.start && key.path.last().is_some_and(|last| last == name)
    };
    let first = if let Some(parents) = head.strip_prefix('[') {
        // A table header: the same path, not just the same last name.
        let parents: Vec<&str> = parents
            .trim_start_matches('[')
            .split('.')
            .map(|part| part.trim().trim_matches(['"', '\'']))
            .filter(|part| !part.is_empty())
            .collect();
        let same = |key: &&Key| {
            let above = key.path.split_last().map_or(&[][..], |(_, above)| above);
            above.iter().map(String::as_str).eq(parents.iter().copied())
        };
        keys.iter().filter(before).find(same)
    } else {
        keys.iter().filter(before).max_by_key(|key| key.span.start)
    };
    let problem = Diagnostic::error(code::TWICE, second, format!("`{name}` is given twice"))
        .label("again here")
        .help("keep one of the two, or rename one");
    match first {
        Some(key) => problem.also(key.span.clone(), "first given here"),
        None => problem,
    }
}

fn syntax_help(text: &str, span: &Range<usize>) -> &'static str {
    let start = floor(text, span.start);
    let line = text
        .get(..start)
        .unwrap_or("")
        .rfind('\n')
        .map_or(0, |at| at + 1);
    let line = text.get(line..).unwrap_or("").lines().next().unwrap_or("");
    let value = line.split_once('=').map_or("", |(_, value)| value.trim());
    if value.starts_with(|c: char| c.is_ascii_digit()) && value.contains(char::is_alphabetic) {
        "a number with a unit stands in quotes: \"2.4 in\""
    } else if value.starts_with(|c: char| c.is_ascii_digit()) && value.contains(',') {
        "numbers have a decimal point, not a comma: 2.4"
    } else if value.starts_with(|c: char| c.is_alphabetic()) {
        "a text stands in quotes: part = \"lever\""
    } else {
        "a tool file is TOML: [table], key = value, texts in quotes, lists in brackets"
    }
}
