//! Changing single numbers in the text of a tool file: every other byte stays as it is.

use crate::units::{Quantity, UnitSystem, parse, trimmed};
use std::ops::Range;
use toml_edit::{Document, Item, Value};

/// A number to be written: address, value in internal units, what it measures.
pub type Written = (String, f64, Option<Quantity>);

/// The text with these numbers set. A value that was written with a unit of its own keeps the unit.
///
/// # Errors
/// A number that does not stand in the text where its address says, in words.
pub fn rewrite(text: &str, units: UnitSystem, set: &[Written]) -> Result<String, String> {
    let document = Document::parse(text).map_err(|e| e.to_string())?;
    let mut edits = Vec::new();
    for (address, new, quantity) in set {
        let missing = || {
            format!(
                "`{address}` has no number of its own in the file (a shape from the sketch has none, nor has what is \
                 left out): state it there"
            )
        };
        let value = find(document.as_item(), address).ok_or_else(missing)?;
        let span = value.span().ok_or_else(missing)?;
        let old = text.get(span.clone()).ok_or_else(missing)?;
        edits.push((
            span,
            written(value, old, units, *new, *quantity).ok_or_else(missing)?,
        ));
    }
    Ok(edited(text, edits))
}

/// The text with other texts in place of some of its bytes.
pub(super) fn edited(text: &str, mut edits: Vec<(Range<usize>, String)>) -> String {
    edits.sort_by_key(|(span, _)| span.start);
    let mut out = text.to_owned();
    for (span, new) in edits.into_iter().rev() {
        out.replace_range(span, &new);
    }
    out
}

/// Where the number of an address stands in a text, if it does.
pub(super) fn place(text: &str, address: &str) -> Option<Range<usize>> {
    let document = Document::parse(text).ok()?;
    find(document.as_item(), address)?.span()
}

/// Whether a text states the number of an address itself.
#[must_use]
pub fn states(text: &str, address: &str) -> bool {
    place(text, address).is_some()
}

/// A table, a list or a value, wherever it stands.
#[derive(Clone, Copy)]
enum Node<'a> {
    Item(&'a Item),
    Table(&'a toml_edit::Table),
    Value(&'a Value),
}

impl<'a> Node<'a> {
    fn get(self, word: &str) -> Option<Self> {
        match self {
            Self::Item(Item::Table(table)) | Self::Table(table) => Some(Self::of(table.get(word)?)),
            Self::Item(Item::ArrayOfTables(list)) => {
                let named =
                    |t: &toml_edit::Table| t.get("name").and_then(Item::as_str) == Some(word);
                let table = match number(word) {
                    Some(k) => list.get(k),
                    None => list.iter().find(|t| named(t)).or_else(|| {
                        // A single jaw may be without its name.
                        list.get(0)
                            .filter(|t| list.len() == 1 && t.get("name").is_none())
                    }),
                };
                Some(Self::Table(table?))
            }
            Self::Value(Value::InlineTable(table)) => Some(Self::Value(table.get(word)?)),
            Self::Value(Value::Array(list)) => {
                let named = |v: &&Value| {
                    let name = v.as_inline_table().and_then(|t| t.get("name"));
                    name.and_then(Value::as_str) == Some(word)
                };
                let value = match (word, number(word)) {
                    ("x", _) => list.get(0),
                    ("y", _) => list.get(1),
                    (_, Some(k)) => list.get(k),
                    (_, None) => list.iter().find(named),
                };
                Some(Self::Value(value?))
            }
            _ => None,
        }
    }

    fn of(item: &'a Item) -> Self {
        match item {
            Item::Value(value) => Self::Value(value),
            _ => Self::Item(item),
        }
    }
}

/// The place in a list that a word counts, from 1.
fn number(word: &str) -> Option<usize> {
    word.parse::<usize>().ok()?.checked_sub(1)
}

/// The value of an address.
fn find<'a>(root: &'a Item, address: &str) -> Option<&'a Value> {
    let words: Vec<&str> = address.split('.').collect();
    let follow =
        |from: Node<'a>, words: &[&str]| words.iter().try_fold(from, |node, word| node.get(word));
    let root = Node::of(root);
    let of_part = |(part, rest): (&&str, &[&str])| {
        let part = root.get("parts")?.get(part)?;
        match rest {
            ["length"] => part.get("length"),
            [point, axis @ ("x" | "y")] => ["pins", "marks"]
                .iter()
                .find_map(|table| follow(part, &[table, point, axis])),
            _ => None,
        }
    };
    let of_work = |words: &[&str]| {
        let (jaw, number) = match words {
            ["work", number] => (None, number),
            ["work", jaw, number] => (Some(*jaw), number),
            _ => return None,
        };
        fn named(table: &toml_edit::Table) -> Option<&str> {
            table.get("jaw").and_then(Item::as_str)
        }
        let table = match root.get("work")? {
            Node::Item(Item::ArrayOfTables(list)) => {
                let own = list.iter().find(|t| named(t) == jaw);
                Node::Table(own.or_else(|| list.iter().find(|t| named(t).is_none()))?)
            }
            only => only,
        };
        table.get(number)
    };
    let found = words
        .split_first()
        .and_then(of_part)
        .or_else(|| of_work(&words))
        .or_else(|| follow(root, &words))?;
    let found = match (words.as_slice(), found) {
        // The depth at a station.
        (["sections", _, "width", _], station) => station.get("2")?,
        (_, other) => other,
    };
    match found {
        Node::Value(value @ (Value::Integer(_) | Value::Float(_) | Value::String(_))) => {
            Some(value)
        }
        _ => None,
    }
}

