//! Changing single dimensions in the text of a tool file: every other byte stays as it is.

use crate::units::{Quantity, UnitSystem, parse, trimmed};
use toml_edit::{Document, Item, Value};

/// The text with these dimensions (address, mm) set. A value that was written with a unit of its
/// own keeps the unit.
///
/// # Errors
/// A dimension whose number does not stand in the text where its address says, in words.
pub fn rewrite(text: &str, units: UnitSystem, set: &[(String, f64)]) -> Result<String, String> {
    let document = Document::parse(text).map_err(|e| e.to_string())?;
    let mut edits = Vec::new();
    for (address, mm) in set {
        let missing = || {
            format!(
                "`{address}` has no number of its own in the file (a shape from the sketch has none): give the part \
                 a table of pins or a length"
            )
        };
        let value = find(document.as_item(), address).ok_or_else(missing)?;
        let span = value.span().ok_or_else(missing)?;
        let old = text.get(span.clone()).ok_or_else(missing)?;
        edits.push((span, written(value, old, units, *mm).ok_or_else(missing)?));
    }
    edits.sort_by_key(|(span, _)| span.start);
    let mut out = text.to_owned();
    for (span, new) in edits.into_iter().rev() {
        out.replace_range(span, &new);
    }
    Ok(out)
}

/// The value of `part.length`, `part.point.x` or `part.point.y`.
fn find<'a>(root: &'a Item, address: &str) -> Option<&'a Value> {
    let mut words = address.split('.');
    let part = root.get("parts")?.get(words.next()?)?;
    let second = words.next()?;
    let Some(axis) = words.next() else {
        return part.get(second)?.as_value();
    };
    let pair = ["pins", "marks"]
        .iter()
        .find_map(|table| part.get(table)?.get(second))?;
    pair.as_array()?.get(match axis {
        "x" => 0,
        "y" => 1,
        _ => return None,
    })
}

/// The new value as it is written.
fn written(value: &Value, old: &str, units: UnitSystem, mm: f64) -> Option<String> {
    let number = |v: f64| trimmed(v, 6);
    match value {
        Value::Integer(_) | Value::Float(_) => Some(number(units.show(mm, Quantity::Length))),
        Value::String(quoted) => {
            let inside = quoted.value();
            let start = inside.find(|c: char| c.is_alphabetic() && c != 'e' && c != 'E')?;
            let unit = inside.get(start..)?;
            let one = parse(&format!("1 {unit}"), Quantity::Length, None).ok()?;
            let quote = old.get(..1)?;
            let between = if inside.get(..start)?.ends_with(' ') {
                " "
            } else {
                ""
            };
            Some(format!("{quote}{}{between}{unit}{quote}", number(mm / one)))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::rewrite;
    use crate::units::UnitSystem;

    const TEXT: &str = "# a comment\n[parts.strut]  # strut\npins = [\"a\", \"b\"]\nlength = 24   # mm\n\n\
                        [parts.lever]\npins = { heel = [0, 0], knee = [ \"0.5 in\",-24 ] }\n";

    #[test]
    fn only_the_numbers_change() {
        let set = [
            ("strut.length".to_owned(), 24.13),
            ("lever.knee.x".to_owned(), 25.4),
            ("lever.knee.y".to_owned(), -23.5),
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
            &[("strut.length".to_owned(), 25.4)],
        )
        .unwrap();
        assert!(new.contains("length = 1   # mm"), "{new}");
    }

    #[test]
    fn a_dimension_that_is_not_in_the_text_is_refused() {
        for address in ["strut.a.x", "rod.length", "lever.knee.z", "strut"] {
            assert!(
                rewrite(TEXT, UnitSystem::MmN, &[(address.to_owned(), 1.0)]).is_err(),
                "{address}"
            );
        }
    }
}
