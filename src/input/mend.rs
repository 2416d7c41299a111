//! Breaches of TOML's syntax, each once.
//!
//! After a bracket that is not closed a parser takes the rest of the file for a list, and finds
//! fault with every line of it. So the first fault is reported, its statement is blanked out (its
//! bytes keep their places), and the rest is parsed again.

use std::borrow::Cow;
use std::ops::Range;

use toml::de::DeTable;

use super::code;
use super::diagnostic::Diagnostic;
use super::document::{header, is_double, line_at};

/// The text is parsed anew for every fault: so many bytes in all, and so many faults, are looked through;
/// so many faults in any case.
const MOST_BYTES: usize = 10_000_000;
const MOST: usize = 1_000;
const LEAST: usize = 20;

/// A text without the statements that are not TOML, and what is wrong with them.
pub(super) struct Mended<'a> {
    pub(super) text: Cow<'a, str>,
    pub(super) problems: Vec<Diagnostic>,
    /// Whether a table's header was among them, so that keys stand under the wrong one.
    pub(super) lost_header: bool,
}

pub(super) fn mend(text: &str) -> Mended<'_> {
    let mut mended = Mended {
        text: Cow::Borrowed(text),
        problems: Vec::new(),
        lost_header: false,
    };
    let most = (MOST_BYTES / text.len().max(1)).clamp(LEAST, MOST);
    while let Some((at, message)) = first_fault(&mended.text) {
        if mended.problems.len() == most {
            // What is left cannot be trusted.
            let message =
                format!("the file is not read from here on, after {most} faults like this");
            let problem = Diagnostic::error(code::SYNTAX, at, message);
            mended.problems.push(problem.help("mend those before it"));
            mended.text = Cow::Borrowed("");
            break;
        }
        let statement = statement(&mended.text, at.start);
        mended
            .problems
            .push(explain(&mended.text, at, &statement, &message));
        let source = mended.text.get(statement.clone()).unwrap_or("");
        mended.lost_header |= source.trim_start().starts_with('[');
        if source.trim().is_empty() {
            // Nothing to take out.
            mended.text = Cow::Borrowed("");
            break;
        }
        mended.text = Cow::Owned(blank(&mended.text, statement));
    }
    mended
}

fn first_fault(text: &str) -> Option<(Range<usize>, String)> {
    let (_, errors) = DeTable::parse_recoverable(text);
    errors
        .iter()
        .filter(|error| !is_double(error))
        .map(|error| {
            (
                error.span().unwrap_or(0..0),
                error.message().trim().to_owned(),
            )
        })
        .min_by_key(|(span, _)| span.start)
}

/// The same text with spaces in place of a part of it.
fn blank(text: &str, part: Range<usize>) -> String {
    let mut blanked = String::with_capacity(text.len());
    for (i, c) in text.char_indices() {
        if part.contains(&i) && !matches!(c, '\n' | '\r') {
            blanked.extend(std::iter::repeat_n(' ', c.len_utf8()));
        } else {
            blanked.push(c);
        }
    }
    blanked
}

/// The statement to blame for a fault: the one it is in, or the one before, if that leaves a
/// bracket open.
fn statement(text: &str, fault: usize) -> Range<usize> {
    let mut starts: Vec<usize> = Vec::new();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        if begins_statement(line) {
            starts.push(at);
        }
        at += line.len();
    }
    let after = starts.partition_point(|&start| start <= fault);
    let start = |i: usize| i.checked_sub(1).and_then(|i| starts.get(i)).copied();
    let Some(own) = start(after) else {
        // Before any statement: the line itself.
        let (start, line) = line_at(text, fault);
        return start..start + line.len();
    };
    let until = |i: usize| starts.get(i).copied().unwrap_or(text.len());
    match start(after.wrapping_sub(1)) {
        Some(before) if after > 1 && open_bracket(text, before..own).is_some() => before..own,
        _ => own..until(after),
    }
}

/// `[table]`, `[[table]]` or `key =`.
fn begins_statement(line: &str) -> bool {
    let line = line.trim().trim_start_matches('\u{feff}');
    let name = |c: char| c.is_alphanumeric() || "-_.\"' ".contains(c);
    if line.starts_with('[') {
        // Rows of a table of numbers begin so, too, but hold commas.
        let named = |names: Vec<&str>| names.iter().all(|n| n.starts_with(char::is_alphabetic));
        let alone = !line
            .split('#')
            .next()
            .unwrap_or("")
            .trim_end()
            .ends_with(',');
        return alone && header(line).is_none_or(named) && !line.contains(", ");
    }
    line.split_once('=')
        .is_some_and(|(key, _)| !key.trim().is_empty() && key.chars().all(name))
}

/// The first bracket of a statement that is not closed, or closed by one of the other kind.
fn open_bracket(text: &str, part: Range<usize>) -> Option<usize> {
    let source = text.get(part.clone())?;
    let mut open: Vec<(usize, char)> = Vec::new();
    let mut quote: Option<char> = None;
    let (mut escaped, mut comment) = (false, false);
    for (i, c) in source.char_indices() {
        match (quote, c) {
            // A line's end closes comments, and texts that were not closed: those are another fault.
            (_, '\n') => (quote, escaped, comment) = (None, false, false),
            _ if comment => {}
            (Some('"'), '\\') => escaped = !escaped,
            (Some(q), _) if c == q && !escaped => quote = None,
            (Some(_), _) => escaped = false,
            (None, '"' | '\'') => quote = Some(c),
            (None, '#') => comment = true,
            (None, '[' | '{') => open.push((part.start + i, c)),
            (None, ']' | '}') => {
                let (at, opening) = open.pop()?;
                if (opening == '[') != (c == ']') {
                    return Some(at);
                }
            }
            _ => {}
        }
    }
    open.first().map(|(at, _)| *at)
}

