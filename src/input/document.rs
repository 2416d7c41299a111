//! TOML text to a tree of values with places, and names that it gives twice.

use std::collections::HashMap;
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
    let (mut problems, mut mixed) = (Vec::new(), false);
    if !places.is_empty() {
        let lines = Lines::of(text);
        let keys = Keys::of(tree.get_ref());
        let on_header = |span: &&Range<usize>| lines.header(span.start).is_some();
        let headers: Vec<usize> = places
            .iter()
            .filter(on_header)
            .map(|span| span.start)
            .collect();
        mixed = !headers.is_empty();
        // What stands under a header that is given twice itself is no news.
        let news = |span: &&Range<usize>| !lines.under(span.start, &headers);
        let twice = |span: &Range<usize>| twice(&lines, span.clone(), &keys);
        problems.extend(places.iter().filter(news).map(twice));
    }
    Document {
        tree,
        problems,
        mixed,
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

/// All keys of a tree, those of one name by their places.
struct Keys(HashMap<String, Vec<Key>>);

impl Keys {
    fn of(tree: &DeTable<'_>) -> Self {
        let mut keys = Self(HashMap::new());
        keys.add(tree, &mut Vec::new());
        for of_name in keys.0.values_mut() {
            of_name.sort_by_key(|key| key.span.start);
        }
        keys
    }

    fn add(&mut self, table: &DeTable<'_>, path: &mut Vec<String>) {
        for (key, value) in table {
            let name = key.get_ref().to_string();
            path.push(name.clone());
            self.0.entry(name).or_default().push(Key {
                path: path.clone(),
                span: key.span(),
            });
            match value.get_ref() {
                DeValue::Table(inner) => self.add(inner, path),
                DeValue::Array(items) => {
                    for item in items.iter() {
                        if let DeValue::Table(inner) = item.get_ref() {
                            self.add(inner, path);
                        }
                    }
                }
                _ => {}
            }
            path.pop();
        }
    }

    /// Those of a name that stand before a place.
    fn before(&self, name: &str, place: usize) -> &[Key] {
        let all = self.0.get(name).map_or(&[][..], Vec::as_slice);
        let count = all.partition_point(|key| key.span.start < place);
        all.get(..count).unwrap_or(&[])
    }
}

/// The lines of a text, looked through once: a file may give twenty thousand names twice.
struct Lines<'a> {
    text: &'a str,
    /// Where each line begins, and the names in it if it is a table's header.
    all: Vec<(usize, Option<Vec<&'a str>>)>,
    /// Where the first header of each table stands. The tree does not keep that place.
    first: HashMap<Vec<&'a str>, Range<usize>>,
    /// The brackets that lines begin with, and where those lines begin.
    brackets: Vec<[usize; 2]>,
}

impl<'a> Lines<'a> {
    fn of(text: &'a str) -> Self {
        let mut lines = Self {
            text,
            all: Vec::new(),
            first: HashMap::new(),
            brackets: Vec::new(),
        };
        let mut start = 0;
        for line in text.split_inclusive('\n') {
            let names = header(line);
            if let Some(names) = &names {
                let place = start..start + line.trim_end().len();
                lines.first.entry(names.clone()).or_insert(place);
            }
            lines.all.push((start, names));
            if line.trim_start().starts_with('[') {
                let indent = line.len() - line.trim_start().len();
                lines.brackets.push([start + indent, start]);
            }
            start += line.len();
        }
        lines
    }

    /// The names in the line of a place, if it is a table's header.
    fn header(&self, place: usize) -> Option<&[&'a str]> {
        let after = self.all.partition_point(|(start, _)| *start <= place);
        self.all.get(after.checked_sub(1)?)?.1.as_deref()
    }

    /// Whether a key stands under one of these headers (rising places): no line between the two begins
    /// with a bracket.
    fn under(&self, key: usize, headers: &[usize]) -> bool {
        let above = headers.partition_point(|&header| header < key);
        let brackets = self.brackets.partition_point(|&[bracket, _]| bracket < key);
        let line = brackets.checked_sub(1).and_then(|k| self.brackets.get(k));
        let header = above.checked_sub(1).and_then(|k| headers.get(k));
        header.is_some_and(|&header| line.is_none_or(|&[_, line]| line <= header))
    }
}

/// A key given twice: the parser knows the second place, we look for the first.
fn twice(lines: &Lines<'_>, second: Range<usize>, keys: &Keys) -> Diagnostic {
    let name = (lines.text.get(second.clone()))
        .unwrap_or("")
        .trim_matches(['"', '\'']);
    let before = keys.before(name, second.start);
    let first = match lines.header(second.start) {
        Some(path) => {
            let earlier = lines.first.get(path).filter(|at| at.end <= second.start);
            earlier.cloned().or_else(|| {
                let same =
                    |key: &&Key| key.path.iter().map(String::as_str).eq(path.iter().copied());
                before.iter().find(same).map(|key| key.span.clone())
            })
        }
        None => before.last().map(|key| key.span.clone()),
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
