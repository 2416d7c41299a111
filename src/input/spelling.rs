//! Hints for mistyped names.

/// The candidate that was most likely meant, if one is near enough.
pub(super) fn nearest<'a>(
    name: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let given = name.to_lowercase();
    let allowed = 1 + given.chars().count() / 4;
    candidates
        .into_iter()
        .filter(|candidate| *candidate != name)
        .map(|candidate| {
            let other = candidate.to_lowercase();
            (strsim::damerau_levenshtein(&given, &other), candidate)
        })
        .filter(|(distance, candidate)| {
            // Two names of one letter differ by one too easily: `a` is not a slip for `b`.
            let shorter = candidate.chars().count().min(given.chars().count());
            *distance <= allowed && *distance < shorter
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

/// The candidate that was most likely meant, if one is near enough.
#[must_use]
pub fn meant(name: &str, candidates: &[&str]) -> Option<String> {
    nearest(name, candidates.iter().copied()).map(str::to_owned)
}

/// "did you mean `x`? " and the list of what there is.
#[must_use]
pub fn hint(name: &str, what: &str, candidates: &[&str]) -> String {
    let list = list(candidates);
    match nearest(name, candidates.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? {what}: {list}"),
        None if candidates.is_empty() => format!("{what}: none"),
        None => format!("{what}: {list}"),
    }
}

/// Words in quotes, with an "or" before the last.
pub(super) fn quoted(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => quoted.concat(),
    }
}

/// Names in a row, cut where it grows too long to be read.
pub(super) fn list(names: &[&str]) -> String {
    const MOST: usize = 30;
    let mut text = names
        .iter()
        .take(MOST)
        .copied()
        .collect::<Vec<_>>()
        .join(", ");
    if names.len() > MOST {
        text.push_str(&format!(" and {} more", names.len() - MOST));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_names() {
        let keys = ["length", "pins", "marks", "fixed"];
        assert_eq!(nearest("lenght", keys), Some("length"));
        assert_eq!(nearest("Pins", keys), Some("pins"));
        assert_eq!(nearest("knee", ["wrist", "heel"]), None);
        assert_eq!(nearest("a", ["b", "c"]), None);
        assert!(hint("mark", "keys", &keys).starts_with("did you mean `marks`? keys: length, "));
    }
}