/// The parser's message, in words for someone who types a drawing, with what to do.
fn explain(text: &str, at: Range<usize>, statement: &Range<usize>, message: &str) -> Diagnostic {
    let source = text.get(statement.clone()).unwrap_or("");
    let (_, line) = line_at(text, statement.start);
    let value = line
        .split_once('=')
        .map(|(_, value)| match value.split_once('#') {
            Some((value, _)) => value.trim(),
            None => value.trim(),
        });
    let digits = |value: &str| value.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c));
    if let Some(open) = open_bracket(text, statement.clone()) {
        let list = text.get(open..).is_some_and(|rest| rest.starts_with('['));
        let (what, bracket) = match (list, source.trim_start().starts_with('[')) {
            (_, true) => ("table header", ']'),
            (true, _) => ("list", ']'),
            (false, _) => ("table in braces", '}'),
        };
        return Diagnostic::error(
            code::SYNTAX,
            open..open + 1,
            format!("this {what} is not closed"),
        )
        .help(format!("add the missing `{bracket}`"));
    }
    let plain = |help: &str| help.to_owned();
    // The user's own words as the example, where they are short enough to be read.
    let quoted = |own: &str, example: &str| {
        let readable = own.chars().count() <= 40 && !own.contains(char::is_control);
        format!("\"{}\"", if readable { own } else { example })
    };
    let (message, help) = match value {
        Some("") => (
            "nothing stands behind `=`",
            plain("write a value, or take the key out"),
        ),
        Some(v) if digits(v) && v.contains(char::is_alphabetic) => (
            "a number with a unit must stand in quotes",
            format!(
                "write it as a text: {}",
                quoted(&v.replace(',', "."), "2.4 in")
            ),
        ),
        Some(v) if digits(v) && v.contains(',') => (
            "this is not a number",
            plain("numbers have a decimal point, not a comma: 2.4"),
        ),
        Some(v) if matches!(v.to_lowercase().as_str(), "yes" | "no" | "on" | "off") => (
            "this is neither true nor false",
            plain("write true or false, without quotes"),
        ),
        Some(v) if matches!(v.to_lowercase().as_str(), "true" | "false") => (
            "this is neither true nor false",
            plain("write true or false in small letters"),
        ),
        Some(v) if v.starts_with(char::is_alphabetic) && !v.contains(['"', '\'']) => (
            "a text must stand in quotes",
            format!("write it in quotes: {}", quoted(v, "lever")),
        ),
        _ => (
            message,
            plain("a tool file is TOML: [table], key = value, texts in quotes, lists in brackets"),
        ),
    };
    Diagnostic::error(code::SYNTAX, at, message).help(help)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults(text: &str) -> Vec<(usize, String)> {
        let of = |problem: &Diagnostic| (problem.position(text).0, problem.message.clone());
        mend(text).problems.iter().map(of).collect()
    }

    /// Every fault of a short file is found and counted; of a long one the first, and where it ends.
    #[test]
    fn many_faults_are_counted_up_to_the_last_that_is_read() {
        let bad = "key = = 1\n".repeat(300);
        assert_eq!(faults(&bad).len(), 300);
        let long = format!("{bad}# {}\n", "long ".repeat(200_000));
        let found = faults(&long);
        assert_eq!(found.len(), LEAST + 1);
        assert!(found[LEAST].1.contains("after 20 faults"), "{found:?}");
    }

    #[test]
    fn an_open_bracket_is_one_fault() {
        let rest = "[parts.a]\nfixed = true\npins = { a = [0, 1] }\n";
        let list = "this list is not closed".to_owned();
        let table = "this table in braces is not closed".to_owned();
        assert_eq!(
            faults(&format!("x = [[1, 2], [3, 4]\n{rest}")),
            [(1, list.clone())]
        );
        assert_eq!(faults(&format!("x = {{ a = [1, 2]\n{rest}")), [(1, table)]);
        assert_eq!(
            faults(&format!("x = {{ a = [1, 2 }}\n{rest}")),
            [(1, list.clone())]
        );
        assert_eq!(
            faults(&format!("x = [\n  [1, 2],\n  [3, 4],\n{rest}")),
            [(1, list.clone())]
        );
        assert_eq!(faults("a = 1\nx = [1, 2"), [(2, list)]);
        assert_eq!(
            faults("[hand\na = 1\n"),
            [(1, "this table header is not closed".to_owned())]
        );
    }

    #[test]
    fn several_faults_are_found() {
        let lines: Vec<usize> =
            faults("a = [1\nb = 2 mm\nc = \nd = 4\ne = x\nf = \"g\n[h\ni = 1\n")
                .iter()
                .map(|fault| fault.0)
                .collect();
        assert_eq!(lines, [1, 2, 3, 5, 6, 7]);
    }

    #[test]
    fn the_rest_keeps_its_place() {
        let text = "a = \u{fc}\u{fc}\nb = 2\n";
        let mended = mend(text);
        assert_eq!(mended.text.len(), text.len());
        assert_eq!(mended.text.find("b = 2"), text.find("b = 2"));
        assert!(mend("a = \"x # y\"\nb = [ # [\n 1 ]\n").problems.is_empty());
    }
}