/// The new value as it is written.
fn written(
    value: &Value,
    old: &str,
    units: UnitSystem,
    new: f64,
    quantity: Option<Quantity>,
) -> Option<String> {
    let number = |v: f64| trimmed(v, 6);
    match (value, quantity) {
        (Value::Integer(_) | Value::Float(_), _) => Some(number(units.shown(new, quantity))),
        (Value::String(quoted), Some(quantity)) => {
            let inside = quoted.value();
            let letter =
                |c: char| (c.is_alphabetic() && c != 'e' && c != 'E') || "\"\u{b0}".contains(c);
            let start = inside.find(letter)?;
            let unit = inside.get(start..)?;
            let one = parse(&format!("1 {unit}"), quantity, None).ok()?;
            let quote = old.get(..1)?;
            let between = if inside.get(..start)?.ends_with(' ') {
                " "
            } else {
                ""
            };
            Some(format!(
                "{quote}{}{between}{unit}{quote}",
                number(new / one)
            ))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::rewrite;
    use crate::units::{Quantity, UnitSystem};

    const LENGTH: Option<Quantity> = Some(Quantity::Length);

    const TEXT: &str = "# a comment\n[parts.strut]  # strut\npins = [\"a\", \"b\"]\nlength = 24   # mm\n\n\
                        [parts.lever]\npins = { heel = [0, 0], knee = [ \"0.5 in\",-24 ] }\n";

    #[test]
    fn only_the_numbers_change() {
        let set = [
            ("strut.length".to_owned(), 24.13, LENGTH),
            ("lever.knee.x".to_owned(), 25.4, LENGTH),
            ("lever.knee.y".to_owned(), -23.5, LENGTH),
        ];
        let new = rewrite(TEXT, UnitSystem::MmN, &set).unwrap();
        let expected = TEXT
            .replace("length = 24 ", "length = 24.13 ")
            .replace("\"0.5 in\",-24", "\"1 in\",-23.5");
        assert_eq!(new, expected);
    }

    #[test]
    fn bare_numbers_are_in_the_files_units() {
        let new = rewrite(
            TEXT,
            UnitSystem::InLbf,
            &[("strut.length".to_owned(), 25.4, LENGTH)],
        )
        .unwrap();
        assert!(new.contains("length = 1   # mm"), "{new}");
    }

    #[test]
    fn a_dimension_that_is_not_in_the_text_is_refused() {
        for address in ["strut.a.x", "rod.length", "lever.knee.z", "strut"] {
            assert!(
                rewrite(TEXT, UnitSystem::MmN, &[(address.to_owned(), 1.0, LENGTH)]).is_err(),
                "{address}"
            );
        }
    }
}
