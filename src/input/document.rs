//! TOML text to a tree of values with places, and names that it gives twice.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::code;
use super::diagnostic::{Diagnostic, floor};

/// A text as a tree.
pub(super) struct Document<'a> {
    pub(super) tree: Spanned<DeTable<'a>>,
    /// Keys and tables that are given twice.
    pub(super) problems: Vec<Diagnostic>,
    /// Whether a table is given twice: the tree mixes the two up. A key given twice does no harm.
    pub(super) mixed: bool,
}

/// The tree of a text that is right but for names given twice (see [`super::mend`]).
pub(super) fn parse(text: &str) -> Document<'_> {
    let (tree, errors) = DeTable::parse_recoverable(text);
    let places: Vec<Range<usize>> = errors
        .iter()
        .filter(|e| is_double(e))
        .filter_map(toml::de::Error::span)
        .collect();
    let mut keys = Vec::new();
    if !places.is_empty() {
        all_keys(tree.get_ref(), &mut Vec::new(), &mut keys);
    }
    let on_header = |span: &&Range<usize>| header(line_at(text, span.start).1).is_some();
    let headers: Vec<usize> = places
        .iter()
        .filter(on_header)
        .map(|span| span.start)
        .collect();
    let problems = places
        .iter()
        .filter(|span| !under_double_header(text, span.start, &headers))
        .map(|span| twice(text, span.clone(), &keys))
        .collect();
    Document {
        tree,
        problems,
        mixed: !headers.is_empty(),
    }
}

/// Whether the parser complains of a name given twice; all its other complaints are of syntax.
pub(super) fn is_double(error: &toml::de::Error) -> bool {
    error.message() == "duplicate key"
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
    let before = |key: &&Key| {
        key.span.start < second.start && key.path.last().is_some_and(|last| last == name)
    };
    let first = match header(line_at(text, second.start).1) {
        Some(path) => earlier_header(text, second.start, &path).or_else(|| {
            let same = |key: &&Key| key.path.iter().map(String::as_str).eq(path.iter().copied());
            keys.iter()
                .filter(before)
                .find(same)
                .map(|key| key.span.clone())
        }),
        None => {
            let nearest = keys.iter().filter(before).max_by_key(|key| key.span.start);
            nearest.map(|key| key.span.clone())
        }
    };
    let problem = Diagnostic::error(code::TWICE, second, format!("`{name}` is given twice"))
        .label("again here")
        .help("keep one of the two, or rename one");
    match first {
        Some(span) => problem.also(span, "first given here"),
        None => problem,
    }
}

/// The line that holds a byte, and where it begins.
pub(super) fn line_at(text: &str, byte: usize) -> (usize, &str) {
    let before = text.get(..floor(text, byte)).unwrap_or("");
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    (
        start,
        text.get(start..).unwrap_or("").lines().next().unwrap_or(""),
    )
}

/// The names in a table's header line; `None` for any other line.
pub(super) fn header(line: &str) -> Option<Vec<&str>> {
    let inside = line
        .trim()
        .trim_start_matches('\u{feff}')
        .strip_prefix('[')?;
    let (inside, _) = inside.trim_start_matches('[').split_once(']')?;
    let names = inside.split('.');
    Some(
        names
            .map(|name| name.trim().trim_matches(['"', '\'']))
            .collect(),
    )
}

/// The header line of the same table, further up. The tree does not keep its place.
fn earlier_header(text: &str, before: usize, path: &[&str]) -> Option<Range<usize>> {
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let end = start + line.trim_end().len();
        if end <= before && header(line).is_some_and(|names| names == path) {
            return Some(start..end);
        }
        start += line.len();
    }
    None
}

/// Whether a key stands under a header that is given twice itself: then it is no news.
fn under_double_header(text: &str, key: usize, headers: &[usize]) -> bool {
    headers.iter().any(|&header_at| {
        let between = text.get(header_at..floor(text, key)).unwrap_or("");
        let mut lines = between.lines().skip(1);
        header_at < key && !lines.any(|line| line.trim_start().starts_with('['))
    })
}
