//! TOML text to a tree of values with places, and its syntax errors in our own words.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::code;
use super::diagnostic::{Diagnostic, floor};

/// A text as a tree.
pub(super) struct Document<'a> {
    pub(super) tree: Spanned<DeTable<'a>>,
    /// What is wrong with its syntax.
    pub(super) problems: Vec<Diagnostic>,
    /// Whether the tree lacks or mixes up what the text says. A key given twice does no harm, a
    /// table given twice does.
    pub(super) broken: bool,
}

/// The tree of a text, and what is wrong with its syntax.
pub(super) fn parse(text: &str) -> Document<'_> {
    let (tree, errors) = DeTable::parse_recoverable(text);
    let double = |e: &&toml::de::Error| e.message() == "duplicate key";
    let mut keys = Vec::new();
    if errors.iter().any(|e| double(&e)) {
        all_keys(tree.get_ref(), &mut Vec::new(), &mut keys);
    }
    let starts = errors
        .iter()
        .filter(double)
        .filter_map(|e| Some(e.span()?.start));
    let headers: Vec<usize> = starts
        .filter(|&at| header(line_at(text, at).1).is_some())
        .collect();
    let problems = errors
        .iter()
        .filter(|error| {
            let at = error.span().map_or(0, |span| span.start);
            !(double(error) && under_double_header(text, at, &headers))
        })
        .map(|error| {
            let span = error.span().unwrap_or(0..0);
            if double(&error) {
                twice(text, span, &keys)
            } else {
                Diagnostic::error(code::SYNTAX, span.clone(), error.message().trim())
                    .help(syntax_help(text, &span))
            }
        })
        .collect();
    let broken = !headers.is_empty() || !errors.iter().all(|e| double(&e));
    Document {
        tree,
        problems,
        broken,
    }
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
fn line_at(text: &str, byte: usize) -> (usize, &str) {
    let before = text.get(..floor(text, byte)).unwrap_or("");
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    (
        start,
        text.get(start..).unwrap_or("").lines().next().unwrap_or(""),
    )
}

/// The names in a table's header line; `None` for any other line.
fn header(line: &str) -> Option<Vec<&str>> {
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
